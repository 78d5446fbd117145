"""The cones of clamp joints as they may be: greased or dry, steep or shallow, free or held.

Nobody records a cone, and what it makes of the pull of its screws varies by a factor of two to
four, so it is a declared distribution. A bushing that the shaft takes with it and one that is held
against a collar are bounds; either counts half.
"""

from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray

from scoring.mechanics.friction_coefficients import BORE_FRICTION
from scoring.mechanics.wedge import (
    BUSHING_CONE_FRICTION,
    BUSHING_HALF_ANGLE,
    CONE_FRICTION,
    CONE_HALF_ANGLE,
    radial_force,
    radial_force_when_held,
)

Floats = NDArray[np.float64]
Shares = tuple[tuple[float, float], ...]
"""Values, each with its share."""

DRY = BORE_FRICTION["clean and dry"].typical
"""Friction in a bore as specified. [-]"""

DISC_ANGLES: Shares = (
    (CONE_HALF_ANGLE.low, 0.25),
    (CONE_HALF_ANGLE.typical, 0.5),
    (CONE_HALF_ANGLE.high, 0.25),
)
DISC_FRICTIONS: Shares = ((CONE_FRICTION.typical, 0.8), (CONE_FRICTION.high, 0.2))
BUSHING_ANGLES: Shares = ((BUSHING_HALF_ANGLE.typical, 0.5), (BUSHING_HALF_ANGLE.high, 0.5))
BUSHING_FRICTIONS: Shares = (
    (BUSHING_CONE_FRICTION.typical, 0.75),
    (BUSHING_CONE_FRICTION.low, 0.25),
)
BUSHING_HELD: Shares = ((0.0, 0.5), (1.0, 0.5))
"""Half angles [rad], friction on the cone [-] (first as it comes: a disc greased, a bushing dry),
and whether the bushing is held; the shares are planning values of ours."""


@dataclass(frozen=True)
class Cones:
    """The cones that joints of one kind may have.

    Attributes
    ----------
    half_angle, friction, share : ndarray, shape (n_states,)
        Angle to the axis [rad], friction on the cone [-], how often such a cone is met [-].
    held : ndarray of bool, shape (n_states,)
        Whether the cone slides on the shaft as well.
    """

    half_angle: Floats
    friction: Floats
    held: NDArray[np.bool_]
    share: Floats

    def force(self, bore_friction: float) -> Floats:
        """Return the radial force of each cone over the pull of its screws [-].

        Examples
        --------
        >>> BUSHING_CONES.force(0.15)[:2].round(2).tolist()
        [5.49, 3.01]
        """
        free = radial_force(1.0, self.half_angle, self.friction)
        held = radial_force_when_held(1.0, self.half_angle, self.friction, bore_friction)
        return np.where(self.held, held, free)

    @property
    def usual_force(self) -> float:
        """The median of that force in a bore as specified [-]."""
        return weighted_median(self.force(DRY), self.share)

    @property
    def spread(self) -> float:
        """Standard deviation of its logarithm about the median [-]."""
        away = np.log(self.force(DRY) / self.usual_force)
        return float(np.sqrt(self.share @ away**2))

    def friction_ratio(self, bore_friction: float) -> tuple[float, float]:
        """Return the torque in another bore over that in one as specified.

        Parameters
        ----------
        bore_friction : float
            Friction in that bore. [-]

        Returns
        -------
        tuple of float
            Geometric mean of the ratio, and the standard deviation of its logarithm. A held cone
            presses harder where its bore is slippery, and so loses less. [-]

        Examples
        --------
        >>> [round(part, 3) for part in DISC_CONES.friction_ratio(0.06)]
        [0.4, 0.0]
        """
        ratio = bore_friction * self.force(bore_friction) / (DRY * self.force(DRY))
        mean = float(self.share @ np.log(ratio))
        return float(np.exp(mean)), float(np.sqrt(self.share @ (np.log(ratio) - mean) ** 2))


def cones_of(angles: Shares, frictions: Shares, held: Shares) -> Cones:
    """Return every combination of what cones may be."""
    every = np.array(
        [(a, f, h, p * q * r) for (a, p), (f, q), (h, r) in product(angles, frictions, held)]
    )
    return Cones(every[:, 0], every[:, 1], every[:, 2] > 0, every[:, 3])


def weighted_median(values: Floats, shares: Floats) -> float:
    """Return the middle of a few positive values; between two of them their geometric mean.

    Examples
    --------
    >>> weighted_median(np.array([4.0, 1.0, 9.0]), np.array([0.25, 0.5, 0.25]))
    2.0
    """
    order = np.argsort(values)
    below = np.cumsum(shares[order])
    middle = np.searchsorted(below, (0.5 - 1e-9, 0.5 + 1e-9))
    return float(np.sqrt(np.prod(values[order][middle])))


DISC_CONES = cones_of(DISC_ANGLES, DISC_FRICTIONS, ((0.0, 1.0),))
BUSHING_CONES = cones_of(BUSHING_ANGLES, BUSHING_FRICTIONS, BUSHING_HELD)
