"""From the states of effects to what a look at a check would find."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.assumed_sizes import USUAL_AMBIENT_C
from scoring.consequences.states_of_the_arm import STATES_OF_THE_ARM, ArmState
from scoring.contract import CHECK_BY_NAME, Check
from scoring.handbook.condition import Condition, Evidence
from scoring.handbook.multipliers import CONDITIONS
from scoring.handbook.states import SHARE_OF_ONE_LOW_SCREW
from scoring.limits import assumptions
from scoring.records import has_mounting

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Shown:
    """What a look at a check shows.

    Attributes
    ----------
    check : str
        The check.
    shows : str
        Name of a condition, or of a state of the torque arm; several checks may show the same.
    effect : Condition or ArmState
        The condition, or the state of the arm.
    """

    check: str
    shows: str
    effect: Condition | ArmState

    @property
    def states(self) -> Floats:
        """States [unit of the effect] that a look may find, the good one first."""
        effect = self.effect
        return np.array(effect.states if isinstance(effect, Condition) else effect.spread.points)

    @property
    def usual(self) -> Floats:
        """How usual [-] each is by the handbook."""
        effect = self.effect
        return np.array(effect.usual if isinstance(effect, Condition) else effect.spread.shares)

    @property
    def checks(self) -> tuple[str, ...]:
        """All checks that show it."""
        return self.effect.checks if isinstance(self.effect, Condition) else (self.check,)

    @property
    def mountings(self) -> tuple[str, ...]:
        """The mountings that have it."""
        have = CHECK_BY_NAME[self.check].mountings
        if not isinstance(self.effect, Condition):
            return have
        return tuple(m for m in have if m in self.effect.mountings)

    def state(self, evidence: Evidence) -> Floats:
        """Return the state that was seen of each unit [unit of the effect], else missing."""
        if isinstance(self.effect, Condition):
            return self.effect.state(evidence)
        return self.effect.of(evidence.known)

    @property
    def only_where(self) -> str:
        """The column of ``units`` that has to say yes; may be empty."""
        return CHECK_BY_NAME[self.check].only_where


SHOWN_BY_LOOKS: tuple[Shown, ...] = (
    *(Shown(check, one.name, one) for one in CONDITIONS for check in one.checks),
    *(Shown(arm.check, arm.name, arm) for arm in STATES_OF_THE_ARM),
)
"""Everything that looks show, of which the handbook says how usual it is.

Not among it: ``guard``, which changes no hazard; what bears on the grip alone; and
``isolator_squeeze_mm``, of whose faults the handbook has no share of their own: that the rubber is
clamped is shown by ``isolators_free``.
"""

Found = Callable[[Floats, pd.DataFrame, pd.DataFrame], Floats]


def values_found(
    shown: Shown, state: Floats, limits: pd.DataFrame, units: pd.DataFrame
) -> NDArray[np.object_]:
    """Return what a look finds where the effect that it shows is in a state.

    Parameters
    ----------
    shown : Shown
        The check, and the effect that it shows.
    state : ndarray, shape (n_rows,)
        States of the effect, or of the torque arm. [unit of the effect]
    limits, units : DataFrame, shape (n_rows, ...)
        Limits and nameplate of each row's unit.

    Returns
    -------
    ndarray of object, shape (n_rows,)
        Words or numbers as in the table of walkdowns; missing where a limit is not known, or which
        word or number stands for which state, so that a look at this check would not tell.

    Examples
    --------
    >>> breather = next(one for one in SHOWN_BY_LOOKS if one.check == "breather")
    >>> values_found(breather, np.array([0.0, 1.0]), pd.DataFrame(), pd.DataFrame()).tolist()
    ['open', 'plugged']
    """
    check, declared = shown.check, CHECK_BY_NAME[shown.check]
    if declared.is_numeric:
        numbers = pd.Series(_NUMBERS.get(check, _not_told)(state, limits, units), dtype=object)
        told: NDArray[np.object_] = numbers.where(numbers.notna(), None).to_numpy(dtype=object)
        return told
    found = _CODES.get(check)
    if found is None and isinstance(shown.effect, Condition) and shown.effect.unit:
        # The states are no steps down the words, and nobody has said which is which.
        return np.full(len(state), None, dtype=object)
    code = found(state, limits, units) if found else _by_mounting(declared, state, limits)
    words: NDArray[np.object_] = np.array(declared.allowed, dtype=object)[code.astype(np.int64)]
    return words


def _as_it_is(state: Floats, limits: pd.DataFrame, units: pd.DataFrame) -> Floats:
    del limits, units
    return state


def _not_told(state: Floats, limits: pd.DataFrame, units: pd.DataFrame) -> Floats:
    """Tell nothing of a check of which nobody has said what number stands for which state."""
    del limits, units
    return np.full(len(state), np.nan)


def _beyond(good: float, edge: float, step: float) -> Found:
    """Go from a limit one way where anything is wrong; else take a good value."""
    return lambda state, _limits, _units: np.where(state > 0, edge + step * state, good)


def _limit(limits: pd.DataFrame, name: str) -> Floats:
    values: Floats = limits[name].to_numpy(dtype=np.float64)
    return values


def _engagement(state: Floats, limits: pd.DataFrame, units: pd.DataFrame) -> Floats:
    del units
    return _limit(limits, "required_engagement_mm") * (1 - state)


def _diameter(state: Floats, limits: pd.DataFrame, units: pd.DataFrame) -> Floats:
    del units
    low, high = _limit(limits, "shaft_low_mm"), _limit(limits, "shaft_high_mm")
    return np.where(state > 0, low - state, (low + high) / 2)


def _passes(state: Floats, limits: pd.DataFrame, units: pd.DataFrame) -> Floats:
    del units
    return np.maximum(_limit(limits, "torque_passes_required") - state, 0.0)


def _final_torque(state: Floats, limits: pd.DataFrame, units: pd.DataFrame) -> Floats:
    del units
    share = np.where(state > 0, assumptions.LEAST_TORQUE_SHARE.value - state, 1.0)
    return _limit(limits, "screw_torque_nm") * share


def _collar_gap(state: Floats, limits: pd.DataFrame, units: pd.DataFrame) -> Floats:
    del units
    low, high = _limit(limits, "collar_gap_min_mm"), _limit(limits, "collar_gap_max_mm")
    return np.where(state > 0, high + state, (low + high) / 2)


def _temperature(state: Floats, limits: pd.DataFrame, units: pd.DataFrame) -> Floats:
    del limits
    ambient: Floats = units["ambient_c"].fillna(USUAL_AMBIENT_C).to_numpy(dtype=np.float64)
    return ambient + state


_NUMBERS: dict[str, Found] = {
    "engagement_mm": _engagement,
    "shaft_diameter_measured_mm": _diameter,
    "shaft_runout_mm": _as_it_is,
    "torque_passes": _passes,
    "final_torque_nm": _final_torque,
    "screws_low": lambda state, _limits, _units: np.rint(state / SHARE_OF_ONE_LOW_SCREW),
    "collar_gap_mm": _collar_gap,
    "disc_offset_mm": _beyond(0.0, assumptions.MOST_DISC_OFFSET.value, 1.0),
    "isolators_free": lambda state, _limits, _units: 1 - state,
    "smallest_clearance_mm": _beyond(
        assumptions.LEAST_CLEARANCE.value, assumptions.LEAST_CLEARANCE.value, -1.0
    ),
    "arm_misset_mm": _as_it_is,
    "arm_angle_deg": _beyond(90.0, assumptions.LEAST_ANGLE.value, -1.0),
    "running_temperature_c": _temperature,
    "vibration_mm_s": _as_it_is,
}


def _by_mounting(check: Check, state: Floats, limits: pd.DataFrame) -> Floats:
    """Go down the list, which on some mountings begins with another word."""
    steps = state.astype(np.int64)
    code = state
    for mounting in check.right_on:
        codes = np.array([check.allowed.index(word) for word in check.words_on(mounting)], float)
        code = np.where(has_mounting(limits, (mounting,)), codes[steps], code)
    return code


_CODES: dict[str, Found] = {
    "shaft_end": lambda state, _limits, _units: (state > 0).astype(np.float64),
}
