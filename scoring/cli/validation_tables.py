"""The tables and the words of a validation, for the terminal."""

from collections.abc import Hashable, Mapping

import numpy as np
import pandas as pd
from rich import box
from rich.table import Table

from scoring.contract.events import MODE_WORDS
from scoring.validation.choose_basis import FEW_FAILURES
from scoring.validation.validate import Validation
from scoring.validation.which_is_better import STANDARD_ERRORS

MISSING = "–"

SCORES_IN_WORDS = {
    "order": "of two units, how often the first to fail was predicted more; 0.5 chance, 1 perfect",
    "weighed": (
        "the same, those that stayed under observation standing for those lost within the year"
    ),
    "distance": "mean square of the predicted chance less what came true in the year; 0 perfect",
    "failed / expected": "1 is right; in brackets, limits that hold it 9 times in 10",
    "slope": "1 is right, below it chances lie too far apart, above it too close; ± two standard "
    f"errors, from {FEW_FAILURES} failures on",
    "worst tenth": "share of the failures in the tenth of units predicted worst; 10% is chance",
}

GAINS_IN_WORDS = {
    "likelihood": "logarithm of how much likelier what came true was; above 0, the failures helped",
    "given how many": "the same once it is known how many failed, so that no wrong level counts",
    "order": "what the order above gained; shown, not chosen by, for it is noisier",
}

READ_WITH_CARE = (
    "Chances are predicted as if nobody acts; units put right within the year failed less.",
    "How usual faults are where nobody looked is taken as known today; all else as recorded then.",
)
"""What keeps a right answer from looking so."""

FORMS = {"likelihood": "+.1f", "proportions": "+.1f", "concordance": "+.3f"}
"""How each gain is written, in the order of the table's columns."""


def _table(*columns: str) -> Table:
    """Begin a table whose first column holds words, the others numbers."""
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, show_edge=False, collapse_padding=True)
    table.add_column(columns[0], no_wrap=True)
    for name in columns[1:]:
        table.add_column(name, justify="right")
    return table


def table_of_scores(scores: pd.DataFrame) -> Table:
    """Lay out the scores of one failure, scheme by scheme."""
    table = _table(
        "tried on, predicted by",
        "order",
        "weighed",
        "distance",
        "expected",
        "failed / expected",
        "slope",
        "worst\ntenth",
    )
    for scheme, of_scheme in scores.groupby("scheme", sort=False):
        table.add_row(str(scheme))
        for row in of_scheme.to_dict("records"):
            table.add_row(
                f"  {row['predicted_by']}",
                _number(row["harrell"], ".3f"),
                _number(row["uno"], ".3f"),
                _number(row["brier"], ".4f"),
                _number(row["expected"], ".1f"),
                _ratio(row),
                _with_error(row["slope"], row["slope_error"], ".2f"),
                _number(row["worst_tenth"], ".0%"),
            )
    return table


def table_of_groups(found: Validation, mode: str) -> Table:
    """Lay out the groups of the basis that is used, tried on the same units."""
    way = found.basis[mode].words
    groups = found.groups[found.groups["failure_mode"] == mode]
    groups = groups[
        (groups["predicted_by"] == way) & (groups["scheme"] == groups["scheme"].iloc[0])
    ]
    table = _table(
        f"groups of like risk, by {way}",
        "units",
        "mean chance",
        "failed",
        "expected",
        "failed / expected",
    )
    for number, row in enumerate(groups.to_dict("records"), start=1):
        mark = {1: "  lowest risk", len(groups): "  highest risk"}.get(number, "")
        chance, expected = f"{row['chance']:.1%}", f"{row['expected']:.1f}"
        table.add_row(mark, str(row["units"]), chance, str(row["observed"]), expected, _ratio(row))
    return table


def table_of_gains(gains: pd.DataFrame, modes: list[str]) -> Table:
    """Lay out what the fleet's own failures gained, failure by failure and scheme by scheme."""
    table = _table("tried on", "likelihood", "given how many", "order")
    for mode in modes:
        table.add_row(MODE_WORDS[mode])
        of_mode = gains[gains["failure_mode"] == mode]
        for scheme, rows in of_mode.groupby("scheme", sort=False):
            values, errors = (
                rows.set_index("gained_in")[of].to_dict() for of in ("value", "error")
            )
            cells = (_with_error(values[name], errors[name], form) for name, form in FORMS.items())
            table.add_row(f"  {scheme}", *cells)
    return table


def _number(value: float, form: str) -> str:
    return MISSING if np.isnan(value) else format(value, form)


def _with_error(value: float, error: float, form: str) -> str:
    if np.isnan(value) or np.isnan(error):
        return MISSING
    return f"{value:{form}} ± {STANDARD_ERRORS * error:{form.removeprefix('+')}}"


def _ratio(row: Mapping[Hashable, float]) -> str:
    if np.isnan(row["ratio"]):
        return MISSING
    return f"{row['ratio']:.2f} ({row['ratio_low']:.2f} to {row['ratio_high']:.2f})"
