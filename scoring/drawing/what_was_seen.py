"""What was seen of a check at one unit, for pictures: a value or, in words, why there is none."""

from dataclasses import dataclass

import pandas as pd

from scoring.assessment import Assessment
from scoring.contract import CHECK_BY_NAME
from scoring.timeline.known import Status


@dataclass(frozen=True)
class WhatWasSeen:
    """The checks of one unit.

    Attributes
    ----------
    assessment : Assessment
        What is known of the fleet.
    place : int
        Where the unit stands in ``known.units``.
    """

    assessment: Assessment
    place: int

    @classmethod
    def of(cls, assessment: Assessment, unit_id: str) -> "WhatWasSeen":
        """Look up a unit.

        Raises
        ------
        FixableError
            If no unit of that id is in service.
        """
        return cls(assessment, assessment.place_of(unit_id))

    def number(self, check: str) -> float | None:
        """Return a measured value in the unit of its check, or None."""
        value = self.assessment.known.found[check].iloc[self.place]
        return None if pd.isna(value) else float(value)

    def word(self, check: str) -> str | None:
        """Return a choice of the contract, or None."""
        value = self.assessment.known.found[check].iloc[self.place]
        return None if pd.isna(value) else str(value)

    def words(self, check: str) -> str:
        """Say what was seen: never good where nobody has looked."""
        known = self.assessment.known
        value = known.found[check].iloc[self.place]
        if not pd.isna(value):
            if CHECK_BY_NAME[check].is_numeric:
                return in_unit(float(value), CHECK_BY_NAME[check].unit)
            return str(value).replace("_", " ")
        cured = known.status[check].iloc[self.place] == Status.REPORTED_CURED
        return "reported cured, not seen" if cured else "not seen"


def in_unit(value: float, unit: str) -> str:
    """Write a value of a few figures with its unit.

    Examples
    --------
    >>> in_unit(2.5, "mm"), in_unit(72.0, "°"), in_unit(2.0, "")
    ('2.5 mm', '72°', '2')
    """
    return f"{value:.4g}{'' if unit == '°' else ' '}{unit}".strip()
