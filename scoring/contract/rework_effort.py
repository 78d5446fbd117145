"""What each re-work action takes: hours, people, crane, parts, and what it shares with others.

Hours are hours of one person: three people for two hours are six. All of it is planning values of
ours, from a plant's own experience better replaced (``rework_settings``).
"""

from dataclasses import dataclass

from scoring.contract.mountings import (
    CLAMPED,
    EVERY_MOUNTING,
    SHRINK_DISC_SUPPORT_BUSHINGS,
)
from scoring.contract.rework import ACTION_BY_NAME, with_brought
from scoring.contract.walkdowns import CHECK_BY_NAME

LABOUR_COST_PER_H = 60.0
"""What an hour of one person costs; planning value of ours. [currency/h]"""


@dataclass(frozen=True, kw_only=True)
class SetUp:
    """Work around the work, done once at a unit however many actions need it.

    Attributes
    ----------
    name : str
        As written in a table of settings.
    does : str
        What is done, in plain words.
    hours : float
        Of one person. [h]
    people : int
        At once. [-]
    crane : bool
        Whether it needs a crane or hoist.
    """

    name: str
    does: str
    hours: float
    people: int
    crane: bool = False


LOCK_OUT = SetUp(
    name="lock_out",
    does="stop, lock out and tag out, secure stored energy; start up again",
    hours=1.0,
    people=1,
)
GUARD_OFF = SetUp(
    name="guard_off", does="take guard or cover off, and fit it again", hours=1.0, people=1
)
LIFTING = SetUp(
    name="lifting", does="rig the crane, hold the unit's weight", hours=2.0, people=2, crane=True
)
OFF_AND_ON = SetUp(
    name="off_and_on",
    does="take the unit off its shaft and hang it again",
    hours=10.0,
    people=3,
)
SET_UPS: tuple[SetUp, ...] = (LOCK_OUT, GUARD_OFF, LIFTING, OFF_AND_ON)


@dataclass(frozen=True, kw_only=True)
class Effort:
    """What one action takes beside its set-ups.

    Attributes
    ----------
    action : str
        Name of the action.
    hours : float
        Its own work, of one person. [h]
    people : int
        At once. [-]
    who : str
        Who can do it.
    lead_days : int
        How long its parts take to come. [d]
    parts_cost : float
        What its parts and hire cost. [currency]
    set_ups : tuple of str
        Names of the set-ups that it needs.
    tools, parts : tuple of str
        What has to be at hand.
    line_stops : bool
        Whether the conveyor stands still for it.
    caution : str
        What to mind, beside the usual cautions.
    """

    action: str
    hours: float
    people: int
    who: str = "mechanic"
    lead_days: int = 0
    parts_cost: float = 0.0
    set_ups: tuple[str, ...] = ()
    tools: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()
    line_stops: bool = True
    caution: str = ""


_ONLY_ON = {"renew_support_bushings": (SHRINK_DISC_SUPPORT_BUSHINGS,)}


def fits(action: str, mounting: str) -> bool:
    """Tell whether an action makes sense on a mounting: it has checks that the action cures.

    Parameters
    ----------
    action : str
        Name of the action.
    mounting : str
        The mounting.

    Returns
    -------
    bool

    Examples
    --------
    >>> fits("retorque_in_passes", "keyed_bore"), fits("renew_key", "keyed_bore")
    (False, True)
    """
    has = any(mounting in CHECK_BY_NAME[check].mountings for check in ACTION_BY_NAME[action].cures)
    return has and mounting in _ONLY_ON.get(action, EVERY_MOUNTING)


def done_with(action: str, mounting: str) -> tuple[str, ...]:
    """Return an action and what it brings on a mounting; screws are torqued where there are any.

    Examples
    --------
    >>> done_with("clean_and_refit", "shrink_disc"), done_with("clean_and_refit", "keyed_bore")
    (('clean_and_refit', 'retorque_in_passes'), ('clean_and_refit',))
    """
    names = tuple(one.name for one in with_brought(action))
    return names if mounting in CLAMPED else names[:1]
