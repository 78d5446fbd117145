"""The trend as its page shows it."""

from collections.abc import Sequence

import pandas as pd

from scoring.contract.events import MODE_WORDS
from scoring.trends.month_ends import StateAtMonthEnd


def by_site(states: Sequence[StateAtMonthEnd]) -> pd.DataFrame:
    """Return expected failures by month-end, site and failure."""
    table = pd.concat([state.by_site for state in states], ignore_index=True)
    return table.assign(failure=table["failure_mode"].map(MODE_WORDS))


def recurring(table: pd.DataFrame) -> pd.DataFrame:
    """Return the findings that came back, in words."""
    return table[table["came_back"] > 0].rename(
        columns={
            "found": "times found",
            "cured": "times reported cured",
            "came_back": "times it came back",
            "units": "on units",
        }
    )
