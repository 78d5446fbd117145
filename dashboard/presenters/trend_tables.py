"""The trend as its page shows it."""

from collections.abc import Sequence

import pandas as pd

from scoring.contract.events import MODE_WORDS
from scoring.trends.month_ends import StateAtMonthEnd

FEWEST_JUDGED = 5
"""Below so many judged installations a share says little; planning value of ours."""


def by_site(states: Sequence[StateAtMonthEnd]) -> pd.DataFrame:
    """Return expected failures by month-end, site and failure."""
    table = pd.concat([state.by_site for state in states], ignore_index=True)
    return table.assign(failure=table["failure_mode"].map(MODE_WORDS))


def holds_by_age(states: Sequence[StateAtMonthEnd]) -> pd.DataFrame:
    """Return open holds by month-end and age."""
    return pd.concat([state.holds_by_age for state in states], ignore_index=True)


def right_first_time(installations: pd.DataFrame, by: str) -> pd.DataFrame:
    """Return the share of judged installations that were right, by quarter, site or crew."""
    sums = installations.groupby(by, as_index=False)[["inspected", "judged", "right"]].sum()
    sums["share"] = (sums["right"] / sums["judged"]).where(sums["judged"] > 0)
    few = (sums["judged"] < FEWEST_JUDGED).map({True: "few: says little", False: ""})
    return sums.assign(remark=few)


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


def summary(states: Sequence[StateAtMonthEnd]) -> dict[str, tuple[float, float]]:
    """Return for each failure how many of 100 units are expected to have it, now and a year ago."""
    out = {}
    for mode, words in MODE_WORDS.items():
        now, before = (_rate(states[i], mode) for i in (0, min(12, len(states) - 1)))
        out[words] = (now, before)
    return out


def _rate(state: StateAtMonthEnd, mode: str) -> float:
    rows = state.by_site[state.by_site["failure_mode"] == mode]
    weighted = rows["failing_of_100_units"] * rows["units"]
    return float(weighted.sum() / rows["units"].sum()) if len(rows) else float("nan")
