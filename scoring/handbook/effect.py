"""What an effect is: a state that can be found, how usual it is, and what it does to hazards."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scoring.contract.events import JOINT_SLIP, LOW_SPEED_BEARING, SEAL_LEAK
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.handbook import held_arm_effect
from scoring.handbook.condition import Condition
from scoring.limits.assumptions import PLANNING_VALUE

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


@dataclass(frozen=True, kw_only=True)
class Effect(Condition):
    """How a state multiplies the hazard of each failure.

    Between two states the logarithm of the multiplier is interpolated; beyond the last it stays.

    Attributes
    ----------
    multipliers : dict of str to tuple of float
        For each failure, the hazard in each state over that in the good one, never falling. [-]
    uncertainty : float
        Standard deviation of the logarithm of a multiplier over that logarithm. [-]
    origin : str
        Where the multipliers come from.
    """

    multipliers: dict[str, tuple[float, ...]]
    uncertainty: float = 0.5
    origin: str = PLANNING_VALUE

    def __post_init__(self) -> None:
        """Refuse an effect by which a worse state could lower a risk."""
        Condition.__post_init__(self)
        of_modes = self.multipliers.values()
        if any(np.any(np.diff(values) < 0) for values in of_modes):
            raise ValueError(f"{self.name}: states and multipliers never fall")
        if any(values[0] != 1 for values in of_modes):
            raise ValueError(f"{self.name}: the good state multiplies by 1")
        if {len(values) for values in of_modes} != {len(self.states)}:
            raise ValueError(f"{self.name}: one share and one multiplier for each state")

    def log_multiplier(self, mode: str, state: Floats) -> Floats:
        """Return the logarithm of the multiplier in each state, missing where not seen."""
        logs = np.log(self.multipliers[mode])
        return np.interp(state, self.states, logs)

    def usual_mean_and_square(self, mode: str) -> tuple[float, float]:
        """Return mean and mean square of the multiplier where nobody has looked."""
        return mean_and_mean_square(np.array(self.multipliers[mode]), np.array(self.usual))

    def mean_and_square_if_faulty(self, mode: str) -> tuple[float, float]:
        """Return mean and mean square of the multiplier given that the state is not good."""
        shares = np.array(self.usual[1:])
        return mean_and_mean_square(np.array(self.multipliers[mode][1:]), shares / shares.sum())


def refuse_two_of_one_check(conditions: Iterable[Condition]) -> None:
    """Refuse two conditions that rest on one check at one mounting.

    What a look finds would count twice, once for each. What shows how a torque arm is held
    or forced has its effect already, the held arm's.

    Parameters
    ----------
    conditions : iterable of Condition
        All of the handbook that are shown by words and numbers.

    Raises
    ------
    ValueError
        If there are two; join them in one state.
    """
    shown = [
        (check, mounting, condition.name)
        for condition in conditions
        for check in condition.checks
        for mounting in condition.mountings
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


def mean_and_mean_square(multipliers: Floats, shares: Floats) -> tuple[float, float]:
    """Return mean and mean square of a multiplier that is spread over states."""
    return float(shares @ multipliers), float(shares @ multipliers**2)
