"""What hanging a unit anew makes of an earlier look, and which findings outlast a mere cure."""

import numpy as np
from numpy.typing import NDArray

from scoring.contract import CHECKS, Check, Seen
from scoring.timeline.leaks import DRIPPING
from scoring.timeline.looks import Looks

Flags = NDArray[np.bool_]
Floats = NDArray[np.float64]

SEATED = "seated"
SHAFT_SEAT = "shaft_seat"
WITNESS_MARK = "witness_mark"

OF_SHAFT_AT_HOME = ("engagement_mm", "shaft_end")
"""Where the unit was seen home these tell of the shaft, else of how the unit sits on it."""

GOOD_IS_LOST = tuple(check.name for check in CHECKS if check.good_is_lost_by_hanging)
"""A good look at these tells nothing once the unit was hung anew; a finding stands."""


def at_home_column(check: str) -> str:
    """Name the column of ``Known.history`` that says whether the unit was home when it was seen.

    Examples
    --------
    >>> at_home_column("shaft_end")
    'shaft_end_at_home'
    """
    return f"{check}_at_home"


def in_hangings(check: Check) -> bool:
    """Tell whether the worst of one hanging counts, and the next one begins with a clean page."""
    return check.seen is Seen.HANGING and not check.made_anew_by_hanging


def outlasts_looks(check: Check) -> bool:
    """Tell whether a finding at this check stands although a later look finds it better."""
    return check.seen is Seen.HANGING or check.name in ("seal_weep", WITNESS_MARK)


def lasting_exceedance(check: Check, looks: Looks) -> Floats:
    """Return how bad each look is as far as a later and better look cannot mend it.

    A finding made while hanging stands until the unit is hung anew; a seal that drips leaks until
    it is renewed; a mark that moved tells of a slip until the seat was seen; of everything else the
    newest look counts.
    """
    if check.seen is Seen.HANGING:
        return looks.exceedance
    if check.name == "seal_weep":
        return np.where(looks.exceedance == DRIPPING, 1.0, 0.0)
    if check.name == WITNESS_MARK:
        return np.where(looks.exceedance >= check.damage_exceedance, 1.0, 0.0)
    return np.zeros(len(looks.exceedance))


def is_damage(check: Check, looks: Looks) -> Flags:
    """Tell which looks found what only a part mends."""
    return looks.exceedance >= check.damage_exceedance
