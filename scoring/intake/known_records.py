"""Incoming records beside those that are kept already, such as in a store.

What is kept was checked when it came. It is looked at again only where an incoming row changes
what it must fit; a fault is then one of the incoming row, which is named.
"""

from collections.abc import Collection, Mapping
from functools import partial
from typing import Protocol

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract import FLEET_TABLES, TABLE_BY_NAME, Table
from scoring.intake.cross_check import check_repairs, check_units_records
from scoring.intake.faults import Faults
from scoring.intake.look_alike_ids import RIGHT, alike_words, look_alikes
from scoring.intake.references import (
    OF_THE_UNIT,
    UnitsInView,
    asset_overlaps,
    check_against_units,
    check_asset_spans,
    check_repaired_events,
)
from scoring.intake.row_rules import add_row_faults
from scoring.intake.table_check import FindBroken, TableCheck
from scoring.records import ROW, empty_table


class KnownRecords(Protocol):
    """Records that are kept; each frame as in a ``Fleet``."""

    @property
    def source(self) -> str:
        """What messages call it."""

    def every(self, table: str) -> pd.DataFrame:
        """Return all of a table."""

    def of_units(self, table: str, unit_ids: Collection[str]) -> pd.DataFrame:
        """Return the records of some units."""

    def repairs_of(self, event_ids: Collection[str]) -> pd.DataFrame:
        """Return the re-work that names some failures."""


def check_beside_known(checks: Mapping[str, TableCheck], known: KnownRecords) -> None:
    """Mark the incoming rows that do not fit, or that something kept would no longer fit.

    Parameters
    ----------
    checks : mapping of str to TableCheck
        The incoming tables, each by itself already checked.
    known : KnownRecords
        What is kept. A row that comes in takes the place of the one of its key, unless it is bad.
    """
    kept_units, kept_events = known.every("units"), known.every("events")
    while True:
        bad = _count_bad(checks)
        _check_once(checks, known, kept_units, kept_events)
        if _count_bad(checks) == bad:  # a bad row lets the one that is kept stand
            return


def _count_bad(checks: Mapping[str, TableCheck]) -> int:
    return sum(int(check.bad.sum()) for check in checks.values())


def _check_once(
    checks: Mapping[str, TableCheck],
    known: KnownRecords,
    kept_units: pd.DataFrame,
    kept_events: pd.DataFrame,
) -> None:
    units, events = checks.get("units"), checks.get("events")
    if any(check is not None and not check.usable for check in (units, events)):
        return
    if units is not None:
        _check_assets(units, kept_units, known.source)
        _check_look_alikes(units, kept_units, known.source)
        for table in FLEET_TABLES[1:]:
            _check_kept_records(table, checks, known, kept_units)
    rejected = pd.Series(dtype=object) if units is None else units.rejected_by_key()
    check_units_records(checks, UnitsInView(_together(units, kept_units, "units"), rejected))
    if events is not None:
        _check_kept_repairs(events, checks, known, kept_events)
    if "rework" in checks:
        check_repairs(checks, _together(events, kept_events, "events"))


def _good(check: TableCheck | None, table: Table) -> pd.DataFrame:
    return empty_table(table) if check is None else check.good()


def _staying(kept: pd.DataFrame, check: TableCheck | None, table: Table) -> pd.DataFrame:
    """Return the kept rows in whose place no incoming one comes."""
    return kept[~kept[table.key].isin(_good(check, table)[table.key])]


def _together(check: TableCheck | None, kept: pd.DataFrame, name: str) -> pd.DataFrame:
    table = TABLE_BY_NAME[name]
    staying = _staying(kept, check, table)
    return pd.concat([_good(check, table), staying], ignore_index=True)


def _check_assets(units: TableCheck, kept: pd.DataFrame, source: str) -> None:
    """Mark incoming units whose asset is on another shaft, be that unit incoming or kept."""
    staying = _staying(kept, units, units.table)

    def find(frame: pd.DataFrame, *, faults: Faults) -> NDArray[np.bool_]:
        both = pd.concat([frame, staying], ignore_index=True)
        later, earlier_unit = asset_overlaps(both)
        broken = check_asset_spans(frame, faults, among=both)
        # Where the later one is kept, the earlier one came in: what is kept fits by itself.
        kept_later = later & (np.arange(len(both)) >= len(frame))
        blocks = pd.Series(
            both.loc[kept_later, "unit_id"].to_numpy(object), earlier_unit[kept_later]
        )
        blocks = blocks[~blocks.index.duplicated()]
        here = frame["unit_id"].isin(blocks.index).to_numpy() & ~broken
        if here.any():
            names = frame.loc[here, "unit_id"]
            wrong = "has an asset that was hung meanwhile at unit " + names.map(blocks)
            faults.add(
                frame.loc[here, ROW].to_numpy(),
                faults.heading_of.get("out_of_service_on", "out_of_service_on"),
                names.to_numpy(object),
                (wrong + f" of {source}").to_numpy(object),
                "out_of_service_on of this unit at or before that day",
            )
        return broken | here

    units.reject_among_good(find)


def _check_look_alikes(units: TableCheck, kept: pd.DataFrame, source: str) -> None:
    """Mark incoming units whose id looks like a kept one and is another."""

    def find(frame: pd.DataFrame, *, faults: Faults) -> NDArray[np.bool_]:
        twins = look_alikes(pd.concat([frame["unit_id"], kept["unit_id"]], ignore_index=True))
        here = frame["unit_id"].isin(twins).to_numpy(dtype=bool)
        here = here & ~frame["unit_id"].isin(kept["unit_id"]).to_numpy(dtype=bool)
        where = f"of {source}"
        words = {one: alike_words(one, other, where) for one, other in twins.items()}
        wrong = frame.loc[here, "unit_id"].map(words).to_numpy(dtype=object)
        add_row_faults(frame, here, "unit_id", wrong, RIGHT, faults)
        return here

    units.reject_among_good(find)


def _check_kept_records(
    table: Table, checks: Mapping[str, TableCheck], known: KnownRecords, kept_units: pd.DataFrame
) -> None:
    """Mark incoming units that a kept record of theirs no longer fits."""
    units = checks["units"]
    good = units.good()
    changed = _changed(good, kept_units, "unit_id", [*OF_THE_UNIT])
    if not len(changed):
        return
    records = _staying(known.of_units(table.name, changed), checks.get(table.name), table)
    view = UnitsInView(good, pd.Series(dtype=object))
    broken = _broken(
        records, table, known.source, partial(check_against_units, table=table, units=view)
    )
    _tell_of_incoming(units, broken, "unit_id", table)


def _check_kept_repairs(
    events: TableCheck,
    checks: Mapping[str, TableCheck],
    known: KnownRecords,
    kept_events: pd.DataFrame,
) -> None:
    """Mark incoming failures that a kept re-work names and no longer fits."""
    good, table = events.good(), TABLE_BY_NAME["rework"]
    changed = _changed(good, kept_events, "event_id", ["unit_id"])
    if not len(changed):
        return
    records = _staying(known.repairs_of(changed), checks.get("rework"), table)
    find = partial(check_repaired_events, events=good, rejected=pd.Series(dtype=object))
    _tell_of_incoming(events, _broken(records, table, known.source, find), "event_id", table)


def _changed(good: pd.DataFrame, kept: pd.DataFrame, key: str, columns: list[str]) -> list[str]:
    """Return the keys of incoming rows that differ from the kept one in some columns."""
    both = good[[key, *columns]].merge(kept[[key, *columns]], on=key, suffixes=("", " before"))
    differs = np.zeros(len(both), dtype=bool)
    for column in columns:
        new, old = both[column].astype(object), both[f"{column} before"].astype(object)
        differs |= ((new != old) & ~(new.isna() & old.isna())).to_numpy(bool)
    keys: list[str] = both.loc[differs, key].tolist()
    return keys


def _broken(records: pd.DataFrame, table: Table, source: str, find: FindBroken) -> pd.DataFrame:
    """Return the faults of kept records, with the record of each."""
    faults = Faults(table.name, (f"{table.name} in {source}",))
    records = records.reset_index(drop=True)
    find(records, faults=faults)
    return faults.frame().merge(records, left_on="row", right_on=ROW, suffixes=("_of_fault", ""))


def _tell_of_incoming(check: TableCheck, broken: pd.DataFrame, tie: str, table: Table) -> None:
    """Add the first fault of the records that an incoming row ties as a fault of that row."""
    first = broken.drop_duplicates(tie).set_index(tie)

    def find(frame: pd.DataFrame, *, faults: Faults) -> NDArray[np.bool_]:
        here = frame[tie].isin(first.index).to_numpy()
        if here.any():
            keys = frame.loc[here, tie]
            reported = first.loc[keys]
            wrong = (
                f"does not fit {table.name} "
                + reported[table.key].astype(object)
                + " in "
                + reported["source"].astype(object)
                + ": its "
                + reported["column"].astype(object)
                + " "
                + reported["value"].astype(object)
                + " "
                + reported["wrong"].astype(object)
            )
            faults.add(
                frame.loc[here, ROW].to_numpy(),
                faults.heading_of.get(tie, tie),
                keys.to_numpy(object),
                wrong.to_numpy(object),
                reported["right"].to_numpy(object),
            )
        return here

    check.reject_among_good(find)
