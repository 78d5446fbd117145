"""Whether work gets better: the fleet at each month's end, installations, what re-work did."""

from scoring.trends.after_rework import came_back, overdue_looks, seen_after_rework
from scoring.trends.gain_of_rework import gain_of_rework
from scoring.trends.installations import right_first_time
from scoring.trends.month_ends import month_ends, state_at
from scoring.trends.recurring import recurring_findings

__all__ = [
    "came_back",
    "gain_of_rework",
    "month_ends",
    "overdue_looks",
    "recurring_findings",
    "right_first_time",
    "seen_after_rework",
    "state_at",
]
