"""How joint, torque arm and housing of each unit stand, in one word each."""

import numpy as np
import pandas as pd

from scoring.contract import CHECK_BY_NAME, CHECKS
from scoring.contract.declaration import About
from scoring.limits import UnitLimits
from scoring.rules.findings import Findings
from scoring.rules.look_status import never_seen
from scoring.timeline.known import Known

PARTS = ("joint", "arm", "housing")
FOUND, UNSEEN, GOOD = "finding", "not seen", "good"

_PART_OF = {About.JOINT: "joint", About.SHAFT: "joint", About.ARM: "arm", About.HOUSING: "housing"}


def part_of(check: str) -> str:
    """Return the part that a check is about; the slip margin is about the joint.

    Examples
    --------
    >>> part_of("isolators_free"), part_of("engagement_mm"), part_of("slip_margin")
    ('arm', 'joint', 'joint')
    """
    return _PART_OF[CHECK_BY_NAME[check].about] if check in CHECK_BY_NAME else "joint"


def state_of_parts(known: Known, limits: UnitLimits, findings: Findings) -> pd.DataFrame:
    """Tell of each part whether something was found at it, or something critical never seen.

    Parameters
    ----------
    known : Known
        What was known of the units in service.
    limits : UnitLimits
        The limits of these units.
    findings : Findings
        What the rules found; what is accepted counts as found.

    Returns
    -------
    DataFrame of str, shape (n_units, 3)
        ``joint``, ``arm``, ``housing``: *finding*, else *not seen*, else *good*.
    """
    unseen = {part: np.zeros(len(known.units), dtype=bool) for part in PARTS}
    for check in CHECKS:
        unseen[part_of(check.name)] |= never_seen(check, known, limits)
    unit = findings.table["unit"].to_numpy(dtype=np.int64)
    at = findings.table["check"].map(part_of).to_numpy(dtype=object)
    states = {}
    for part in PARTS:
        found = np.zeros(len(known.units), dtype=bool)
        found[unit[at == part]] = True
        states[part] = np.select([found, unseen[part]], [FOUND, UNSEEN], GOOD)
    return pd.DataFrame(states)
