"""How far a found value lies beyond what is good: 0 is good, more is worse.

One definition serves the rules (a finding is an exceedance above 0), the timeline (a hanging check
cannot get better by being looked at) and accepted findings (which lapse when it gets worse).
"""

from collections.abc import Callable

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract import CHECKS, Check, Worse
from scoring.limits import assumptions
from scoring.records import has_mounting

Floats = NDArray[np.float64]

SMALLEST = 1e-9
"""What lies beyond a limit by less is a rounding of the machine's arithmetic."""


def walkdown_exceedance(walkdowns: pd.DataFrame, limits: pd.DataFrame) -> pd.DataFrame:
    """Return how bad each value of each walkdown is.

    Parameters
    ----------
    walkdowns : DataFrame, shape (n_rows, ...)
        Columns of the checks.
    limits : DataFrame, shape (n_rows, n_limits)
        Limits of the unit of each row.

    Returns
    -------
    DataFrame, shape (n_rows, n_checks)
        In the unit of the check, or steps down its list of words; missing where the check was
        not seen. What cannot be judged, as a needed limit is not known, is 0.
    """
    columns = {}
    for check in CHECKS:
        given = walkdowns[check.name]
        values = _codes(given) if check.worse in _BY_WORD else given.to_numpy(dtype=np.float64)
        bad = exceedance_of(check, values, limits)
        bad = np.where(bad > SMALLEST, bad, 0.0)  # missing is above nothing
        columns[check.name] = np.where(np.isnan(values), np.nan, bad)
    return pd.DataFrame(columns, index=walkdowns.index, copy=False)


_BY_WORD = (Worse.LATER_IN_LIST, Worse.BY_MOUNTING)


def _codes(words: "pd.Series[str]") -> Floats:
    codes = words.cat.codes.to_numpy().astype(np.float64)
    return np.where(codes < 0, np.nan, codes)


def exceedance_of(check: Check, values: Floats, limits: pd.DataFrame) -> Floats:
    """Return how far values of one check lie beyond what is good; below 0 is a margin."""
    if check.worse is Worse.LATER_IN_LIST:
        return values
    if check.worse is Worse.BY_MOUNTING:
        return _exceedance_by_mounting(check, values, limits)
    return _BEYOND.get(check.name, _nothing_is_said)(values, limits)


def _exceedance_by_mounting(check: Check, values: Floats, limits: pd.DataFrame) -> Floats:
    """Count steps down the list, which on some mountings begins with another word."""
    code = np.nan_to_num(values).astype(np.int64)
    bad = code.astype(np.float64)
    for mounting in check.right_on:
        steps = [check.words_on(mounting).index(word) for word in check.allowed]
        bad = np.where(has_mounting(limits, (mounting,)), np.array(steps, float)[code], bad)
    return np.where(np.isnan(values), np.nan, bad)


def _above(limit: float) -> Callable[[Floats, pd.DataFrame], Floats]:
    return lambda values, _: values - limit


def _below(limit: float) -> Callable[[Floats, pd.DataFrame], Floats]:
    return lambda values, _: limit - values


def _column(limits: pd.DataFrame, name: str) -> Floats:
    return limits[name].to_numpy(dtype=np.float64)


def _outside(low: str, high: str) -> Callable[[Floats, pd.DataFrame], Floats]:
    return lambda values, limits: np.fmax(
        _column(limits, low) - values, values - _column(limits, high)
    )


def _away_from_torque(values: Floats, limits: pd.DataFrame) -> Floats:
    stated = _column(limits, "screw_torque_nm")
    low = assumptions.LEAST_TORQUE_SHARE.value * stated
    high = assumptions.MOST_TORQUE_SHARE.value * stated
    return np.fmax(low - values, values - high)


def _no_isolator_turns(values: Floats, limits: pd.DataFrame) -> Floats:
    del limits
    return 1.0 - values


def _too_little_shaft(values: Floats, limits: pd.DataFrame) -> Floats:
    """Hold it against what the manual asks for, else against what is usual for the mounting."""
    required = _column(limits, "required_engagement_mm")
    return np.fmax(required, _column(limits, "usual_engagement_mm")) - values


def _nothing_is_said(values: Floats, limits: pd.DataFrame) -> Floats:
    """Leave a measured check unjudged of which nobody has said what is good."""
    del limits
    return np.full(len(values), np.nan)


def _squeezed(values: Floats, limits: pd.DataFrame) -> Floats:
    return values - assumptions.SQUEEZE_SHARE.value * _column(limits, "isolator_thickness_mm")


_BEYOND: dict[str, Callable[[Floats, pd.DataFrame], Floats]] = {
    "engagement_mm": _too_little_shaft,
    "shaft_diameter_measured_mm": _outside("shaft_low_mm", "shaft_high_mm"),
    "shaft_runout_mm": _above(assumptions.MOST_RUNOUT.value),
    "torque_passes": lambda values, limits: _column(limits, "torque_passes_required") - values,
    "final_torque_nm": _away_from_torque,
    "screws_low": _above(0),
    "screws_missing": _above(0),
    "collar_gap_mm": _outside("collar_gap_min_mm", "collar_gap_max_mm"),
    "disc_offset_mm": _above(assumptions.MOST_DISC_OFFSET.value),
    "isolators_free": _no_isolator_turns,
    "isolator_squeeze_mm": _squeezed,
    "smallest_clearance_mm": _below(assumptions.LEAST_CLEARANCE.value),
    "arm_misset_mm": _above(assumptions.MOST_MISSET.value),
    "arm_angle_deg": _below(assumptions.LEAST_ANGLE.value),
    "running_temperature_c": _above(assumptions.MOST_TEMPERATURE.value),
    "vibration_mm_s": _above(assumptions.MOST_VIBRATION.value),
}
