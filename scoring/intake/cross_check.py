"""The tables of a fleet against each other, each by itself already checked."""

from collections.abc import Mapping
from functools import partial

import pandas as pd

from scoring.contract import EVENTS
from scoring.intake.references import (
    UnitsInView,
    check_against_units,
    check_asset_spans,
    check_repaired_events,
)
from scoring.intake.table_check import TableCheck
from scoring.records import empty_table


def check_tables_together(checks: Mapping[str, TableCheck]) -> None:
    """Mark the rows that do not fit the rows of other tables."""
    units = checks.get("units")
    if units is not None and units.usable:
        units.reject_among_good(check_asset_spans)
        check_units_records(checks, UnitsInView(units.good(), units.rejected_by_key()))
    events = checks.get("events")
    if "rework" in checks and (events is None or events.usable):
        check_repairs(checks, events.good() if events else empty_table(EVENTS))


def check_units_records(checks: Mapping[str, TableCheck], units: UnitsInView) -> None:
    """Mark the records that do not fit their unit."""
    for name, check in checks.items():
        if name != "units":
            check.reject_among_good(partial(check_against_units, table=check.table, units=units))


def check_repairs(checks: Mapping[str, TableCheck], events: pd.DataFrame) -> None:
    """Mark the re-work that does not fit the failure that it names."""
    found = checks.get("events")
    rejected = pd.Series(dtype=object) if found is None else found.rejected_by_key()
    checks["rework"].reject_among_good(
        partial(check_repaired_events, events=events, rejected=rejected)
    )
