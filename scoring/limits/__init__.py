"""What is good at each unit, and how far a found value lies beyond it."""

from scoring.limits.exceedance import walkdown_exceedance
from scoring.limits.unit_limits import UnitLimits, unit_limits

__all__ = ["UnitLimits", "unit_limits", "walkdown_exceedance"]
