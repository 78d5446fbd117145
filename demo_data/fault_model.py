"""What a check can truly be: its outcomes, how often each occurs, and what it is worth.

The state of a fleet is two tables, units by checks: which outcome holds, and where within
the outcome's range a measured value lies. All numbers are planning values of ours.
"""

from dataclasses import dataclass
from enum import IntEnum, StrEnum

import numpy as np

from scoring.contract import CHECKS
from scoring.contract.mountings import EVERY_MOUNTING


class Level(IntEnum):
    """What a person would call an outcome."""

    GOOD = 0
    CORRECT = 1
    HOLD = 2
    HOLD_IF_CLAMPED = 3


class Scale(StrEnum):
    """What the range of a measured outcome is a multiple of."""

    PLAIN = "the check's own unit"
    ENGAGEMENT = "required engagement"
    TORQUE = "stated screw torque"
    RUBBER = "free thickness of the isolator"
    GAP = "from smallest (0) to largest (1) collar gap"
    SHAFT = "from smallest (0) to largest (1) shaft"
    PASSES = "passes asked for"


@dataclass(frozen=True)
class Outcome:
    """One thing a check can be.

    Attributes
    ----------
    word : str
        The contract's word; empty for a number.
    share : float
        Share among the good outcomes, or among the faulty ones.
    level : Level
        What a person would call it.
    severity : float
        Part of the check's effect that it has, 0 to 1.
    low, high : float
        Range of the number, in ``scale``.
    scale : Scale
        What the range is a multiple of.
    """

    word: str
    share: float
    level: Level = Level.GOOD
    severity: float = 0.0
    low: float = 0.0
    high: float = 0.0
    scale: Scale = Scale.PLAIN


@dataclass(frozen=True, kw_only=True)
class FaultModel:
    """How one check goes wrong, and how well it is seen.

    Attributes
    ----------
    check : str
        Name of the check.
    outcomes : tuple of Outcome
        All outcomes; the first is what a cure brings.
    hang_rate : float
        Chance that a usual crew leaves a fault when hanging the unit.
    service_rate : float
        Chance a month that a good check turns bad in service. [1/month]
    service_outcome : int
        What it then turns into.
    belongs_to_shaft : bool
        Whether it stays as it is when the unit is hung anew.
    seen : float
        Chance that a usual inspector looks at it.
    behind_guard : bool
        Whether a guard hides it.
    showy : bool
        Whether a fault catches the eye.
    needs_instrument : bool
        Whether only some people measure it at all.
    reading_error : float
        Standard deviation of a poor reading, in the check's unit.
    decimals : int
        Decimals that are written down.
    """

    check: str
    outcomes: tuple[Outcome, ...]
    hang_rate: float
    service_rate: float = 0.0
    service_outcome: int = 1
    belongs_to_shaft: bool = False
    seen: float = 0.88
    behind_guard: bool = False
    showy: bool = False
    needs_instrument: bool = False
    reading_error: float = 0.0
    decimals: int = 0


CHECK_NAMES: tuple[str, ...] = tuple(check.name for check in CHECKS if not check.symptom)
"""The checks that are causes, in the contract's order; the columns of every state table."""

CHECK_AT: dict[str, int] = {name: i for i, name in enumerate(CHECK_NAMES)}

APPLIES = np.array(
    [[m in c.mountings for c in CHECKS if not c.symptom] for m in EVERY_MOUNTING],
)
"""Whether a mounting has a check, shape (mountings, checks)."""
