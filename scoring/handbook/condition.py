"""What can be found at a unit: its states, what shows them, and how usual each is."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scoring.contract import CHECK_BY_NAME, Worse
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.limits import UnitLimits
from scoring.timeline.known import Known

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Evidence:
    """What a condition may look at; everything in the order of ``known.units``."""

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
class Condition:
    """What can be found at a unit, in states from good to bad.

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
    mountings: tuple[str, ...] = EVERY_MOUNTING
    share_with: float = 1.0

    @property
    def only_where(self) -> str:
        """The column of ``units`` that has to say yes, as its checks have it."""
        return CHECK_BY_NAME[self.checks[0]].only_where

    def __post_init__(self) -> None:
        """Refuse states that are no states, and shares that are none."""
        if np.any(np.diff(self.states) < 0):
            raise ValueError(f"{self.name}: states and multipliers never fall")
        if abs(sum(self.usual) - 1) > 1e-9:
            raise ValueError(f"{self.name}: the usual shares add up to 1")
        if len(self.usual) != len(self.states):
            raise ValueError(f"{self.name}: one share and one multiplier for each state")
        words = CHECK_BY_NAME[self.checks[0]].allowed
        if words and not self.unit and not set(self.states) <= set(range(len(words))):
            raise ValueError(
                f"{self.name}: without a unit the states are steps down the words of "
                f"{self.checks[0]}, 0 to {len(words) - 1}; given were "
                f"{', '.join(f'{state:g}' for state in self.states)}"
            )

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
