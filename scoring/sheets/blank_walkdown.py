"""Blank walkdown sheets: what is asked of a unit, on paper, to be filled in with a pen."""

from collections.abc import Sequence
from dataclasses import dataclass
from textwrap import shorten

import pandas as pd

from scoring.contract import CHECKS, UNITS, Seen
from scoring.contract.cautions import CAUTIONS
from scoring.contract.declaration import YES
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.contract.quantities import METRIC
from scoring.limits import unit_limits
from scoring.records import choice_dtype, empty_table
from scoring.sheets.checks_on_paper import WHY_NOT_SEEN, Step, checks_by_station
from scoring.sheets.drawing_on_paper import Drawing
from scoring.sheets.sheet_blocks import (
    Beside,
    Blank,
    Block,
    Cell,
    Code,
    Facts,
    Prose,
    Section,
    Sheet,
    Signatures,
    Ticks,
    Together,
    Weight,
    WriteHere,
    Written,
)
from scoring.sheets.tightening_on_paper import tightening_on_paper
from scoring.sheets.unit_code import code_of_unit
from scoring.walkdown_form.document import units_in_order
from scoring.walkdown_form.steps import steps_of_units
from scoring.walkdown_form.tightening_help import tightening_help
from scoring.walkdown_form.visit_questions import KINDS, MOUNTING_WORDS, STATES
from scoring.walkdown_form.walk_picture import draw_walk

TITLE = "Walkdown sheet"
NO_RELEASE = (
    "This sheet finds and tells; it is no release to start. A release is signed after the cure, "
    "by whom your plant names for it."
)
DRAWING_MM, CODE_MM = 101.0, 25.0
"""Width of the drawing, and side of the code. [mm]"""

MOST_LETTERS = 60
"""A longer name of a site, a line or a machine is cut. Ours."""

_NAMED = ("unit_id", "site", "line", "driven_equipment", "mounting")


@dataclass(frozen=True)
class Visit:
    """What is known beforehand of a visit; what is asked on others alone is left out.

    Attributes
    ----------
    kind, state : str
        Kind of the visit and state of the machine, as the form keeps them. Empty: not known yet,
        so that all is asked, and it is ticked on the sheet.
    """

    kind: str = ""
    state: str = ""

    def asks(self, step: Step) -> bool:
        """Tell whether a step of the form is asked."""
        seen = next((these for name, _, these in STATES if name == self.state), tuple(Seen))
        is_asked = not self.kind or not step["asked_on"] or self.kind in step["asked_on"]
        return is_asked and step["seen"] in {one.value for one in seen}


ANY_VISIT = Visit()


def blank_walkdowns(
    units: pd.DataFrame,
    unit_ids: Sequence[str],
    *,
    host: str = "",
    measures: str = METRIC,
    visit: Visit = ANY_VISIT,
) -> Sheet:
    """Return a blank sheet of each unit of a walk.

    Parameters
    ----------
    units : DataFrame, shape (n_units, ...)
        The table ``units``.
    unit_ids : sequence of str
        Units of it, in walking order.
    host : str
        Where the pages are; by default the codes hold the units' ids alone.
    measures : str
        ``metric`` or ``inch``: in which numbers are written down.
    visit : Visit
        What is known of it beforehand.

    Returns
    -------
    Sheet
        It says nothing of what was found, so it rests on no day.

    Raises
    ------
    FixableError
        If there is no such unit, one stands twice, or a code would be too long.
    """
    chosen = units_in_order(units, unit_ids)
    named = chosen[list(_NAMED)].astype(object)
    heads = [
        _head_of_unit(row, host)
        for row in named.where(named.notna(), "").itertuples(index=False, name=None)
    ]
    return _sheet(chosen, list(map(Written, unit_ids)), heads, measures, visit)


def blank_of_mounting(mounting: str, *, measures: str = METRIC, visit: Visit = ANY_VISIT) -> Sheet:
    """Return a blank sheet of a mounting, on which the unit is written by hand.

    Parameters
    ----------
    mounting : str
        How a unit holds its shaft.
    measures, visit : str, Visit
        As for ``blank_walkdowns``.

    Returns
    -------
    Sheet
        With limits only where they hold for every unit of the mounting.

    Examples
    --------
    >>> blank_of_mounting("keyed_bore").sections[0].title
    'Walkdown sheet: keyed bore'
    """
    unit = empty_table(UNITS).reindex([0])
    unit["mounting"] = pd.Series([mounting], dtype=choice_dtype(EVERY_MOUNTING))
    for check in CHECKS:
        if check.only_where:  # it may have all that only some units have
            unit[check.only_where] = pd.Series([YES], dtype=unit[check.only_where].dtype)
    rows = tuple((words, Blank.LINE) for words in ("unit", "site", "line", "drives"))
    title = f"{TITLE}: {MOUNTING_WORDS[mounting]}"
    return _sheet(unit, [title], [(Facts(rows, columns=1),)], measures, visit)


def _sheet(
    units: pd.DataFrame,
    titles: Sequence[str],
    heads: Sequence[tuple[Block, ...]],
    measures: str,
    visit: Visit,
) -> Sheet:
    limits = unit_limits(units).table
    asked = zip(
        titles,
        heads,
        units["mounting"].astype(object).tolist(),
        steps_of_units(units, limits),
        tightening_help(units, limits),
        strict=True,
    )
    sections = []
    for title, head, mounting, every_step, helped in asked:
        steps = [step for step in every_step if visit.asks(step)]
        blocks: list[Block] = [
            _first(head, mounting, tuple(step["check"] for step in steps), visit),
            Prose(WHY_NOT_SEEN, Weight.QUIET),
            *checks_by_station(steps, measures, visit_is_known=bool(visit.kind)),
        ]
        if helped is not None and any(step["tightening"] for step in steps):
            blocks.append(tightening_on_paper(helped, mounting, measures))
        sections.append(Section(title, (*blocks, *_end())))
    return Sheet(TITLE, tuple(sections), cautions=CAUTIONS, dense=True)


def _head_of_unit(row: tuple[str, ...], host: str) -> tuple[Block, ...]:
    """Return which unit it is, with the code by which the filled sheet finds it."""
    unit_id, site, line, drives, mounting = row
    code = Code(code_of_unit(unit_id, host), "", CODE_MM)
    named = (("site", site), ("line", line), ("drives", drives))
    rows: list[tuple[str, Cell]] = [
        (words, Written(shorten(one, MOST_LETTERS, placeholder="…"))) for words, one in named if one
    ]
    rows.append(("mounting", MOUNTING_WORDS[mounting]))
    return code, Facts(tuple(rows), columns=1)


def _first(head: tuple[Block, ...], mounting: str, checks: tuple[str, ...], visit: Visit) -> Beside:
    """Return the drawing, and beside it which unit it is, who sees it, when and why."""
    kinds = {kind: words for kind, words, _ in KINDS}
    states = {state: words for state, words, _ in STATES}
    filled = Facts((("seen by", Blank.LINE), ("day", Blank.LINE)), columns=1)
    asked = (
        _of_visit("why", kinds, visit.kind),
        _of_visit("machine", states, visit.state),
    )
    drawing = Drawing(draw_walk(mounting, checks), DRAWING_MM)
    return Beside(((drawing,), (*head, filled, *asked)), (DRAWING_MM, 184.0 - DRAWING_MM - 5.0))


def _of_visit(words: str, offered: dict[str, str], known: str) -> Block:
    if known:
        return Facts(((words, offered[known]),), columns=1)
    return Ticks(words, tuple(offered.values()))


def _end() -> tuple[Block, ...]:
    """Return what is written and signed when all was seen."""
    words = "what was found, and where; if it must not run: who was told, and when"
    signed = Together((Signatures(("inspector", "who was told")), Prose(NO_RELEASE, Weight.QUIET)))
    return WriteHere(words, fills=True), signed
