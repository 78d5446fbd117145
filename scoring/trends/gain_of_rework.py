"""What re-work gained: risk before and after it, by one yardstick."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.assessment import FleetAssessor, FleetLearning
from scoring.contract.events import MODES
from scoring.risk.loss import fill_costs
from scoring.timeline.states_over_time import states_over_time

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Days = NDArray[np.datetime64]

YEAR_DAYS = 365
_ONE_DAY = np.timedelta64(1, "D")


def gain_of_rework(
    assessor: FleetAssessor, as_of: pd.Timestamp, learning: FleetLearning | None = None
) -> pd.DataFrame:
    """Work out by how much each row of re-work lowered the expected loss of its unit.

    Parameters
    ----------
    assessor : FleetAssessor
        The fleet.
    as_of : Timestamp
        The day; what was written down later does not count.
    learning : FleetLearning, optional
        What the fleet's own failures say, of the same day; by default the handbook alone.

    Returns
    -------
    DataFrame, shape (n_rework, ...)
        By day: ``rework_id``, ``unit_id``, ``site``, ``done_on``, ``actions``, ``crew``,
        ``after_failure`` (whether it repaired one), ``crew_hours`` [h]; for each failure
        ``p_`` and ``p__after`` within a year [-]; ``loss_before``, ``loss_after`` and
        ``loss_removed`` in a year, ``loss_removed_per_crew_hour`` and ``currency``. Missing where
        the unit was not in service the day before or after, or hours are not written down.

    Notes
    -----
    Before: as the unit was known by the end of the day before the work. After: as known by the
    end of the day after it was done and written down, or of ``as_of`` if that is sooner. Looks of
    these days count, too: what was found by them raises or lowers the risk. One yardstick:
    hazards, the unit's own failures and how usual faults are as known by ``as_of``. What several
    rows of one unit and day removed is parted equally between them. Crew-hours are ``hours`` of
    the job times ``crew_size``, 1 where that is blank.
    """
    fleet, today = assessor.fleet, np.datetime64(as_of.date(), "D")
    part = assessor.timeline.records.of_table["rework"]
    known_from = assessor.timeline.records.known_from[part]
    row = np.flatnonzero(known_from <= today)
    rework = fleet.rework.iloc[row].reset_index(drop=True)
    place = assessor.timeline.records.unit[part][row]
    done = assessor.timeline.records.day[part][row]
    before, after = done - _ONE_DAY, np.minimum(known_from[row] + _ONE_DAY, today)
    both = _in_service(fleet.units, place, before) & _in_service(fleet.units, place, after)
    ask = np.flatnonzero(both)
    chances = _chances(
        assessor, (np.tile(place[ask], 2), np.append(before[ask], after[ask])), as_of, learning
    )
    costs = fill_costs(fleet.units)
    columns: dict[str, object] = {}
    losses = {"loss_before": np.zeros(len(row)), "loss_after": np.zeros(len(row))}
    for mode in MODES:
        of_failure = costs.of_failure(mode)[place]
        for name, chance in zip(losses, np.split(chances[mode], 2), strict=True):
            filled = np.full(len(row), np.nan)
            filled[ask] = chance
            columns[f"p_{mode}" + ("" if name == "loss_before" else "_after")] = filled
            losses[name] += filled * of_failure
    same = pd.DataFrame({"place": place, "done": done}).groupby(["place", "done"])["place"]
    removed = (losses["loss_before"] - losses["loss_after"]) / same.transform("size").to_numpy()
    hours = (rework["hours"] * rework["crew_size"].fillna(1)).to_numpy(np.float64)
    table = pd.DataFrame(
        {
            **{name: rework[name] for name in ("rework_id", "unit_id")},
            "site": fleet.units["site"].array.take(place),
            **{name: rework[name] for name in ("done_on", "actions", "crew")},
            "after_failure": rework["event_id"].notna(),
            "crew_hours": hours,
            **columns,
            **losses,
            "loss_removed": removed,
            "loss_removed_per_crew_hour": removed / np.where(hours > 0, hours, np.nan),
            "currency": costs.currency or None,
        }
    )
    return table.sort_values(["done_on", "rework_id"], kind="stable", ignore_index=True)


def _in_service(units: pd.DataFrame, place: Ints, day: Days) -> NDArray[np.bool_]:
    hung = units["installed_on"].to_numpy().astype("datetime64[D]")[place]
    left = units["out_of_service_on"].to_numpy().astype("datetime64[D]")[place]
    there: NDArray[np.bool_] = (hung <= day) & ~(left <= day)
    return there


def _chances(
    assessor: FleetAssessor,
    asked: tuple[Ints, Days],
    as_of: pd.Timestamp,
    learning: FleetLearning | None,
) -> dict[str, Floats]:
    """Return the chance of each failure within a year, at units as they were known on days."""
    place, day = asked
    if len(place) == 0:
        return {mode: np.zeros(0) for mode in MODES}
    known = states_over_time(assessor.timeline, place, day)
    yardstick = assessor.yardstick(as_of, learning)
    risks = yardstick.risks(known, assessor.limits.at(place), YEAR_DAYS)
    return {mode: risk.probability for mode, risk in risks.items()}
