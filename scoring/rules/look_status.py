"""What was not seen, is due again, or is only reported cured, of the checks that matter."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scoring.contract import CHECKS, Check
from scoring.limits import UnitLimits
from scoring.limits.join_words import join_words
from scoring.timeline.known import Known, Status

Flags = NDArray[np.bool_]

ALSO_SHOWN_BY = {
    "shaft_end": ("engagement_mm", "required_engagement_mm"),
    "screws_low": ("final_torque_nm", "screw_torque_nm"),
}
"""A critical check is seen as well by this other check where this limit is known."""


@dataclass(frozen=True)
class LookStatus:
    """What nobody has seen lately, for each unit.

    Attributes
    ----------
    not_seen, due_again, reported_cured : ndarray of str, shape (n_units,)
        Names of checks; empty where there is none.
    """

    not_seen: NDArray[np.object_]
    due_again: NDArray[np.object_]
    reported_cured: NDArray[np.object_]

    @property
    def complete(self) -> Flags:
        """Whether every critical check was seen and nothing is to be looked at again."""
        anything = self.not_seen + self.due_again + self.reported_cured
        return np.asarray(anything == "", dtype=bool)


def look_status(known: Known, limits: UnitLimits) -> LookStatus:
    """Tell what was not seen, is due again, or is only reported cured.

    Parameters
    ----------
    known : Known
        What was known of the units in service.
    limits : UnitLimits
        The limits of these units.

    Returns
    -------
    LookStatus
    """
    size = len(known.units)
    not_seen, due, cured = [], [], []
    for check in CHECKS:
        if check.critical_for:
            not_seen.append((never_seen(check, known, limits), check.label))
            due.append((seen_too_long_ago(check, known), check.label))
        if not check.optional:
            status = known.status[check.name].to_numpy()
            asks = known.having(check) & (status == Status.REPORTED_CURED)
            cured.append((asks, check.label))
    return LookStatus(join_words(not_seen, size), join_words(due, size), join_words(cured, size))


def never_seen(check: Check, known: Known, limits: UnitLimits) -> Flags:
    """Tell where a critical check was never seen, by itself or by another.

    Returns
    -------
    ndarray of bool, shape (n_units,)
    """
    unseen = known.status[check.name].to_numpy() == Status.NOT_SEEN
    critical = known.mounted(check.critical_for)
    found: Flags = critical & unseen & ~_shown_otherwise(check.name, known, limits)
    return found


def seen_too_long_ago(check: Check, known: Known) -> Flags:
    """Tell where a critical check was seen good so long ago that it is to be seen again.

    Returns
    -------
    ndarray of bool, shape (n_units,)
    """
    if check.due_after_days is None:
        return np.zeros(len(known.units), dtype=bool)
    critical = known.mounted(check.critical_for)
    age = np.datetime64(known.as_of, "s") - known.seen_on[check.name].to_numpy()
    old = age >= np.timedelta64(check.due_after_days + 1, "D")
    seen = known.status[check.name].to_numpy() == Status.SEEN
    good = known.exceedance[check.name].to_numpy() == 0
    found: Flags = critical & seen & old & good
    return found


def _shown_otherwise(check: str, known: Known, limits: UnitLimits) -> Flags:
    if check not in ALSO_SHOWN_BY:
        return np.zeros(len(known.units), dtype=bool)
    other, limit = ALSO_SHOWN_BY[check]
    seen = known.status[other].to_numpy() == Status.SEEN
    shown: Flags = seen & limits.table[limit].notna().to_numpy()
    return shown
