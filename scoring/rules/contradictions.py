"""Two checks of one unit that say different things of one matter; the worse counts."""

import numpy as np
import pandas as pd

from scoring.contract import CHECK_BY_NAME
from scoring.limits import UnitLimits
from scoring.timeline.known import Known

PAIRS = (
    ("shaft_end", "engagement_mm", "required_engagement_mm"),
    ("screws_low", "final_torque_nm", "screw_torque_nm"),
    ("metal_contact", "smallest_clearance_mm", ""),
)
"""Two checks of one matter, and the limit that must be known for the second to speak of it."""


def contradictions(known: Known, limits: UnitLimits) -> pd.DataFrame:
    """Return where two checks contradict each other.

    Returns
    -------
    DataFrame
        ``unit_id``, ``one``, ``other``: labels of the checks, the worse first.
    """
    parts = []
    for first, second, limit in PAIRS:
        bad_one, bad_two = (known.exceedance[name].to_numpy() for name in (first, second))
        judged = ~np.isnan(bad_one) & ~np.isnan(bad_two)
        if first == "metal_contact":
            # A small clearance is no contact; only a clearance of nothing is.
            bad_two = np.where(known.found[second].to_numpy() == 0, bad_two, 0.0)
        if limit:
            judged &= ~np.isnan(limits.table[limit].to_numpy())
        differ = judged & ((bad_one > 0) != (bad_two > 0))
        worse_first = bad_one[differ] > 0
        labels = CHECK_BY_NAME[first].label, CHECK_BY_NAME[second].label
        parts.append(
            pd.DataFrame(
                {
                    "unit_id": known.units["unit_id"].to_numpy(dtype=object)[differ],
                    "one": np.where(worse_first, *labels),
                    "other": np.where(worse_first, *reversed(labels)),
                }
            )
        )
    return pd.concat(parts, ignore_index=True)
