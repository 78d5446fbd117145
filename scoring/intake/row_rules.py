"""Rules between the cells of one row."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract import CHECKS, TABLE_BY_NAME
from scoring.intake.faults import Faults
from scoring.intake.read_table import ReadTable
from scoring.records import ROW

_THREAD = r"^(M[1-9][0-9]*(\.[0-9]+)?(x[0-9]+(\.[0-9]+)?)?|([0-9]+ )?[0-9]+(/[0-9]+)?-[0-9]+)$"
_CURRENCY = r"^[A-Z]{3}$"


@dataclass(frozen=True)
class RowRule:
    """A rule between cells: which rows break it, and what to say of them.

    Attributes
    ----------
    column : str
        Where the fault is reported.
    broken : callable
        Tells which rows break it.
    wrong, right : str
        What is wrong, and what would be right.
    against : str
        The column it was compared with, whose value is then given; may be empty.
    """

    column: str
    broken: Callable[[pd.DataFrame], "pd.Series[bool]"]
    wrong: str
    right: str
    against: str = ""


def _both(one: str, other: str) -> Callable[[pd.DataFrame], "pd.Series[bool]"]:
    return lambda frame: frame[one].isna() != frame[other].isna()


def _below(
    low: str, high: str, *, or_equal: bool = False
) -> Callable[[pd.DataFrame], "pd.Series[bool]"]:
    """Broken where ``low`` is not below (or not at most) ``high``; blanks break nothing."""
    if or_equal:
        return lambda frame: frame[low] > frame[high]
    return lambda frame: frame[low] >= frame[high]


def _no_match(column: str, pattern: str) -> Callable[[pd.DataFrame], "pd.Series[bool]"]:
    return lambda frame: frame[column].notna() & ~frame[column].fillna("").str.match(pattern)


UNIT_RULES = (
    RowRule(
        "started_on",
        lambda frame: frame["started_on"].dt.normalize() < frame["installed_on"].dt.normalize(),
        "is before installed_on",
        "the day of the first run, on or after the day it was hung",
        against="installed_on",
    ),
    RowRule(
        "out_of_service_on",
        lambda frame: (
            frame["out_of_service_on"].dt.normalize()
            < frame[["installed_on", "started_on"]].max(axis=1).dt.normalize()
        ),
        "is before the unit was hung or started",
        "the last day in service, on or after installed_on and started_on",
    ),
    RowRule(
        "hub_outer_mm",
        _below("shaft_diameter_mm", "hub_outer_mm"),
        "is not above the shaft's diameter",
        "the outside of the hub, above shaft_diameter_mm",
        against="shaft_diameter_mm",
    ),
    RowRule(
        "isolator_outer_mm",
        _below("isolator_inner_mm", "isolator_outer_mm"),
        "is not above isolator_inner_mm",
        "the outside of the rubber, above its hole",
        against="isolator_inner_mm",
    ),
    RowRule(
        "shaft_low_mm",
        _both("shaft_low_mm", "shaft_high_mm"),
        "stands without its partner",
        "both shaft_low_mm and shaft_high_mm, or neither",
    ),
    RowRule(
        "shaft_low_mm",
        _below("shaft_low_mm", "shaft_high_mm"),
        "is not below shaft_high_mm",
        "the smallest allowed shaft, below the largest",
        against="shaft_high_mm",
    ),
    RowRule(
        "collar_gap_min_mm",
        _below("collar_gap_min_mm", "collar_gap_max_mm", or_equal=True),
        "is above collar_gap_max_mm",
        "the smallest gap, at most the largest",
        against="collar_gap_max_mm",
    ),
    RowRule(
        "screw_thread",
        _no_match("screw_thread", _THREAD),
        "is not a thread",
        "metric as M10 or M10x1.25, unified as 3/8-16",
    ),
    RowRule(
        "currency",
        _no_match("currency", _CURRENCY),
        "is not a currency code",
        "three capital letters of ISO 4217, as EUR",
    ),
)

ACCEPTED_RULES = (
    RowRule(
        "until_on",
        _below("accepted_on", "until_on"),
        "is not after accepted_on",
        "the last day on which the acceptance holds, after accepted_on",
        against="accepted_on",
    ),
)

WALKDOWN_RULES = tuple(
    RowRule(
        check.name,
        _below(check.name, check.part_of, or_equal=True),
        f"is more than {check.part_of}, which counts these too",
        f"a whole number from {check.minimum or 0:g} to {check.part_of}",
        against=check.part_of,
    )
    for check in CHECKS
    if check.part_of
)

ROW_RULES: dict[str, tuple[RowRule, ...]] = {
    "units": UNIT_RULES,
    "walkdowns": WALKDOWN_RULES,
    "accepted": ACCEPTED_RULES,
}


def apply_row_rules(table: str, read: ReadTable, faults: Faults) -> NDArray[np.bool_]:
    """Add a fault for each row that breaks a rule; return which rows do."""
    broken = np.zeros(len(read.frame), dtype=bool)
    for rule in ROW_RULES.get(table, ()):
        here = rule.broken(read.frame).to_numpy(dtype=bool)
        if here.any():
            wrong = np.full(int(here.sum()), rule.wrong, dtype=object)
            if rule.against:
                wrong += ", " + _as_texts(read.frame.loc[here], rule.against, faults)
            add_row_faults(read.frame, here, rule.column, wrong, rule.right, faults)
        broken |= here
    return broken


def add_row_faults(  # noqa: PLR0913, PLR0917 - a fault has this many parts
    frame: pd.DataFrame,
    where: NDArray[np.bool_],
    column: str,
    wrong: str | NDArray[np.object_],
    right: str | NDArray[np.object_],
    faults: Faults,
) -> None:
    """Add a fault at ``column`` for each row marked, showing the value as read.

    The column is named by the heading under which it was found.
    """
    if where.any():
        marked = frame.loc[where]
        values = _as_texts(marked, column, faults)
        heading = faults.heading_of.get(column, column)
        faults.add(marked[ROW].to_numpy(), heading, values, wrong, right)


def _as_texts(frame: pd.DataFrame, column: str, faults: Faults) -> NDArray[np.object_]:
    """Write the values of a column as text, with their unit; empty where missing."""
    unit = TABLE_BY_NAME[faults.table][column].unit
    texts = frame[column].astype(object).map(_as_text, na_action="ignore").astype(object).fillna("")
    if unit:
        texts = texts.where(texts == "", texts + f" {unit}")
    return texts.to_numpy(dtype=object)


def _as_text(value: object) -> str:
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, pd.Timestamp):
        return (
            str(value.date()) if value == value.normalize() else value.isoformat(timespec="minutes")
        )
    return str(value)
