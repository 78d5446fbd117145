"""What an effect is: a state that can be found, how usual it is, and what it does to hazards."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scoring.contract import CHECK_BY_NAME, Worse
from scoring.contract.events import JOINT_SLIP, LOW_SPEED_BEARING, SEAL_LEAK
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.handbook import held_arm_effect
from scoring.limits import UnitLimits
from scoring.limits.assumptions import PLANNING_VALUE
from scoring.timeline.known import Known

Floats = NDArray[np.float64]


def both(
    bearing: tuple[float, ...], seal: tuple[float, ...], slip: tuple[float, ...] | None = None
) -> dict[str, tuple[float, ...]]:
    """Return the multipliers of both parts' failures, as an effect wants them, and of a joint slip.

    Parameters
    ----------
    bearing, seal : tuple of float
        Of a low-speed bearing and of a seal, one for each state. [-]
    slip : tuple of float, optional
        Of a joint that slips; by default the state does nothing to it. [-]

    Examples
    --------
    >>> both((1, 2), (1, 3))
    {'low_speed_bearing': (1, 2), 'seal_leak': (1, 3), 'joint_slip': (1.0, 1.0)}
    """
    nothing = tuple(1.0 for _ in bearing)
    slips = nothing if slip is None else slip
    return {LOW_SPEED_BEARING: bearing, SEAL_LEAK: seal, JOINT_SLIP: slips}


@dataclass(frozen=True)
class Evidence:
    """What an effect may look at; everything in the order of ``known.units``."""

    known: Known
    limits: UnitLimits

    def exceedance(self, check: str) -> Floats:
        """Return how far a check lies beyond good; missing where not seen."""
        values: Floats = self.known.exceedance[check].to_numpy(dtype=np.float64)
        return values

    def value(self, check: str) -> Floats:
        """Return the value of a measured check; missing where not seen."""
        values: Floats = self.known.found[check].to_numpy(dtype=np.float64)
        return values

    def limit(self, name: str) -> Floats:
        """Return a limit of each unit."""
        values: Floats = self.limits.table[name].to_numpy(dtype=np.float64)
        return values


@dataclass(frozen=True, kw_only=True)
class Effect:
    """How a state multiplies the hazard of each failure.

    Between two states the logarithm of the multiplier is interpolated; beyond the last it stays.

    Attributes
    ----------
    name : str
        By which it is traced.
    label : str
        What a person calls it.
    checks : tuple of str
        The checks that show it.
    state : callable
        From evidence to the state at each unit, missing where not seen. [unit]
    unit : str
        Unit of the states; empty for steps down a list of words.
    states : tuple of float
        Rising; the first is good. [unit]
    usual : tuple of float
        How often each is met where nobody has looked. [-]
    multipliers : dict of str to tuple of float
        For each failure, the hazard in each state over that in the good one, never falling. [-]
    uncertainty : float
        Standard deviation of the logarithm of a multiplier over that logarithm. [-]
    origin : str
        Where the multipliers come from.
    mountings : tuple of str
        The mountings that have it.
    share_with : float
        Share of these units that have what its checks look at; planning value of ours. [-]
    """

    name: str
    label: str
    checks: tuple[str, ...]
    state: Callable[[Evidence], Floats]
    unit: str
    states: tuple[float, ...]
    usual: tuple[float, ...]
    multipliers: dict[str, tuple[float, ...]]
    uncertainty: float = 0.5
    origin: str = PLANNING_VALUE
    mountings: tuple[str, ...] = EVERY_MOUNTING
    share_with: float = 1.0

    @property
    def only_where(self) -> str:
        """The column of ``units`` that has to say yes, as its checks have it."""
        return CHECK_BY_NAME[self.checks[0]].only_where

    def __post_init__(self) -> None:
        """Refuse an effect by which a worse state could lower a risk."""
        rising = [self.states, *self.multipliers.values()]
        if any(np.any(np.diff(values) < 0) for values in rising):
            raise ValueError(f"{self.name}: states and multipliers never fall")
        if any(values[0] != 1 for values in self.multipliers.values()):
            raise ValueError(f"{self.name}: the good state multiplies by 1")
        if abs(sum(self.usual) - 1) > 1e-9:
            raise ValueError(f"{self.name}: the usual shares add up to 1")
        if {len(values) for values in (*rising, self.usual)} != {len(self.states)}:
            raise ValueError(f"{self.name}: one share and one multiplier for each state")
        words = CHECK_BY_NAME[self.checks[0]].allowed
        if words and not self.unit and not set(self.states) <= set(range(len(words))):
            raise ValueError(
                f"{self.name}: without a unit the states are steps down the words of "
                f"{self.checks[0]}, 0 to {len(words) - 1}; given were "
                f"{', '.join(f'{state:g}' for state in self.states)}"
            )

    def log_multiplier(self, mode: str, state: Floats) -> Floats:
        """Return the logarithm of the multiplier in each state, missing where not seen."""
        logs = np.log(self.multipliers[mode])
        return np.interp(state, self.states, logs)

    def state_words(self, state: float) -> str:
        """Say a state as a person would: the word of its check, or the number with its unit.

        Examples
        --------
        >>> from scoring.handbook.effects_of_the_arm import EFFECTS_OF_THE_HOUSING
        >>> EFFECTS_OF_THE_HOUSING[0].state_words(1)
        'plugged'
        """
        check = CHECK_BY_NAME[self.checks[0]]
        if self.unit or not check.allowed:
            return f"{state:.3g} {self.unit}".strip()
        place = round(state)
        if check.worse is Worse.BY_MOUNTING and place < len(check.allowed) - 1:
            return "wrong pattern" if place else "right"
        return check.allowed[place].replace("_", " ")

    def usual_mean_and_square(self, mode: str) -> tuple[float, float]:
        """Return mean and mean square of the multiplier where nobody has looked."""
        return mean_and_mean_square(np.array(self.multipliers[mode]), np.array(self.usual))

    def mean_and_square_if_faulty(self, mode: str) -> tuple[float, float]:
        """Return mean and mean square of the multiplier given that the state is not good."""
        shares = np.array(self.usual[1:])
        return mean_and_mean_square(np.array(self.multipliers[mode][1:]), shares / shares.sum())


def one_effect_a_check(effects: tuple[Effect, ...]) -> tuple[Effect, ...]:
    """Return the effects; refuse two that rest on one check at one mounting.

    What a look finds would count twice, once for each. What shows how a torque arm is held
    or forced has its effect already, the held arm's.

    Parameters
    ----------
    effects : tuple of Effect
        All of the handbook that are shown by words and numbers.

    Returns
    -------
    tuple of Effect

    Raises
    ------
    ValueError
        If there are two; join them in one state.
    """
    shown = [
        (check, mounting, effect.name)
        for effect in effects
        for check in effect.checks
        for mounting in effect.mountings
    ]
    names = {
        (check, mounting): held_arm_effect.NAME
        for check in held_arm_effect.CHECKS
        for mounting in EVERY_MOUNTING
    }
    for check, mounting, name in shown:
        other = names.setdefault((check, mounting), name)
        if other != name:
            raise ValueError(
                f"{check} at {mounting} shows {other} and {name}; join them in one effect"
            )
    return effects


def mean_and_mean_square(multipliers: Floats, shares: Floats) -> tuple[float, float]:
    """Return mean and mean square of a multiplier that is spread over states."""
    return float(shares @ multipliers), float(shares @ multipliers**2)
