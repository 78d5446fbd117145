"""A quantity that was not measured, as a declared distribution over a few points."""

from dataclasses import dataclass

import numpy as np

from scoring.limits.assumptions import PLANNING_VALUE


@dataclass(frozen=True)
class Spread:
    """What an unmeasured quantity may be.

    Attributes
    ----------
    words : str
        What a person reads.
    unit : str
        Its unit.
    points : tuple of float
        Values, rising. [unit]
    shares : tuple of float
        How often each; they add up to 1. [-]
    origin : str
        Where it comes from.
    """

    words: str
    unit: str
    points: tuple[float, ...]
    shares: tuple[float, ...]
    origin: str = PLANNING_VALUE

    def __post_init__(self) -> None:
        """Refuse shares that do not add up."""
        if abs(sum(self.shares) - 1) > 1e-9 or len(self.shares) != len(self.points):
            raise ValueError(f"{self.words}: one share for each point, adding up to 1")

    @property
    def mean(self) -> float:
        """The mean of the distribution."""
        return float(np.dot(self.points, self.shares))


ARM_MISSET = Spread("mis-set of the arm", "mm", (0.5, 2.0, 5.0), (0.6, 0.3, 0.1))
SHAFT_RUNOUT = Spread("shaft run-out", "mm", (0.06, 0.15, 0.35, 0.8), (0.45, 0.35, 0.14, 0.06))
SQUEEZE_SHARE = Spread(
    "squeeze of a clamped isolator over its thickness", "", (0.08, 0.25), (0.6, 0.4)
)
