"""A whole fleet: text tables in, checked tables, faults and rejected rows out."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract import FLEET_TABLES
from scoring.intake.as_given import told_as_given
from scoring.intake.cross_check import check_tables_together
from scoring.intake.junk import without_junk
from scoring.intake.known_records import KnownRecords, check_beside_known
from scoring.intake.mended_rows import without_mended_rows
from scoring.intake.raw import RawTable
from scoring.intake.references import check_dates_ahead
from scoring.intake.rejected_rows import RejectedRows
from scoring.intake.row_rules import apply_row_rules
from scoring.intake.table_check import TableCheck
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
    untold : int
        Faults beyond the thousand of a table that ``faults`` holds.
    """

    fleet: Fleet
    faults: pd.DataFrame
    rejected: dict[str, RejectedRows]
    unusable: tuple[str, ...]
    notes: tuple[str, ...]
    assumptions: tuple[str, ...]
    untold: int = 0

    @property
    def how_many_faults(self) -> int:
        """How many faults there are, with those beyond the thousand of a table."""
        return len(self.faults) + self.untold


def check_fleet(
    raw: Mapping[str, RawTable],
    today: pd.Timestamp,
    mapping: Mapping[str, Mapping[str, str]] | None = None,
    known: KnownRecords | None = None,
    *,
    may_mend: bool = True,
) -> CheckedFleet:
    """Check the tables of a fleet against the contract.

    Parameters
    ----------
    raw : mapping of str to RawTable
        The tables as found.
    today : Timestamp
        The day against which the future is judged.
    mapping : mapping of str to mapping, optional
        For each table a plant's own headings and the columns they stand for.
    known : KnownRecords, optional
        Records that are kept already, beside which these come; then no table must be there.
    may_mend : bool
        Whether a source may mend faulty rows of one before it, as what is added does; parts of one
        data set do not.

    Returns
    -------
    CheckedFleet

    Raises
    ------
    UnreadableFleetError
        If most rows of a large table are faulty.
    """
    headings = mapping or {}

    def find_rejected(tables: Mapping[str, RawTable]) -> dict[str, NDArray[np.int64]]:
        return {n: c.rejected_numbers() for n, c in _check(tables, today, headings, known).items()}

    tables: dict[str, RawTable] = without_junk(raw, headings)
    notes: tuple[str, ...] = ()
    if may_mend:
        tables, notes = without_mended_rows(tables, headings, find_rejected)
    return _result(_check(tables, today, headings, known), notes, beside=known is not None)


def _check(
    raw: Mapping[str, RawTable],
    today: pd.Timestamp,
    mapping: Mapping[str, Mapping[str, str]],
    known: KnownRecords | None,
) -> dict[str, TableCheck]:
    """Check every table by itself, then the tables against each other."""
    checks = {
        table.name: TableCheck.begin(table, raw[table.name], dict(mapping.get(table.name, {})))
        for table in FLEET_TABLES
        if table.name in raw
    }
    for check in checks.values():
        check.reject(apply_row_rules(check.table.name, check.read, check.faults))
        check.reject(check_dates_ahead(check.table, check.read.frame, today, check.faults))
        check.settle_keys()
        check.settle_look_alikes()
    if known is not None:
        check_beside_known(checks, known)
        return checks
    if "units" in checks:
        checks["units"].require_rows()
    check_tables_together(checks)
    return checks


def _result(
    checks: dict[str, TableCheck], notes_on_mended: tuple[str, ...], *, beside: bool
) -> CheckedFleet:
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
        if table.name in ("events", "rework") and table.name not in checks and not beside
    ]
    return CheckedFleet(
        Fleet(**tables),
        pd.concat([_told(check) for check in checks.values()], ignore_index=True),
        {
            name: check.rejected()
            for name, check in checks.items()
            if check.bad.any() or check.read.raw.ragged
        },
        tuple(name for name, check in checks.items() if not check.usable),
        tuple(notes),
        tuple(a for check in checks.values() for a in check.read.assumptions),
        sum(check.faults.untold for check in checks.values()),
    )


def _told(check: TableCheck) -> pd.DataFrame:
    raw = check.read.raw
    return told_as_given(check.faults.frame(), raw.sources, raw.given)
