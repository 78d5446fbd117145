"""Labels for machines: the unit's id, and a code that opens its page or its form."""

from collections.abc import Sequence
from textwrap import shorten

import pandas as pd

from scoring.sheets.sheet_blocks import (
    Beside,
    Block,
    Code,
    Labels,
    Prose,
    Section,
    Sheet,
    Weight,
    Written,
)
from scoring.sheets.unit_code import code_of_unit
from scoring.walkdown_form.visit_questions import MOUNTING_WORDS

CODE_SIDE_MM = 25.0
"""Read by a phone at arm's length. Ours. [mm]"""

LABEL_MM = 87.0, 32.0
"""Width and height: two in a row. Ours. [mm]"""

MOST_LETTERS = 30
"""A longer name of a site, a line or a machine is cut, so that all lines have room. Ours."""

LEADS_TO = {"unit": "scan: what is known of it", "form": "scan: begin a walkdown"}
"""What happens when the code of a label is read, by the page that it leads to."""


def machine_labels(
    units: pd.DataFrame, unit_ids: Sequence[str], host: str = "", page: str = "unit"
) -> Sheet:
    """Return labels to cut out, one for each unit.

    Parameters
    ----------
    units : DataFrame, shape (n_units, ...)
        The table ``units``.
    unit_ids : sequence of str
        Units of it, in the order of the labels.
    host : str
        Where the pages are; by default a code holds the unit's id alone.
    page : str
        ``unit`` or ``form``.

    Returns
    -------
    Sheet
        It says nothing that changes, so it rests on no day.

    Raises
    ------
    FixableError
        If a code would be too long for a phone to read, or the host is no address.
    """
    named = units.set_index("unit_id", drop=False).loc[list(unit_ids), list(_NAMED)]
    rows = named.astype(object).where(named.notna(), "").itertuples(index=False, name=None)
    labels = tuple(_label(dict(zip(_NAMED, row, strict=True)), host, page) for row in rows)
    return Sheet("Machine labels", (Section("Machine labels", (Labels(labels, *LABEL_MM),), CUT),))


_NAMED = ("unit_id", "site", "line", "driven_equipment", "mounting")

CUT = "Print at full size, cut along the dashed lines, fix where it can be read from the walkway."


def _label(row: dict[str, str], host: str, page: str) -> tuple[Block, ...]:
    code = Code(code_of_unit(row["unit_id"], host, page), "", CODE_SIDE_MM)
    below = [
        shorten(row[name], MOST_LETTERS, placeholder="…")
        for name in ("site", "line", "driven_equipment")
        if row[name]
    ]
    words = (
        Prose(Written(row["unit_id"]), Weight.STRONG),
        Prose(Written("\n".join(below)), Weight.QUIET),
        Prose(MOUNTING_WORDS[row["mounting"]], Weight.QUIET),
        Prose(LEADS_TO[page], Weight.QUIET),
    )
    return (Beside(((code,), words), (CODE_SIDE_MM, LABEL_MM[0] - CODE_SIDE_MM - 9.0)),)
