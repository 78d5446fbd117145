"""Rules on a computed value: a friction joint whose grip may not carry its peak torque.

A ratio found low has a cure. A margin that is low though the joint is as it should be says that
what is on record of rating or torque is too low, too high or assumed, and is to be watched.
"""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.joint_grip import JointGrip
from scoring.contract.mountings import CLAMPED
from scoring.limits.assumptions import PLANNING_VALUE
from scoring.rules.cure_of_a_finding import name_cures
from scoring.rules.rule import Circumstances, Rule, Severity
from scoring.rules.tightening import VERY_LOW_SHARE, share_of_torque
from scoring.timeline.known import Known

LEAST_MARGIN = 1.2
"""Slip margin from which on nothing is said of it; the low end of what is asked of a press fit, 1.2
to 1.5, from memory. [-]"""

AS_IT_SHOULD_BE = 0.9
"""Capacity as found over as specified from which on there is little to cure; planning value of
ours. [-]"""

_CALCULATED = "our own calculation"

SLIP_RULE = Rule(
    name="joint_slips",
    check="slip_margin",
    severity=Severity.HOLD,
    mountings=CLAMPED,
    reason="joint slips: it carries at most {value} of its peak torque",
    why="it slips at every peak: bore and shaft score, and the unit turns on its shaft",
    action="",
    origin=f"{_CALCULATED}; a hold only where the upper end of its 90 % interval is below 1",
)
"""The rules here judge a computed value, so they stand beside the rulebook; the action depends on
the cause."""

NO_GRIP_RULE = Rule(
    name="grip_not_relied_on",
    check="slip_margin",
    severity=Severity.HOLD,
    mountings=CLAMPED,
    reason="grip cannot be relied on for any torque: {value}",
    why="next to nothing is left of what the joint should carry, and how much cannot be said",
    action="",
    origin=f"{_CALCULATED}; from how little on nothing is relied on is a {PLANNING_VALUE}",
)
SLIPS_AS_READ_RULE = Rule(
    name="joint_slips_by_torque_read",
    check="slip_margin",
    severity=Severity.HOLD,
    mountings=CLAMPED,
    reason="joint may slip: by the torque read it carries {value} of its peak torque",
    why="a torque far below the stated one and a margin below 1 say the same",
    action="",
    origin=f"{_CALCULATED}; the share of the torque is a {PLANNING_VALUE}",
)
MAY_SLIP_RULE = Rule(
    name="joint_may_slip",
    check="slip_margin",
    severity=Severity.CORRECT,
    mountings=CLAMPED,
    reason="joint may slip: it carries {value} of its peak torque, and {ratio} of what it should",
    why="it may slip at peaks, and something found at it takes part of its grip",
    action="",
    origin=f"{_CALCULATED}; from which ratio on is a {PLANNING_VALUE}",
)
LITTLE_MARGIN_RULE = Rule(
    name="little_slip_margin",
    check="slip_margin",
    severity=Severity.WATCH,
    mountings=CLAMPED,
    reason="slip margin {value}: {record}",
    why="little or nothing is left between what the joint is said to carry and what it has to",
    action="",
    origin=f"{_CALCULATED}; the margin of 1.2 from memory",
)
SLIP_RULES = (NO_GRIP_RULE, SLIP_RULE, SLIPS_AS_READ_RULE, MAY_SLIP_RULE, LITTLE_MARGIN_RULE)

CURES = {
    "friction": "clean_and_refit",
    "preload": "retorque_in_passes",
    "fit": "renew_shaft",
    "engagement": "reseat_on_shaft",
    "offset": "recentre_disc",
}
"""The cure for what takes most of the capacity, by the names of ``JointGrip.factors``."""

SHOWN_BY = {
    "friction": ("bore_condition",),
    "preload": (
        "torque_passes",
        "tightening_order",
        "final_torque_nm",
        "screws_low",
        "screws_missing",
    ),
    "fit": ("shaft_diameter_measured_mm",),
    "engagement": ("engagement_mm", "shaft_end"),
    "offset": ("disc_offset_mm",),
}
"""The checks one of which must have found something before that is cured, by the same names."""

CAUSES = {
    "": "nothing that was found says why; look at the joint",
    "friction": "the surface in the bore takes it",
    "preload": "the screws hardly pull",
    "fit": "the screws hardly close the bore on so thin a shaft",
    "engagement": "the shaft does not reach through the disc",
    "offset": "the disc sits beside its seat",
}
"""Why there is no grip, by the same names."""

TO_ENTER = {
    "joint_rated_torque_nm": "the rating is estimated from the screws",
    "output_torque_nm": "the running torque is assumed",
    "peak_factor": "the peak is assumed",
}
"""Columns that a margin rests on, and what is said where they are blank."""

ENTERED_AS = {
    "joint_rated_torque_nm": "rated torque of the joint",
    "output_torque_nm": "running torque",
    "peak_factor": "peak over running torque",
}
"""The same columns, as a person calls them."""


def slip_findings(grip: JointGrip, at: Circumstances) -> pd.DataFrame:
    """Return a finding for each joint whose margin is low, or cannot be relied on.

    Parameters
    ----------
    grip : JointGrip
        Slip margins of the same units.
    at : Circumstances
        What was known of them.

    Returns
    -------
    DataFrame
        Rows as ``scoring.rules.findings`` makes them, one for a unit at the most.
    """
    severity_of = {rule.name: int(rule.severity) for rule in SLIP_RULES}
    cause = causes_of(grip, at.known)
    rule = np.select(
        [
            ~grip.relied_on & (grip.factors["engagement"] > 0),
            grip.high < 1,
            (grip.margin < 1) & (share_of_torque(at) < VERY_LOW_SHARE),
            (grip.margin < 1) & (grip.ratio < AS_IT_SHOULD_BE) & (cause != ""),
            grip.margin < LEAST_MARGIN,
        ],
        [one.name for one in SLIP_RULES],
        "",
    )
    unit = np.flatnonzero(rule != "")
    rule, cause = rule[unit].astype(object), cause[unit]
    watched = rule == LITTLE_MARGIN_RULE.name
    usual = np.array([CURES.get(name, "") for name in cause], dtype=object)
    asked = pd.DataFrame({"unit": unit, "check": SLIP_RULE.check, "action": usual})
    cures = name_cures(asked, at.known)["do"].to_numpy(dtype=object)
    named = np.where((grip.ratio[unit] < AS_IT_SHOULD_BE) & (cause != ""), cures, "")
    return pd.DataFrame(
        {
            "unit": unit,
            "unit_id": at.known.units["unit_id"].to_numpy(dtype=object)[unit],
            "check": np.full(len(unit), SLIP_RULE.check, dtype=object),
            "rule": rule,
            "severity": np.array([severity_of[name] for name in rule], dtype=np.int64),
            "exceedance": LEAST_MARGIN - np.nan_to_num(grip.margin[unit]),
            "seen_on": np.full(len(unit), np.datetime64("NaT", "s")),
            "reason": _reasons(grip, unit, rule, cause, named),
            "action": np.where(watched, "", usual).astype(object),
        }
    )


def causes_of(grip: JointGrip, known: Known) -> NDArray[np.object_]:
    """Name what takes most of the grip at each unit, of what somebody found.

    Parameters
    ----------
    grip : JointGrip
        Slip margins.
    known : Known
        What was known of the same units.

    Returns
    -------
    ndarray of str, shape (n_units,)
        Names of ``JointGrip.factors``; empty where nothing was found that takes any: no re-work
        then brings back what is missing.
    """
    left = [
        np.where(_any_found(known, SHOWN_BY[name]), grip.factors[name], np.inf) for name in CURES
    ]
    names: NDArray[np.object_] = np.array([*CURES, ""], dtype=object)
    nothing = np.full(len(known.units), np.finfo(np.float64).max)
    causes: NDArray[np.object_] = names[np.argmin([*left, nothing], axis=0)]
    return causes


def _any_found(known: Known, checks: tuple[str, ...]) -> NDArray[np.bool_]:
    found = np.zeros(len(known.units), dtype=bool)
    for check in checks:  # to fetch a frame of several columns costs ten times that
        found |= known.exceedance[check].to_numpy() > 0
    return found


def _reasons(
    grip: JointGrip,
    unit: NDArray[np.intp],
    rule: NDArray[np.object_],
    cause: NDArray[np.object_],
    named: NDArray[np.object_],
) -> NDArray[np.object_]:
    """Write the reason at each unit that has a finding: few, so one by one."""
    blank = [
        [
            column
            for column in TO_ENTER
            if column in grip.not_on_record and grip.not_on_record[column][n]
        ]
        for n in unit
    ]
    said = []
    for n, name, why, columns, cure in zip(unit, rule, cause, blank, named, strict=True):
        words = _WORDS[name]
        share = (grip.high if name == SLIP_RULE.name else grip.margin)[n]
        value = CAUSES[why] if name == NO_GRIP_RULE.name else _said(share)
        said.append(
            words.replace("{value}", value)
            .replace("{ratio}", _said(grip.ratio[n]))
            .replace("{record}", _record(columns, cure))
        )
    return np.array(said, dtype=object)


def _said(share: float) -> str:
    """Write a share with two digits, but a small one never as nothing.

    Examples
    --------
    >>> _said(0.8), _said(0.0023)
    ('0.80', '0.002')
    """
    return f"{share:.2f}" if share >= 0.095 else f"{share:.1g}"


_WORDS = {rule.name: rule.reason for rule in SLIP_RULES}


def _record(blank: list[str], cure: str) -> str:
    """Say what on record makes a margin low, and what to enter or to cure."""
    if blank:
        *more, last = (TO_ENTER[column] for column in blank)
        assumed = f"{', '.join(more)} and {last}" if more else last
        words = f"{assumed}; enter {', '.join(ENTERED_AS[column] for column in blank)}"
    else:
        on_record = ", ".join(ENTERED_AS.values())
        words = f"the rating on record is low or the torque high; check {on_record}"
    return f"{words}; cure: {cure}" if cure else words
