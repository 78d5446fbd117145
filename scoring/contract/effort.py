"""What a re-work action takes: hours, people, crane, parts, and what it shares with others.

Hours are hours of one person: three people for two hours are six. All of it is planning values of
ours, from a plant's own experience better replaced (``rework_settings``).
"""

from dataclasses import dataclass

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

STAND_ON_HOLD = "stand_on_hold"
"""No work, but what a table of settings calls a unit on hold that stands still."""

STOPPED = (LOCK_OUT.name,)
UNCOVERED = (LOCK_OUT.name, GUARD_OFF.name)
OFF_THE_SHAFT = (LOCK_OUT.name, GUARD_OFF.name, LIFTING.name, OFF_AND_ON.name)

WRENCH = ("torque wrench, in date",)
BLOCK_THE_LOAD = "block the load first, by backstop, brake and belt tension"
"""Before anything is opened that holds the torque of the stopped belt."""

ARM_IS_LOADED = f"the arm holds the torque of the stopped belt: {BLOCK_THE_LOAD}"
JOINT_IS_LOADED = f"an opened joint holds nothing: {BLOCK_THE_LOAD}"
UNIT_HANGS = f"{JOINT_IS_LOADED}; the unit hangs on the crane: nobody under it"


@dataclass(frozen=True, kw_only=True)
class Effort:
    """What one action takes beside its set-ups.

    Attributes
    ----------
    hours : float
        Its own work, of one person. [h]
    people : int
        At once. [-]
    who : str
        Who can do it.
    lead_days : int
        How long its parts take to come, where they are needed. [d]
    parts_cost : float
        What its parts and hire cost, where they are needed. [currency]
    set_ups : tuple of str
        Names of the set-ups that it needs; all of them where the unit comes off its shaft.
    tools, parts : tuple of str
        What has to be at hand.
    line_stops : bool
        Whether the conveyor stands still for it.
    caution : str
        What to mind, beside the usual cautions.
    """

    hours: float
    people: int
    who: str = "mechanic"
    lead_days: int = 0
    parts_cost: float = 0.0
    set_ups: tuple[str, ...] = STOPPED
    tools: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()
    line_stops: bool = True
    caution: str = ""


USUAL_EFFORT = Effort(hours=4.0, people=2)
"""What an action takes that says nothing; planning value of ours."""
