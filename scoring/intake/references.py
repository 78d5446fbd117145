"""Rules between tables: a record must fit the unit it speaks of."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
import pyarrow as pa
import pyarrow.compute as pc
from numpy.typing import NDArray

from scoring.contract import CHECKS, Kind, Table
from scoring.contract.declaration import YES
from scoring.contract.walkdowns import AFTER_START, PERIODIC
from scoring.intake.faults import Faults
from scoring.intake.look_alike_ids import alike_words, look_alikes
from scoring.intake.row_rules import add_row_faults
from scoring.records import DAY_COLUMN, ROW

_BY_CHECKS = [name for check in CHECKS for name in (check.only_where, check.at_most) if name]
OF_THE_UNIT = tuple(
    dict.fromkeys(["installed_on", "started_on", "out_of_service_on", "mounting", *_BY_CHECKS])
)
"""Columns of a unit that its other records must fit."""


@dataclass(frozen=True)
class UnitsInView:
    """The units that other tables may speak of.

    Attributes
    ----------
    good : DataFrame
        Units without a fault, one row each.
    rejected : Series
        Where the row of each unit is that has a fault, by its id.
    """

    good: pd.DataFrame
    rejected: "pd.Series[str]"

    def join(self, unit_id: "pd.Series[str]") -> pd.DataFrame:
        """Return what a record is held against of its unit, missing where there is none."""
        named = pa.array(unit_id.array, pa.large_string())
        known = pa.array(self.good["unit_id"].array, pa.large_string())
        place = pc.fill_null(pc.index_in(named, known), -1).to_numpy()
        unit = self.good[[*OF_THE_UNIT]]
        joined = unit.reset_index(drop=True).reindex(place).reset_index(drop=True)
        return joined.assign(known=place >= 0)


def check_against_units(
    frame: pd.DataFrame, faults: Faults, *, table: Table, units: UnitsInView
) -> NDArray[np.bool_]:
    """Add a fault for each record that does not fit its unit; return which do not.

    Parameters
    ----------
    frame : DataFrame
        The records.
    faults : Faults
        Collects what is wrong.
    table : Table
        The contract of the records.
    units : UnitsInView
        The units.

    Returns
    -------
    ndarray of bool, shape (n_records,)
    """
    unit = units.join(frame["unit_id"])
    unknown = ~unit["known"].to_numpy(dtype=bool)
    _fault_unknown(frame, unknown, units, faults)
    broken = unknown.copy()
    broken |= _fault_outside_service(table, frame, unit, faults)
    if table.name == "walkdowns":
        broken |= _fault_before_start(frame, unit, faults)
        broken |= _fault_other_mounting(frame, unit, faults)
        broken |= _fault_without_it(frame, unit, faults)
        broken |= _fault_not_asked(frame, faults)
        broken |= _fault_more_than_there_are(frame, unit, faults)
    return broken


def _fault_unknown(
    frame: pd.DataFrame, unknown: NDArray[np.bool_], units: UnitsInView, faults: Faults
) -> None:
    if not unknown.any():
        return
    rejected = frame.loc[unknown, "unit_id"].map(units.rejected).astype(object)
    wrong = "is a unit whose own row is faulty, " + rejected
    alike = _looks_like_one(frame.loc[unknown, "unit_id"], units.good["unit_id"])
    wrong = wrong.where(wrong.notna(), alike).astype(object)
    right = ("that row mended first, " + rejected).fillna("a unit_id that stands in units")
    add_row_faults(
        frame,
        unknown,
        "unit_id",
        wrong.fillna("is not a unit of this fleet").to_numpy(dtype=object),
        right.to_numpy(dtype=object),
        faults,
    )


def _looks_like_one(unknown: "pd.Series[str]", known: "pd.Series[str]") -> "pd.Series[str]":
    """Say of ids of no unit which unit's id they look like; missing where none."""
    twins = look_alikes(pd.concat([unknown, known], ignore_index=True))
    words = {
        one: alike_words(one, other, "in units")
        for one, other in twins.items()
        if known.isin([other]).any()
    }
    return unknown.map(words).astype(object)


def _fault_outside_service(
    table: Table, frame: pd.DataFrame, unit: pd.DataFrame, faults: Faults
) -> NDArray[np.bool_]:
    column = DAY_COLUMN[table.name]
    day = frame[column].dt.normalize()
    installed, ended = unit["installed_on"].dt.normalize(), unit["out_of_service_on"].dt.normalize()
    early: NDArray[np.bool_] = np.asarray(day < installed, dtype=bool)
    late: NDArray[np.bool_] = np.asarray(day > ended, dtype=bool)
    _fault_day(frame, early, column, "is before the unit was hung on ", installed, faults)
    _fault_day(frame, late, column, "is after the unit's service ended on ", ended, faults)
    return early | late


def _fault_before_start(
    frame: pd.DataFrame, unit: pd.DataFrame, faults: Faults
) -> NDArray[np.bool_]:
    started = unit["started_on"].dt.normalize()
    needs_start = frame["kind"].isin([AFTER_START, PERIODIC])
    early: NDArray[np.bool_] = np.asarray(
        needs_start & (frame["inspected_on"].dt.normalize() < started), dtype=bool
    )
    _fault_day(
        frame,
        early,
        "inspected_on",
        "is a look at a running unit before its start on ",
        started,
        faults,
    )
    return early


def _fault_day(  # noqa: PLR0913, PLR0917 - where, what and against which limit
    frame: pd.DataFrame,
    where: NDArray[np.bool_],
    column: str,
    wrong: str,
    limit: "pd.Series[pd.Timestamp]",
    faults: Faults,
) -> None:
    if not where.any():
        return
    days: NDArray[np.object_] = limit[where].dt.strftime("%Y-%m-%d").to_numpy(dtype=object)
    right = "a day within the unit's service, or the unit's dates put right"
    add_row_faults(
        frame,
        where,
        column,
        wrong + days,
        np.full(int(where.sum()), right, dtype=object),
        faults,
    )


def _fault_other_mounting(
    frame: pd.DataFrame, unit: pd.DataFrame, faults: Faults
) -> NDArray[np.bool_]:
    """Find values that the unit's mounting cannot have."""
    broken = np.zeros(len(frame), dtype=bool)
    mountings = unit["mounting"].cat.categories
    code = unit["mounting"].cat.codes.to_numpy()  # -1 where the unit is unknown
    for check in CHECKS:
        has_it = np.append(mountings.isin(check.mountings), True)
        if has_it.all():
            continue
        here = frame[check.name].notna().to_numpy() & ~has_it[code]
        if here.any():
            mounting = unit.loc[here, "mounting"].astype(object)
            add_row_faults(
                frame,
                here,
                check.name,
                ("is given for a " + mounting + ", which has no such thing").to_numpy(object),
                np.full(
                    int(here.sum()), f"only on {', '.join(check.mountings)}; else empty", object
                ),
                faults,
            )
            broken |= here
    return broken


def _fault_without_it(frame: pd.DataFrame, unit: pd.DataFrame, faults: Faults) -> NDArray[np.bool_]:
    """Find values of what the unit's own record does not say that it has."""
    broken = np.zeros(len(frame), dtype=bool)
    for check in (check for check in CHECKS if check.only_where):
        has_it = (unit[check.only_where] == YES).to_numpy(dtype=bool)
        here = frame[check.name].notna().to_numpy() & ~has_it & unit["known"].to_numpy(dtype=bool)
        said = unit.loc[here, check.only_where].astype(object).fillna("blank")
        add_row_faults(
            frame,
            here,
            check.name,
            ("is given for a unit whose " + check.only_where + " is " + said).to_numpy(object),
            f"{check.only_where} {YES} in units, if it has one; else empty",
            faults,
        )
        broken |= here
    return broken


def _fault_not_asked(frame: pd.DataFrame, faults: Faults) -> NDArray[np.bool_]:
    """Find answers to what a visit of this kind does not ask."""
    broken = np.zeros(len(frame), dtype=bool)
    for check in (check for check in CHECKS if check.asked_on):
        asked = frame["kind"].isin(check.asked_on).to_numpy(dtype=bool)
        here = frame[check.name].notna().to_numpy() & ~asked
        add_row_faults(
            frame,
            here,
            check.name,
            ("is given on a visit of kind " + frame.loc[here, "kind"].astype(object)).to_numpy(
                object
            ),
            f"only on {', '.join(check.asked_on)}; else empty",
            faults,
        )
        broken |= here
    return broken


def _fault_more_than_there_are(
    frame: pd.DataFrame, unit: pd.DataFrame, faults: Faults
) -> NDArray[np.bool_]:
    """Find counts above what the unit has."""
    broken = np.zeros(len(frame), dtype=bool)
    for check in (check for check in CHECKS if check.at_most):
        most = unit[check.at_most].to_numpy(dtype=np.float64)
        here = frame[check.name].to_numpy(dtype=np.float64) > most
        has = [f"{number:g}" for number in most[here]]
        right = [f"a whole number from {check.minimum or 0:g} to {n}" for n in has]
        add_row_faults(
            frame,
            here,
            check.name,
            np.array([f"is more than the unit has, {check.at_most} {n}" for n in has], object),
            np.array(right, object),
            faults,
        )
        broken |= here
    return broken


def check_dates_ahead(
    table: Table, frame: pd.DataFrame, today: pd.Timestamp, faults: Faults
) -> NDArray[np.bool_]:
    """Add a fault for each date more than one day in the future; return which rows have one."""
    latest = today.normalize() + pd.Timedelta(days=2)
    broken = np.zeros(len(frame), dtype=bool)
    for column in table.columns:
        if column.kind is Kind.DATE and not column.may_lie_ahead:
            ahead = (frame[column.name] >= latest).to_numpy()
            add_row_faults(
                frame,
                ahead,
                column.name,
                "is more than one day in the future",
                f"a date up to {(latest - pd.Timedelta(days=1)).date()}",
                faults,
            )
            broken |= ahead
    return broken


def check_asset_spans(
    frame: pd.DataFrame, faults: Faults, *, among: pd.DataFrame | None = None
) -> NDArray[np.bool_]:
    """Add a fault where one asset is on two shafts at once; return which units.

    A reducer may be hung on the next shaft on the day it leaves the last.

    Parameters
    ----------
    frame : DataFrame
        Units whose faults are reported.
    faults : Faults
        Collects what is wrong.
    among : DataFrame, optional
        All units, these first; by default these alone.
    """
    later, earlier_unit = asset_overlaps(frame if among is None else among)
    where, earlier = later[: len(frame)], earlier_unit[: len(frame)]
    add_row_faults(
        frame,
        where,
        "installed_on",
        "was hung while its asset was still on the shaft of unit " + earlier[where],
        np.full(int(where.sum()), "out_of_service_on of that unit at or before this day", object),
        faults,
    )
    return where


def asset_overlaps(units: pd.DataFrame) -> tuple[NDArray[np.bool_], NDArray[np.object_]]:
    """Find units that were hung while their asset was still on another shaft.

    Parameters
    ----------
    units : DataFrame, shape (n_units, ...)
        With index 0, 1, ...

    Returns
    -------
    later : ndarray of bool, shape (n_units,)
        Which units.
    earlier_unit : ndarray of object, shape (n_units,)
        For each of these the unit that still had the asset; empty for the others.
    """
    hung_again = units["asset_id"].notna() & units["asset_id"].duplicated(keep=False)
    assets = units.loc[hung_again, ["asset_id", "unit_id", ROW]]
    assets["hung"] = units["installed_on"].dt.normalize()
    assets["ended"] = units["out_of_service_on"].dt.normalize().fillna(pd.Timestamp("2200-01-01"))
    assets = assets.sort_values(["asset_id", "hung", ROW], kind="stable")
    # The one that ends last among those hung before, not only the one just before.
    latest = assets.groupby("asset_id", sort=False)["ended"].cummax()
    ends_last = assets["unit_id"].where(assets["ended"] == latest)
    ends_last = ends_last.groupby(assets["asset_id"], sort=False).ffill()
    by_asset = assets.assign(latest=latest, ends_last=ends_last).groupby("asset_id", sort=False)
    overlap = (assets["hung"] < by_asset["latest"].shift()).to_numpy(dtype=bool)
    places = assets.index.to_numpy()[overlap]
    later = np.zeros(len(units), dtype=bool)
    later[places] = True
    earlier_unit = np.full(len(units), "", dtype=object)
    earlier_unit[places] = by_asset["ends_last"].shift().to_numpy(dtype=object)[overlap]
    return later, earlier_unit


def check_repaired_events(
    frame: pd.DataFrame, faults: Faults, *, events: pd.DataFrame, rejected: "pd.Series[str]"
) -> NDArray[np.bool_]:
    """Add a fault where re-work names an event that is unknown, faulty or of another unit."""
    named = frame["event_id"].notna()
    unit_of_event = frame["event_id"].map(events.set_index("event_id")["unit_id"])
    unknown = (named & unit_of_event.isna()).to_numpy()
    other = (named & unit_of_event.notna() & (unit_of_event != frame["unit_id"])).to_numpy()
    faulty = frame.loc[unknown, "event_id"].map(rejected).astype(object)
    wrong = "is an event whose own row is faulty, " + faulty
    right = "that row mended first, " + faulty
    add_row_faults(
        frame,
        unknown,
        "event_id",
        wrong.fillna("is not an event of this fleet").to_numpy(dtype=object),
        right.fillna("an event_id that stands in events, or empty").to_numpy(dtype=object),
        faults,
    )
    add_row_faults(
        frame,
        other,
        "event_id",
        "is an event of another unit",
        "an event of the unit that was worked on",
        faults,
    )
    return unknown | other
