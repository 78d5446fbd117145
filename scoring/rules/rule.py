"""What a rule is: a check found so bad, what follows, why, and what cures it."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import IntEnum
from functools import cached_property

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract.mountings import EVERY_MOUNTING
from scoring.timeline import Known

Flags = NDArray[np.bool_]
Floats = NDArray[np.float64]


class Severity(IntEnum):
    """What a finding asks for; the higher the more urgent."""

    WATCH = 1
    CORRECT = 2
    HOLD = 3


@dataclass(frozen=True)
class Circumstances:
    """What a rule may look at; everything in the order of ``known.units``."""

    known: Known
    limits: pd.DataFrame

    def value(self, check: str) -> NDArray[np.float64]:
        """Return the values of a measured check that stand; missing too where it is not asked."""
        if check not in self.known.found:
            return np.full(len(self.known.units), np.nan)
        return self.known.found[check].to_numpy(dtype=np.float64)

    def limit(self, name: str) -> NDArray[np.float64]:
        """Return a limit of each unit."""
        return self.limits[name].to_numpy(dtype=np.float64)

    def exceedance(self, check: str) -> NDArray[np.float64]:
        """Return how bad each unit was found; several rules ask it of one check."""
        if check not in self._exceedance:
            values = self.known.exceedance[check].to_numpy(dtype=np.float64)
            self._exceedance[check] = values
        return self._exceedance[check]

    @cached_property
    def _exceedance(self) -> dict[str, NDArray[np.float64]]:
        return {}


Condition = Callable[[Circumstances], Flags]
Edge = Callable[[pd.DataFrame, pd.DataFrame], Floats]
"""From the table ``units`` and their limits to a value of the check at each unit."""


@dataclass(frozen=True, kw_only=True)
class Rule:
    """One rule.

    A finding is made where the exceedance of ``check`` is above 0 and at least ``from_exceedance``,
    the unit has one of ``mountings``, and ``only_where`` holds; or where ``also_where`` holds.

    Attributes
    ----------
    name : str
        By which a finding is traced to its rule.
    check : str
        The check it judges; of the rules of one check the first that holds counts.
    severity : Severity
        What the finding asks for.
    reason : str
        What was found, in plain words; ``{value}`` and ``{limit}`` are filled in.
    why : str
        Why it matters.
    action : str
        The re-work that cures it.
    origin : str
        A source, ``common practice, no source``, or ``planning value of ours``.
    limit : str
        The limit of the unit that the reason names.
    edge : callable, optional
        Where a rule holds only far from what is good: the value of the check beyond which it does,
        so that a form can tell it while a value is written.
    """

    name: str
    check: str
    severity: Severity
    reason: str
    why: str
    action: str
    origin: str
    from_exceedance: float = 0.0
    mountings: tuple[str, ...] = EVERY_MOUNTING
    limit: str = ""
    edge: Edge | None = None
    only_where: Condition | None = None
    also_where: Condition | None = None

    def holds(self, circumstances: Circumstances) -> Flags:
        """Tell at which units the rule finds something."""
        exceedance = circumstances.exceedance(self.check)
        mounting = circumstances.known.mounted(self.mountings)
        found: Flags = (exceedance > 0) & (exceedance >= self.from_exceedance) & mounting
        if self.only_where is not None:
            found = found & self.only_where(circumstances)
        if self.also_where is not None:
            found = found | (self.also_where(circumstances) & mounting)
        return found
