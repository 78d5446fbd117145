"""The choice of a shutdown in words: what its hours buy, from most holds to most loss avoided."""

from collections.abc import Mapping, Sequence
from typing import Any

import pandas as pd

from dashboard.presenters.page_links import page_link
from dashboard.presenters.plan_tables import how_good
from scoring.contract.amounts_in_words import after_amount, rounded
from scoring.planning.front import Front
from scoring.planning.plan import Plan
from scoring.planning.shutdowns import Shutdowns

MOST_HOLDS, MOST_AVOIDED = "holds first", "by loss alone"
"""Names of the ends in the address; a plan between them is named by the holds it lifts."""


def names_of(front: Front) -> list[str]:
    """Return the name of each plan of a front in the address.

    The same plan may do both; then it is named as the one that lifts most holds.
    """
    names = [str(one.holds) for one in front.choices]
    names[-1] = MOST_AVOIDED
    names[0] = MOST_HOLDS
    return names


def holds_asked(name: object) -> int | None:
    """Return how many holds a name in the address asks for, if it is not that of an end.

    Examples
    --------
    >>> holds_asked("12"), holds_asked("by loss alone"), holds_asked("-1")
    (12, None, None)
    """
    text = str(name)
    return int(text) if text.isascii() and text.isdecimal() else None


def nearest_name(front: Front, name: object) -> str:
    """Return the name of the plan of a front that answers what was asked for."""
    names = names_of(front)
    asked = holds_asked(name)
    if asked is None:
        return names[-1] if name == MOST_AVOIDED else names[0]
    holds = [one.holds for one in front.choices]
    return names[holds.index(front.lifting(asked).holds)]


def read_name(given: list[str]) -> str | None:
    """Read the name of a plan in the address; None if it is none."""
    name = given[-1]
    good = name in {MOST_HOLDS, MOST_AVOIDED} or holds_asked(name) is not None
    return name if good else None


def what_hours_buy(points: pd.DataFrame, shutdowns: Shutdowns, currency: object) -> str:
    """Say what the hours there are buy, from one end to the other.

    Parameters
    ----------
    points : DataFrame, shape (n_plans, ...)
        ``holds_lifted``, ``holds_left``, ``loss_avoided``, ``jobs``.
    shutdowns : Shutdowns
        When work can be done.
    currency : str, optional
        Of the loss.
    """
    hours = f"{shutdowns.hours.sum():g} crew-hours"
    if len(shutdowns) > 1:
        hours += f" in {len(shutdowns)} shutdowns"
    rows = points.to_dict("records")
    one, other = rows[0], rows[-1]
    if one["jobs"] == 0:
        return f"{hours}: nothing that avoids a loss, or lifts a hold, fits."
    code = after_amount(currency)
    amounts = [f"{rounded(row['loss_avoided'])}{code}" for row in (one, other)]
    if len(rows) == 1:
        lift = f"lift {_holds(one['holds_lifted'])} and " if one["holds_lifted"] else ""
        return f"{hours}: {lift}avoid {amounts[0]} of loss. No plan does more of either."
    between = ", or anything between" if len(rows) > 2 else ""
    lifts = [
        f"lift {_holds(row['holds_lifted'])}" if row["holds_lifted"] else "lift none"
        for row in (one, other)
    ]
    first, last = (f"{lift} and avoid {loss}" for lift, loss in zip(lifts, amounts, strict=True))
    return f"{hours}: {first}, or {last}{between}."


def point_said(row: "pd.Series[float]", name: str, currency: object) -> str:
    """Say what a plan of the front lifts and avoids, and in how many jobs."""
    code = after_amount(currency)
    end = {MOST_HOLDS: "most holds: ", MOST_AVOIDED: "most loss avoided: "}.get(name, "")
    lifted, avoided = _holds(row["holds_lifted"]), rounded(float(row["loss_avoided"]))
    jobs = int(row["jobs"])
    work = f"{jobs} {'job' if jobs == 1 else 'jobs'}"
    said = f"{lifted} lifted, {avoided}{code} avoided · {work}"
    return f"{end}{said}"


def _holds(lifted: float) -> str:
    count = int(lifted)
    return f"{count} {'hold' if count == 1 else 'holds'}"


def settings_said(chosen: Mapping[str, Any], *, several: bool) -> str:
    """Say in one line what is set, by the names in the address.

    Examples
    --------
    >>> settings_said({"crew_hours": 40.0, "crane": True, "must_in": ["A"]}, several=False)
    '40 crew-hours, all sites, a crane, 1 unit must be in · change'
    >>> settings_said({}, several=True)
    'several shutdowns · change'
    """
    said = ["several shutdowns"]
    if not several:
        people, begins = chosen.get("people"), chosen.get("starts_on")
        said = [
            f"{chosen['crew_hours']:g} crew-hours",
            ", ".join(chosen.get("sites") or ["all sites"]),
            f"at most {people} people at once" if people else "",
            "a crane" if chosen["crane"] else "no crane",
            f"begins on {begins}" if begins else "",
        ]
    for name, words in (("must_in", "must be in"), ("must_out", "left out")):
        count = len(chosen.get(name) or [])
        if count:
            said.append(f"{count} {'unit' if count == 1 else 'units'} {words}")
    return f"{', '.join(filter(None, said))} · change"


def plan_said(plan: Plan, currency: object) -> str:
    """Say what the chosen plan comes to, and how near it is to the best."""
    code = after_amount(currency)
    used, there = plan.jobs["hours"].sum(), plan.windows["crew_hours"].sum()
    n_jobs, left = len(plan.jobs), len(plan.holds_left)
    return (
        f"{n_jobs} {'job' if n_jobs == 1 else 'jobs'}, {used:g} of {there:g} crew-hours; "
        f"{plan.choice.holds} of {plan.choice.holds + left} holds lifted; "
        f"{rounded(plan.choice.avoided)}{code} of expected loss avoided. "
        f"{how_good(plan.choice)}"
    )


def unmet_said(unmet: pd.DataFrame) -> list[str]:
    """Say which units must be in and are not, and why."""
    return [f"{row.unit_id} must be in, and is not: {row.why}." for row in unmet.itertuples()]


def plan_link(chosen: dict[str, list[str]], **more: Sequence[str]) -> str:
    """Return the address of the page with what is chosen, some of it changed.

    Examples
    --------
    >>> plan_link({"crew_hours": ["64"], "must_out": ["A"]}, must_out=["A", "B"], must_in=[])
    '/plan?crew_hours=64&must_out=A&must_out=B'
    """
    return page_link("plan", {**chosen, **more})


def points_drawn(points: pd.DataFrame, names: list[str], chosen: str) -> pd.DataFrame:
    """Return the plans of a front as a chart draws them."""
    ends = {MOST_HOLDS: "most holds", MOST_AVOIDED: "most loss avoided"}
    rows = zip(names, points["holds_lifted"], points["loss_avoided"], strict=True)
    said = [
        f"chosen: {_holds(lifted)}, {rounded(float(loss))}"
        if name == chosen
        else ends.get(name, "")
        for name, lifted, loss in rows
    ]
    return points.assign(said=said, chosen=[name == chosen for name in names])
