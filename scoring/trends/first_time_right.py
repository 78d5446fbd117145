"""How many installations were right the first time, by when they were hung."""

import numpy as np
import pandas as pd

from scoring.assessment import FleetAssessor
from scoring.contract import CHECKS
from scoring.contract.walkdowns import POST_INSTALL
from scoring.records import has_mounting
from scoring.rules.look_status import ALSO_SHOWN_BY


def first_time_right(assessor: FleetAssessor, as_of: pd.Timestamp) -> pd.DataFrame:
    """Judge each installation by its first complete post-install walkdown.

    Parameters
    ----------
    assessor : FleetAssessor
        The fleet.
    as_of : Timestamp
        What was known later is left out.

    Returns
    -------
    DataFrame
        One row for each unit hung by the day: ``unit_id``, ``site``, ``installer`` (missing where
        not written down), ``hung_on``, ``judged``: whether a post-install walkdown before any
        re-work saw every check that is critical at its mounting, ``right``: whether the first such
        walkdown found none of these wrong.
    """
    fleet, timeline = assessor.fleet, assessor.timeline
    hung = fleet.units[fleet.units["installed_on"].dt.normalize() <= as_of]
    walkdowns = fleet.walkdowns
    part = timeline.records.of_table["walkdowns"]
    known = timeline.records.known_from[part] <= np.datetime64(as_of.date(), "D")
    kept = known & (walkdowns["kind"] == POST_INSTALL).to_numpy()
    looks = walkdowns.loc[kept, ["unit_id", "inspected_on"]].reset_index(drop=True)
    units = fleet.units.set_index("unit_id").loc[looks["unit_id"]].reset_index()
    exceedance = timeline.exceedance.loc[kept].reset_index(drop=True)
    complete = np.ones(len(looks), dtype=bool)
    good = np.ones(len(looks), dtype=bool)
    for check in CHECKS:
        other, _ = ALSO_SHOWN_BY.get(check.name, (check.name, ""))
        critical = has_mounting(units, check.critical_for)
        found = exceedance[[check.name, other]]
        complete &= found.notna().any(axis=1).to_numpy() | ~critical
        good &= ~((found.iloc[:, 0] > 0).to_numpy() & critical)
    work = fleet.rework.groupby("unit_id", observed=True)["done_on"].min()
    first_work = work.reindex(looks["unit_id"]).to_numpy()
    untouched = ~(looks["inspected_on"].to_numpy() > first_work)
    looks = looks.assign(right=good)[complete & untouched]
    first = looks.sort_values("inspected_on", kind="stable").groupby("unit_id")["right"].first()
    right = first.reindex(hung["unit_id"].astype(object))
    return pd.DataFrame(
        {
            "unit_id": hung["unit_id"].to_numpy(object),
            "site": hung["site"].to_numpy(object),
            "installer": hung["installer"].astype(object).to_numpy(),
            "hung_on": hung["installed_on"].dt.normalize().to_numpy(),
            "judged": right.notna().to_numpy(bool),
            "right": (right == True).to_numpy(bool),  # noqa: E712  # missing is not right
        }
    )
