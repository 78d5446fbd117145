"""Where what is good at a unit comes from, said beside it."""

import numpy as np
import pandas as pd

from scoring.contract import Check
from scoring.limits import assumptions
from scoring.limits.assumptions import Assumed
from scoring.rules.rulebook import RULEBOOK

RECORDED: dict[str, tuple[tuple[str, ...], str]] = {
    "engagement_mm": (
        ("required_engagement_mm",),
        f"usual for its mounting, {assumptions.PLANNING_VALUE}; the manual comes first",
    ),
    "shaft_diameter_measured_mm": (
        ("shaft_tolerance", "shaft_low_mm"),
        "the widest tolerance classes of the list, as none is recorded of this unit",
    ),
    "torque_passes": (("torque_passes_required",), assumptions.TORQUE_PASSES.origin),
    "final_torque_nm": (("screw_torque_nm",), ""),
    "collar_gap_mm": (
        ("collar_gap_min_mm", "collar_gap_max_mm"),
        assumptions.COLLAR_GAP_MIN.origin,
    ),
    "isolator_squeeze_mm": (
        ("isolator_thickness_mm",),
        f"{assumptions.ISOLATOR_THICKNESS.words}, {assumptions.ISOLATOR_THICKNESS.origin}",
    ),
}
"""Columns of ``units`` that a limit goes by, and what stands in for them."""

SHARES: dict[str, Assumed] = {
    "final_torque_nm": assumptions.LEAST_TORQUE_SHARE,
    "isolator_squeeze_mm": assumptions.SQUEEZE_SHARE,
}
"""What is taken of the recorded value."""

FROM_RECORD = "from the record of this unit"


def origins_of_limits(check: Check, units: pd.DataFrame) -> list[str]:
    """Say of each unit where the limits of a measured check come from.

    Parameters
    ----------
    check : Check
        The check.
    units : DataFrame, shape (n_units, ...)
        The table ``units``.

    Returns
    -------
    list of str
        Empty where no rule judges the check.
    """
    if check.name not in RECORDED:
        origin = next((rule.origin for rule in RULEBOOK if rule.check == check.name), "")
        return [origin] * len(units)
    columns, assumed = RECORDED[check.name]
    share = SHARES.get(check.name)
    besides = f"; {share.words}: {share.origin}" if share else ""
    recorded = units[list(columns)].notna().any(axis=1).to_numpy()
    return [f"{FROM_RECORD if one else assumed}{besides}" for one in np.asarray(recorded)]
