"""Whether work gets better: the fleet at each month's end, installations, what re-work did."""

from scoring.trends.after_rework import came_back, overdue_looks, seen_after_rework
from scoring.trends.cost_of_rework import cost_of_rework
from scoring.trends.first_time_right import first_time_right
from scoring.trends.gain_of_rework import gain_of_rework
from scoring.trends.month_ends import month_ends, state_at
from scoring.trends.never_looked_at import never_looked_at
from scoring.trends.open_holds import held_since, holds_by_age
from scoring.trends.recurring import recurring_findings
from scoring.trends.then_and_now import then_and_now

__all__ = [
    "came_back",
    "cost_of_rework",
    "first_time_right",
    "gain_of_rework",
    "held_since",
    "holds_by_age",
    "month_ends",
    "never_looked_at",
    "overdue_looks",
    "recurring_findings",
    "seen_after_rework",
    "state_at",
    "then_and_now",
]
