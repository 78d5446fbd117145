"""The one rule on a computed value: a friction joint that must slip at its peak is a hold."""

import numpy as np
import pandas as pd

from scoring.consequences.joint_grip import JointGrip
from scoring.contract.mountings import CLAMPED
from scoring.rules.rule import Rule, Severity

SLIP_RULE = Rule(
    name="joint_slips",
    check="slip_margin",
    severity=Severity.HOLD,
    mountings=CLAMPED,
    reason="joint slips: it carries at most {value} of its peak torque",
    why="it slips at every peak: bore and shaft score, and the unit turns on its shaft",
    action="",
    origin="our own calculation; a hold only where the upper end of its 90 % interval is below 1",
)
"""Judges a computed value, so it stands beside the rulebook; its action depends on the cause."""

CURES = {
    "friction": "clean_and_refit",
    "preload": "retorque_in_passes",
    "fit": "renew_shaft",
    "engagement": "reseat_on_shaft",
    "offset": "recentre_disc",
}
"""The cure for what takes most of the capacity, by the names of ``JointGrip.factors``."""


def slip_findings(grip: JointGrip, unit_ids: "pd.Series[str]") -> pd.DataFrame:
    """Return a finding for each joint whose margin is surely below 1.

    Parameters
    ----------
    grip : JointGrip
        Slip margins of the same units.
    unit_ids : Series of str, shape (n_units,)
        Ids of the units.

    Returns
    -------
    DataFrame
        Rows as ``scoring.rules.findings`` makes them.
    """
    unit = np.flatnonzero(grip.high < 1)
    names = np.array(list(CURES), dtype=object)
    worst = np.argmin([grip.factors[name][unit] for name in names], axis=0)
    most = pd.Series(grip.high[unit]).map("{:.2f}".format).to_numpy(dtype=object)
    return pd.DataFrame(
        {
            "unit": unit,
            "unit_id": unit_ids.to_numpy(dtype=object)[unit],
            "check": SLIP_RULE.check,
            "rule": SLIP_RULE.name,
            "severity": int(SLIP_RULE.severity),
            "exceedance": 1 - grip.margin[unit],
            "seen_on": np.full(len(unit), np.datetime64("NaT", "s")),
            "reason": np.array([SLIP_RULE.reason.replace("{value}", m) for m in most], object),
            "action": np.array([CURES[str(name)] for name in names[worst]], dtype=object),
        }
    )
