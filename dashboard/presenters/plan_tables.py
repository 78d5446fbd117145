"""A plan of re-work as its page shows it."""

import pandas as pd

from dashboard.presenters.words import money
from scoring.planning.choose import Choice
from scoring.planning.plan import Plan

FAR = 4.0
"""The curve is drawn to so many times the hours there are."""

NEARLY = 5e-6
"""A smaller share by which a plan may fall short is not worth a word. [-]"""


def _currency(plan: Plan) -> str | None:
    there = plan.weighed["currency"].dropna()
    return str(there.iloc[0]) if len(there) else None


def how_good(choice: Choice) -> str:
    """Say how near a plan is to the best there is."""
    more = "more" if choice.gap < NEARLY else f"{choice.gap:.3%} more"
    if not choice.holds_first:
        if choice.at_least:
            lifted = f"{choice.at_least} {'hold' if choice.at_least == 1 else 'holds'}"
            return f"No plan that lifts at least {lifted} avoids {more}."
        return f"No plan for these hours avoids {more}."
    lifts = (
        "No plan lifts more holds"
        if choice.holds >= choice.holds_bound
        else f"No plan lifts more than {choice.holds_bound} holds"
    )
    return f"{lifts}; of those that lift as many none avoids {more}."


def windows_shown(windows: pd.DataFrame) -> pd.DataFrame:
    """Return the windows and how full they are."""
    return pd.DataFrame(
        {
            "window": windows["window"],
            "sites": windows["sites"].astype(object).fillna("all"),
            "begins on": windows["starts_on"],
            "crew-hours": windows["crew_hours"],
            "of them used": windows["used"],
            "jobs": windows["jobs"],
            "loss avoided": windows["loss_avoided"].round(),
        }
    )


def curve_shown(curve: pd.DataFrame, hours: float) -> pd.DataFrame:
    """Return the part of the curve that is near the hours there are.

    Examples
    --------
    >>> curve = pd.DataFrame({"hours": [0.0, 10, 90], "loss_avoided": [0.0, 9, 17]})
    >>> curve_shown(curve, 5)[["hours", "loss_avoided"]].to_numpy().tolist()
    [[0.0, 0.0], [10.0, 9.0], [20.0, 10.0]]
    """
    end = FAR * hours
    near = curve[curve["hours"] <= end]
    if len(near) == len(curve):
        return near
    one, other = near.iloc[-1], curve.iloc[len(near)]
    share = (end - one["hours"]) / (other["hours"] - one["hours"])
    last = one + share * (other - one)
    drawn: pd.DataFrame = pd.concat([near, last.to_frame().T], ignore_index=True)
    return drawn


def all_weighed(plan: Plan) -> str:
    """Say what all work that was weighed would avoid."""
    last = plan.curve.iloc[-1]
    loss = money(float(last["loss_avoided"]), _currency(plan))
    return f"All that is worth doing would take {last['hours']:,.0f} crew-hours and avoid {loss}."
