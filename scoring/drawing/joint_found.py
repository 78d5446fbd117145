"""What was found at the joint of one unit, as the picture needs it."""

from dataclasses import dataclass

from scoring.assessment import Assessment
from scoring.contract import CHECK_BY_NAME
from scoring.rules.findings import words_of
from scoring.timeline.known import Status

NOT_SEEN = "not seen"


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

    def seen(self, check: str) -> bool:
        """Tell whether a value of a check stands."""
        status = self.assessment.known.status[check].iloc[self.place]
        return bool(status == Status.SEEN)

    def number(self, check: str) -> float | None:
        """Return a measured value in the unit of its check, None unless seen."""
        if not self.seen(check):
            return None
        return float(self.assessment.known.found[check].iloc[self.place])

    def word(self, check: str) -> str:
        """Return a word of the check's list, empty unless seen."""
        return str(self.assessment.known.found[check].iloc[self.place]) if self.seen(check) else ""

    def bad(self, check: str) -> bool:
        """Tell whether the value that stands is worse than good."""
        return bool(self.assessment.known.badness[check].iloc[self.place] > 0)

    def said(self, check: str) -> str:
        """Say in some words what was found, or that nobody saw it."""
        known = self.assessment.known
        if known.status[check].iloc[self.place] == Status.REPORTED_CURED:
            return "reported cured"
        if not self.seen(check):
            return NOT_SEEN
        value = words_of(check, known.found[check].iloc[[self.place]])[0]
        return f"{value} {CHECK_BY_NAME[check].unit}".strip()

    def limit(self, name: str) -> float | None:
        """Return a limit of the unit, None where it is not known."""
        value = float(self.assessment.limits.table[name].iloc[self.place])
        return None if value != value else value  # noqa: PLR0124 - missing is unlike itself
