"""How many installations were right the first time."""

import numpy as np
import pandas as pd

from scoring.assessment import FleetAssessor
from scoring.contract import CHECKS
from scoring.contract.walkdowns import POST_INSTALL
from scoring.records import has_mounting
from scoring.rules.look_status import ALSO_SHOWN_BY


def right_first_time(assessor: FleetAssessor, as_of: pd.Timestamp) -> pd.DataFrame:
    """Judge each post-install walkdown that saw every critical check of its mounting.

    Parameters
    ----------
    assessor : FleetAssessor
        The fleet.
    as_of : Timestamp
        Walkdowns after this day are left out.

    Returns
    -------
    DataFrame
        ``quarter`` (its first day), ``site``, ``installer``, ``inspected`` (walkdowns),
        ``judged`` (those that saw every critical check) and ``right`` (those of them without any
        finding).
    """
    fleet = assessor.fleet
    walkdowns = fleet.walkdowns
    kept = (
        (walkdowns["kind"] == POST_INSTALL) & (walkdowns["inspected_on"].dt.normalize() <= as_of)
    ).to_numpy()
    units = fleet.units.set_index("unit_id").loc[walkdowns["unit_id"][kept]].reset_index()
    exceedance = assessor.timeline.exceedance.loc[kept].reset_index(drop=True)
    everything = np.ones(len(units), dtype=bool)
    for check in CHECKS:
        seen = exceedance[check.name].notna()
        other, _ = ALSO_SHOWN_BY.get(check.name, (check.name, ""))
        seen |= exceedance[other].notna()
        everything &= seen.to_numpy() | ~has_mounting(units, check.critical_for)
    clean = (exceedance.fillna(0) == 0).all(axis=1).to_numpy()
    first_crew = units["installer"].astype(object)
    table = pd.DataFrame(
        {
            "quarter": _quarter(walkdowns["inspected_on"][kept]),
            "site": units["site"].astype(object),
            "installer": first_crew.where(first_crew.notna(), "not written down"),
            "inspected": 1,
            "judged": everything.astype(np.int64),
            "right": (everything & clean).astype(np.int64),
        }
    )
    return table.groupby(["quarter", "site", "installer"], as_index=False).sum()


def _quarter(days: "pd.Series[pd.Timestamp]") -> "np.ndarray[tuple[int], np.dtype[np.datetime64]]":
    quarters = days.dt.to_period("Q").dt.to_timestamp()
    return quarters.to_numpy().astype("datetime64[s]")
