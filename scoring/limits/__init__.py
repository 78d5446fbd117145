"""What is good at each unit, and how far a found value lies beyond it."""

from scoring.limits.badness import walkdown_badness
from scoring.limits.unit_limits import UnitLimits, unit_limits

__all__ = ["UnitLimits", "unit_limits", "walkdown_badness"]
