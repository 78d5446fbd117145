"""A plan of re-work as its page shows it."""

from dataclasses import dataclass

import pandas as pd

from dashboard.presenters.words import VERDICT_WORDS, money
from scoring.contract.rework import actions_said
from scoring.planning.choose import Choice
from scoring.planning.plan import Plan

FAR = 4.0
"""The curve is drawn to so many times the hours there are."""

NEARLY = 5e-6
"""A smaller share by which a plan may fall short is not worth a word. [-]"""


@dataclass(frozen=True)
class Sums:
    """What a plan comes to, in words."""

    jobs: str
    hours: str
    avoided: str
    an_hour: str
    holds: str


def sums(plan: Plan) -> Sums:
    """Return what a plan comes to."""
    hours, there = float(plan.jobs["hours"].sum()), float(plan.windows["crew_hours"].sum())
    currency = _currency(plan)
    return Sums(
        f"{len(plan.jobs):,}",
        f"{hours:g} of {there:g}",
        money(plan.choice.avoided, currency),
        money(plan.choice.avoided / hours, currency) if hours else "none",
        f"{plan.choice.holds} of {plan.choice.holds + len(plan.holds_left)}",
    )


def _currency(plan: Plan) -> str | None:
    there = plan.weighed["currency"].dropna()
    return str(there.iloc[0]) if len(there) else None


def how_good(choice: Choice, *, holds_first: bool) -> str:
    """Say how near a plan is to the best there is."""
    near = choice.gap < NEARLY
    if not holds_first:
        return (
            "No plan for these hours avoids more."
            if near
            else f"No plan for these hours avoids {choice.gap:.3%} more."
        )
    lifts = (
        "No plan lifts more holds"
        if choice.holds >= choice.holds_bound
        else f"No plan lifts more than {choice.holds_bound} holds"
    )
    avoids = "none avoids more" if near else f"none avoids {choice.gap:.3%} more"
    return f"{lifts}; of those that lift as many {avoids}."


def jobs_shown(jobs: pd.DataFrame, *, several: bool) -> pd.DataFrame:
    """Return jobs as a person reads them, in the order of the plan.

    Parameters
    ----------
    jobs : DataFrame
        ``Plan.jobs`` or ``Plan.missed``.
    several : bool
        Whether there are several windows, so that each job needs the name of its own.

    Returns
    -------
    DataFrame
    """
    columns = {
        "no.": jobs["order"],
        "window": jobs["window"],
        "unit": jobs["unit_id"],
        "site": jobs["site"],
        "what to do": jobs["actions"].map(actions_said),
        "crew-hours": jobs["hours"],
        "people": jobs["people"],
        "crane": jobs["crane"],
        "loss avoided": jobs["loss_avoided"].round(),
        "an hour": (jobs["loss_avoided"] / jobs["hours"]).round(),
        "verdict": _verdicts(jobs),
        "parts take, days": jobs["lead_days"],
        "line stops": jobs["line_stops"],
        "line": jobs["line"].astype(object).fillna(""),
        "cost": jobs["cost"].round(),
        "why": jobs["why"],
    }
    if not several:
        columns.pop("window")
    return pd.DataFrame(columns)


def missed_shown(missed: pd.DataFrame) -> pd.DataFrame:
    """Return the work that just missed the cut, with why first."""
    table = jobs_shown(missed, several=False)
    return table[["unit", "site", "what to do", "crew-hours", "loss avoided", "an hour", "why"]]


def _verdicts(jobs: pd.DataFrame) -> "pd.Series[str]":
    now, then = (
        jobs[name].astype(object).map(VERDICT_WORDS).astype("str")
        for name in ("verdict", "verdict_after")
    )
    return now + " → " + then


def holds_left_shown(left: pd.DataFrame) -> pd.DataFrame:
    """Return the holds that stay, and why."""
    return left.rename(columns={"unit_id": "unit", "why": "why it stays"})


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
