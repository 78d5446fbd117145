"""Rules on screws: passes, order, final torque; and on what they clamp.

The lowest reading is held against the stated torque in shares, for hand tools scatter. How much
the joint then carries is for the rules on slip.
"""

import numpy as np
import pandas as pd

from scoring.consequences.preload_left import screws_on_circle
from scoring.contract.mountings import CLAMPED, SHRINK_DISCS, TAPERED_BUSHING
from scoring.limits.assumptions import COMMON_PRACTICE, FROM_MEMORY, PLANNING_VALUE
from scoring.rules.rule import Circumstances, Edge, Flags, Floats, Rule, Severity

LOW_SHARE = 0.9
VERY_LOW_SHARE = 0.8
HIGH_SHARE = 1.15
"""Lowest reading over the stated torque from which on it is low, very low, high; planning values of
ours. [-]"""

LOW_SHARE_OF_CIRCLE = 0.25
"""Share of the screws whose being low is not made up for by the others; planning value of ours."""

_TOOLS = f"{PLANNING_VALUE}, for hand tools scatter by 4 to 6 % even when true, {FROM_MEMORY}"


def share_of_torque(at: Circumstances) -> Floats:
    """Return the lowest reading over the stated torque [-]; missing where either is."""
    # A torque converted from pound-feet may miss a share by a rounding
    return np.round(at.value("final_torque_nm") / at.limit("screw_torque_nm"), 9)


def _none_made(at: Circumstances) -> Flags:
    found: Flags = at.value("torque_passes") == 0
    return found


def _below_stated(at: Circumstances) -> Flags:
    found: Flags = share_of_torque(at) < 1
    return found


def _low(at: Circumstances) -> Flags:
    found: Flags = share_of_torque(at) < LOW_SHARE
    return found


def _high(at: Circumstances) -> Flags:
    found: Flags = share_of_torque(at) > HIGH_SHARE
    return found


def _a_quarter_low(at: Circumstances) -> Flags:
    """Tell where a quarter of the circle is low, and nobody read that it is not very low."""
    low = at.value("screws_low") >= LOW_SHARE_OF_CIRCLE * screws_on_circle(at.known.units)
    return low & ~(share_of_torque(at) >= VERY_LOW_SHARE)


def _edge_of_torque(share: float) -> Edge:
    return lambda _, limits: share * limits["screw_torque_nm"].to_numpy(dtype=np.float64)


def _edge_of_circle(units: pd.DataFrame, limits: pd.DataFrame) -> Floats:
    del limits
    # between whole numbers of screws, so that none is the edge itself
    return np.ceil(LOW_SHARE_OF_CIRCLE * screws_on_circle(units)) - 0.5


TIGHTENING_RULES = (
    Rule(
        name="no_torque_pass",
        check="torque_passes",
        severity=Severity.HOLD,
        mountings=CLAMPED,
        only_where=_none_made,
        reason="no torque pass made: final torque not reached",
        why="the joint is not clamped",
        action="retorque_in_passes",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="torque_passes_skipped",
        check="torque_passes",
        severity=Severity.CORRECT,
        mountings=CLAMPED,
        reason="torque passes skipped: {value} made, {limit} asked for",
        why="screws brought up at once rob one another of preload; repeat passes even it out",
        action="retorque_in_passes",
        origin=COMMON_PRACTICE,
        limit="torque_passes_required",
    ),
    Rule(
        name="wrong_order",
        check="tightening_order",
        severity=Severity.CORRECT,
        mountings=CLAMPED,
        reason="screws tightened in the wrong order: {value}",
        why="star for a tapered bushing, circular for a shrink disc; the order alone does not "
        "even out the preload, the last passes all round do",
        action="retorque_in_passes",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="final_torque_not_reached",
        check="final_torque_nm",
        severity=Severity.CORRECT,
        mountings=CLAMPED,
        only_where=_low,
        edge=_edge_of_torque(LOW_SHARE),
        reason="final torque not reached: {value} N·m read, {limit} N·m stated",
        why="the joint carries less than it should, and more than a tool's scatter is missing",
        action="retorque_in_passes",
        origin=_TOOLS,
        limit="screw_torque_nm",
    ),
    Rule(
        name="final_torque_barely_reached",
        check="final_torque_nm",
        severity=Severity.WATCH,
        mountings=CLAMPED,
        only_where=_below_stated,
        reason="final torque {value} N·m read, {limit} N·m stated: within the scatter of hand "
        "tools; read it again with a tool that was checked",
        why="hand tools scatter, so the screws may be right or a little low",
        action="",
        origin=_TOOLS,
        limit="screw_torque_nm",
    ),
    Rule(
        name="final_torque_passed",
        check="final_torque_nm",
        severity=Severity.CORRECT,
        mountings=CLAMPED,
        only_where=_high,
        edge=_edge_of_torque(HIGH_SHARE),
        reason="final torque passed: {value} N·m read, {limit} N·m stated, more than hand tools "
        "scatter; new screws",
        why="screws may be stretched and the hub overstressed; no grip is credited for it",
        action="retorque_in_passes",
        origin=_TOOLS,
        limit="screw_torque_nm",
    ),
    Rule(
        name="final_torque_barely_passed",
        check="final_torque_nm",
        severity=Severity.WATCH,
        mountings=CLAMPED,
        reason="final torque {value} N·m read, {limit} N·m stated: within the scatter of hand "
        "tools; read it again with a tool that was checked",
        why="hand tools scatter, so the screws may be right or a little tight",
        action="",
        origin=_TOOLS,
        limit="screw_torque_nm",
    ),
    Rule(
        name="many_screws_low",
        check="screws_low",
        severity=Severity.HOLD,
        mountings=CLAMPED,
        only_where=_a_quarter_low,
        edge=_edge_of_circle,
        reason="clamp screws low or missing: {value}, a quarter of the circle or more",
        why="so many slack screws leave one side of the joint without grip",
        action="retorque_in_passes",
        origin=f"{COMMON_PRACTICE}; how many are many is a {PLANNING_VALUE}",
    ),
    Rule(
        name="screws_low",
        check="screws_low",
        severity=Severity.CORRECT,
        mountings=CLAMPED,
        reason="clamp screws low or missing: {value}",
        why="final torque is not reached all round; the joint carries less than it should",
        action="retorque_in_passes",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="screws_missing",
        check="screws_missing",
        severity=Severity.HOLD,
        mountings=CLAMPED,
        reason="clamp screws missing: {value}",
        why="a part of the circle is not clamped at all, and the disc or flange is bent",
        action="retorque_in_passes",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="screws_not_rechecked",
        check="screws_rechecked",
        severity=Severity.CORRECT,
        mountings=CLAMPED,
        reason="clamp screws not checked again after the first running days",
        why="a joint settles in its first days, and its screws lose preload",
        action="retorque_in_passes",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="collar_gap_off",
        check="collar_gap_mm",
        severity=Severity.CORRECT,
        mountings=(TAPERED_BUSHING,),
        reason="collar gap {value} mm, outside its range by {beyond} mm",
        why="a closed gap takes the torque that should draw the taper up; a wide one says that "
        "the taper was not drawn up",
        action="reset_collar_gap",
        origin=COMMON_PRACTICE,
    ),
    Rule(
        name="disc_off_centre",
        check="disc_offset_mm",
        severity=Severity.CORRECT,
        mountings=SHRINK_DISCS,
        reason="disc {value} mm off the middle of its seat",
        why="the disc clamps beside the shaft it should clamp",
        action="recentre_disc",
        origin=f"{COMMON_PRACTICE}; how far is a {PLANNING_VALUE}",
    ),
)
