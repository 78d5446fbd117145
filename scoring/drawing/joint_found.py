"""What was found at the joint of one unit, as the picture needs it."""

from dataclasses import dataclass
from functools import cached_property
from math import isnan
from typing import Any

import pandas as pd

from scoring.assessment import Assessment
from scoring.contract import CHECK_BY_NAME
from scoring.timeline.known import Status

NOT_SEEN = "not seen"
REPORTED_CURED = "reported cured"


@dataclass(frozen=True)
class JointFound:
    """What was found at one unit.

    Attributes
    ----------
    assessment : Assessment
        What is said of the fleet.
    place : int
        The unit's place in ``known.units``.
    """

    assessment: Assessment
    place: int

    @cached_property
    def _status(self) -> dict[str, int]:
        return self._row(self.assessment.known.status)

    @cached_property
    def _exceedance(self) -> dict[str, float]:
        return self._row(self.assessment.known.exceedance)

    def _row(self, table: pd.DataFrame) -> dict[str, Any]:
        """Return the unit's row of a table of which all cells are of one type."""
        return {str(name): value for name, value in table.iloc[self.place].items()}

    @cached_property
    def _values(self) -> dict[str, object]:
        found = self.assessment.known.found
        return {
            check: found[check].array[self.place]
            for check, status in self._status.items()
            if status == Status.SEEN
        }

    def seen(self, check: str) -> bool:
        """Tell whether a value of a check stands."""
        return self._status[check] == Status.SEEN

    def number(self, check: str) -> float | None:
        """Return a measured value in the unit of its check, None unless seen."""
        return float(str(self._values[check])) if self.seen(check) else None

    def word(self, check: str) -> str:
        """Return a word of the check's list, empty unless seen."""
        return str(self._values[check]) if self.seen(check) else ""

    def bad(self, check: str) -> bool:
        """Tell whether the value that stands is worse than good."""
        return self._exceedance[check] > 0

    def said(self, check: str) -> str:
        """Say in some words what was found, or that nobody saw it."""
        if self._status[check] == Status.REPORTED_CURED:
            return REPORTED_CURED
        if not self.seen(check):
            return NOT_SEEN
        number = self.number(check) if CHECK_BY_NAME[check].is_numeric else None
        if number is None:
            return self.word(check).replace("_", " ")
        return f"{number:.4g} {CHECK_BY_NAME[check].unit}".strip()

    def limit(self, name: str) -> float | None:
        """Return a limit of the unit, None where it is not known."""
        value = float(self.assessment.limits.table[name].iloc[self.place])
        return None if isnan(value) else value
