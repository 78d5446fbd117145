"""All that the generator knows of a check that is a cause, declared in one place.

The state of a fleet is two tables, units by checks: which outcome holds, and where within
the outcome's range a measured value lies. All numbers are planning values of ours.
"""

from dataclasses import dataclass
from enum import IntEnum, StrEnum


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


LEAST_MEAN_EFFECT = 0.16
"""Effects are drawn about their mean with a scatter that a smaller mean leaves no room for."""


@dataclass(frozen=True, kw_only=True)
class MeanEffect:
    """Mean log multiplier of each failure's hazard, of a fault at full severity.

    Attributes
    ----------
    bearing, seal, slip : float
        Of a low-speed bearing, of a seal's leak; and of a slipping joint, which only says how
        strongly the plant's draw scatters about what ``true_grip`` lets it take. 0 for none, else
        at least ``LEAST_MEAN_EFFECT``.

    Raises
    ------
    ValueError
        If one lies between.
    """

    bearing: float = 0.0
    seal: float = 0.0
    slip: float = 0.0

    def __post_init__(self) -> None:
        for name, mean in (("bearing", self.bearing), ("seal", self.seal), ("slip", self.slip)):
            if mean and not mean >= LEAST_MEAN_EFFECT:
                raise ValueError(
                    f"the mean effect on {name} is {mean}; it is 0 or at least {LEAST_MEAN_EFFECT}"
                )


@dataclass(frozen=True)
class Cure:
    """Which re-work people choose for a fault.

    Attributes
    ----------
    usual, other : str
        Actions of the contract.
    share : float
        How often the usual one is chosen.
    """

    usual: str
    other: str = ""
    share: float = 1.0


@dataclass(frozen=True)
class Brings:
    """A fault that tends to come with another: where ``outcome`` is, ``other`` follows.

    Attributes
    ----------
    outcome : int
        Place of this check's outcome.
    other : str
        The other check.
    other_outcome : int
        Place of its outcome.
    chance : float
        How often it follows.
    """

    outcome: int
    other: str
    other_outcome: int
    chance: float


@dataclass(frozen=True)
class Together:
    """What two faults do on top of what each does by itself.

    Attributes
    ----------
    other : str
        The other check; a check is of one such pair at the most.
    effect : MeanEffect
        With both at full severity.
    """

    other: str
    effect: MeanEffect


@dataclass(frozen=True, kw_only=True)
class FaultModel:
    """How one check goes wrong, how well it is seen, what it does, and what people do about it.

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
    outlasts_hanging : bool
        Whether it stays as it is when the unit is hung anew.
    damaged_from : int, optional
        Place of the outcome from which on a part is damaged: only a new one cures it.
    comes_of : str
        Another check; where that one has a fault, this one's comes of it and goes with it. Where
        not, this one's stands although the unit is hung anew, or the other one is cured.
    brings : tuple of Brings
        Other faults that tend to come with it.
    shows : str
        Another check whose fault this one shows too: it has none of its own, but the same
        outcomes, and the effect of both is declared here.
    effect : MeanEffect
        What it truly does, on average over plants.
    together : Together, optional
        What it does on top with another.
    cure : Cure, optional
        What people do about it; without, nobody does anything.
    seen : float
        Chance that a usual inspector looks at it.
    seen_during : tuple of str
        Actions during which it can be seen, if otherwise only while the unit is hung.
    behind_guard : bool
        Whether a guard hides it.
    hides_others : bool
        Whether, while good, it hides what is behind a guard.
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
    outlasts_hanging: bool = False
    damaged_from: int | None = None
    comes_of: str = ""
    brings: tuple[Brings, ...] = ()
    shows: str = ""
    effect: MeanEffect = MeanEffect()
    together: Together | None = None
    cure: Cure | None = None
    seen: float = 0.88
    seen_during: tuple[str, ...] = ()
    behind_guard: bool = False
    hides_others: bool = False
    showy: bool = False
    needs_instrument: bool = False
    reading_error: float = 0.0
    decimals: int = 0
