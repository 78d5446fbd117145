"""A whole fleet: text tables in, checked tables, faults and rejected rows out."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial
from typing import Protocol

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract import EVENTS, FLEET_TABLES, Table
from scoring.intake.faults import Faults
from scoring.intake.keys import find_double_keys
from scoring.intake.mended_rows import without_mended_rows
from scoring.intake.raw import RawTable
from scoring.intake.read_table import ReadTable, read_table
from scoring.intake.references import (
    UnitsInView,
    check_against_units,
    check_asset_spans,
    check_dates_ahead,
    check_repaired_events,
)
from scoring.intake.rejected_rows import RejectedRows, rejected_by_key
from scoring.intake.row_rules import apply_row_rules
from scoring.records import Fleet, empty_table


@dataclass(frozen=True)
class CheckedFleet:
    """What checking a fleet found.

    Attributes
    ----------
    fleet : Fleet
        The good rows.
    faults : DataFrame
        Every fault: table, source, row, column, value, what is wrong, what would be right.
    rejected : dict of str to RejectedRows
        The rejected rows of each table that has any.
    unusable : tuple of str
        Tables of which no row can be used, as a required column is missing or stands twice.
    notes : tuple of str
        What a person should know: headings kept aside, tables that are not there.
    assumptions : tuple of str
        What the reading took for granted.
    """

    fleet: Fleet
    faults: pd.DataFrame
    rejected: dict[str, RejectedRows]
    unusable: tuple[str, ...]
    notes: tuple[str, ...]
    assumptions: tuple[str, ...]


def check_fleet(
    raw: Mapping[str, RawTable],
    today: pd.Timestamp,
    mapping: Mapping[str, Mapping[str, str]] | None = None,
) -> CheckedFleet:
    """Check the tables of a fleet against the contract.

    Parameters
    ----------
    raw : mapping of str to RawTable
        The tables as found.
    today : Timestamp
        The day against which the future is told.
    mapping : mapping of str to mapping, optional
        For each table a plant's own headings and the columns they stand for.

    Returns
    -------
    CheckedFleet
    """
    headings = mapping or {}

    def find_rejected(tables: Mapping[str, RawTable]) -> dict[str, NDArray[np.int64]]:
        return {n: c.rejected_numbers() for n, c in _check(tables, today, headings).items()}

    tables, notes = without_mended_rows(raw, headings, find_rejected)
    return _result(_check(tables, today, headings), notes)


def _check(
    raw: Mapping[str, RawTable],
    today: pd.Timestamp,
    mapping: Mapping[str, Mapping[str, str]],
) -> dict[str, "_TableCheck"]:
    """Check every table by itself, then the tables against each other."""
    checks = {
        table.name: _TableCheck.begin(table, raw[table.name], dict(mapping.get(table.name, {})))
        for table in FLEET_TABLES
        if table.name in raw
    }
    for check in checks.values():
        check.reject(apply_row_rules(check.table.name, check.read, check.faults))
        check.reject(check_dates_ahead(check.table, check.read.frame, today, check.faults))
        check.settle_keys()
    units = checks.get("units")
    if units is not None and units.usable:
        units.reject_among_good(check_asset_spans)
        view = UnitsInView(units.good(), units.rejected_by_key())
        for check in checks.values():
            if check is not units:
                check.reject_among_good(partial(check_against_units, table=check.table, units=view))
    events = checks.get("events")
    if "rework" in checks and (events is None or events.usable):
        known = events.good() if events else empty_table(EVENTS)
        rejected = events.rejected_by_key() if events else pd.Series(dtype=object)
        checks["rework"].reject_among_good(
            partial(check_repaired_events, events=known, rejected=rejected)
        )
    return checks


class _TableCheck:
    """One table on its way through the checks."""

    def __init__(self, table: Table, read: ReadTable, faults: Faults) -> None:
        self.table = table
        self.read = read
        self.faults = faults
        self.bad = read.bad.copy()
        self.repeated = np.zeros(len(read.frame), dtype=bool)

    @classmethod
    def begin(cls, table: Table, raw: RawTable, mapping: dict[str, str]) -> "_TableCheck":
        faults = Faults(table.name, raw.sources)
        check = cls(table, read_table(raw, table, mapping, faults), faults)
        if table.name == "units" and check.read.holds_no_rows and check.usable:
            faults.add_one(1, "", "", "holds headings but no rows", "one row for each reducer")
        return check

    def reject(self, rows: NDArray[np.bool_]) -> None:
        self.bad |= rows

    def settle_keys(self) -> None:
        self.repeated, clashing = find_double_keys(self.table, self.read, ~self.bad, self.faults)
        self.reject(clashing)

    def _kept(self) -> NDArray[np.bool_]:
        return ~self.bad & ~self.repeated

    def good(self) -> pd.DataFrame:
        if not self.usable:
            return empty_table(self.table)
        return self.read.frame.loc[self._kept()].reset_index(drop=True)

    def reject_among_good(self, find: "_FindBroken") -> None:
        kept = self._kept()
        frame = self.read.frame.loc[kept].reset_index(drop=True)
        self.bad[np.flatnonzero(kept)[find(frame, faults=self.faults)]] = True

    @property
    def usable(self) -> bool:
        """Whether its headings are such that its rows can be used."""
        return not self.faults.touch_headings

    def rejected_by_key(self) -> "pd.Series[str]":
        heading = self.faults.heading_of.get(self.table.key, self.table.key)
        return rejected_by_key(self.read.raw, self.bad, heading)

    def rejected_numbers(self) -> NDArray[np.int64]:
        odd = np.array([odd.row for odd in self.read.raw.ragged], dtype=np.int64)
        return np.concatenate([self.read.raw.rows[self.bad], odd])

    def rejected(self) -> RejectedRows:
        return RejectedRows.of(self.read.raw, self.bad)


class _FindBroken(Protocol):
    """Finds broken rows among good ones and adds their faults."""

    def __call__(self, frame: pd.DataFrame, *, faults: Faults) -> NDArray[np.bool_]: ...


def _result(checks: dict[str, _TableCheck], notes_on_mended: tuple[str, ...]) -> CheckedFleet:
    tables = {
        table.name: checks[table.name].good() if table.name in checks else empty_table(table)
        for table in FLEET_TABLES
    }
    notes = [*notes_on_mended]
    notes += [
        f"{check.read.raw.sources[0]}: set aside, not known to the contract: "
        + ", ".join(check.read.aside)
        for check in checks.values()
        if check.read.aside
    ]
    notes += [
        f"no table {table.name}: taken as none written down"
        for table in FLEET_TABLES
        if table.name in ("events", "rework") and table.name not in checks
    ]
    return CheckedFleet(
        Fleet(**tables),
        pd.concat([check.faults.frame() for check in checks.values()], ignore_index=True),
        {
            name: check.rejected()
            for name, check in checks.items()
            if check.bad.any() or check.read.raw.ragged
        },
        tuple(name for name, check in checks.items() if not check.usable),
        tuple(notes),
        tuple(a for check in checks.values() for a in check.read.assumptions),
    )
