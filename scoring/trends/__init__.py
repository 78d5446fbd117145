"""Whether installation quality gets better: the fleet as it was known at each month's end."""

from scoring.trends.installations import right_first_time
from scoring.trends.month_ends import month_ends, state_at
from scoring.trends.recurring import recurring_findings

__all__ = ["month_ends", "recurring_findings", "right_first_time", "state_at"]
