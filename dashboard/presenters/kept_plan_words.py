"""Kept plans in words: who kept them, and what became of them."""

import datetime as dt

import pandas as pd

from dashboard.presenters.page_links import page_link
from dashboard.presenters.words import day_said
from scoring.contract.amounts_in_words import after_amount, rounded
from scoring.entering.kept_plans import KeptPlan
from scoring.planning.plan_and_done import DONE, OUTCOMES, PlanAndDone

KEPT = "kept"
"""In the address: the key of the plan that is shown beside what was done."""


def kept_link(plan_id: str) -> str:
    """Return the address of a plan beside what was done.

    Examples
    --------
    >>> kept_link("P-1")
    '/plan?kept=P-1'
    """
    return page_link("plan", {KEPT: [plan_id]})


def became_said(became: PlanAndDone, currency: object) -> str:
    """Say in one sentence what became of a plan."""
    jobs, code = len(became.jobs), after_amount(currency)
    done, part, left = (became.count(one) for one in OUTCOMES)
    parts = [
        f"{done} {_is(done)} done",
        f"{part} {_is(part)} done in part" if part else "",
        f"{left} {_is(left)} not done" if left else "",
    ]
    hours = f"{became.sum_of('hours', DONE):g} of {became.sum_of('hours'):g} planned crew-hours"
    losses = [rounded(became.sum_of("loss_avoided", one)) for one in (DONE, None)]
    said = (
        f"Of {jobs} planned {'job' if jobs == 1 else 'jobs'} {_and([p for p in parts if p])}: "
        f"{hours}, {losses[0]} of {losses[1]}{code} of loss that was to be avoided"
    )
    if became.holds_planned:
        lifted, holds = became.holds_lifted, became.holds_planned
        noun = "hold" if holds == 1 else "holds"
        stand = "stands" if lifted == 1 else "stand"
        said += f"; {lifted} of {holds} {noun} that it was to lift no longer {stand}"
    return f"{said}."


def hours_said(became: PlanAndDone) -> str:
    """Say how long the planned work took, as far as it is written down; nothing without any."""
    missing = became.hours_not_recorded
    if not became.hours_recorded and not missing:
        return ""
    records = f"{missing} {'record does' if missing == 1 else 'records do'} not say"
    recorded = f"Planned work on record took {became.hours_recorded:g} crew-hours"
    return f"{recorded}; {records}." if missing else f"{recorded}."


def kept_said(plan: KeptPlan) -> str:
    """Say who kept a plan, when, of which day it is, and how far its losses reach."""
    kept = f"Kept by {plan.kept_by} on {day_said(plan.kept_on)}, from the records as of "
    said = f"{kept}{day_said(dt.date.fromisoformat(plan.as_of))}; "
    said += f"losses within {plan.horizon_days} days of that day."
    if plan.withdrawn_at:
        gone = dt.datetime.fromisoformat(plan.withdrawn_at).astimezone().date()
        said += f" Withdrawn by {plan.withdrawn_by} on {day_said(gone)}."
    return said


def too_early(plan: KeptPlan, as_of: pd.Timestamp) -> str:
    """Say that nothing done since can be seen, where pages speak of an earlier day."""
    if as_of >= plan.kept_on:
        return ""
    return (
        f"These pages speak of {day_said(as_of)}, before the plan was kept: nothing that was done "
        "since then is seen."
    )


def hours_by_outcome(became: PlanAndDone) -> pd.DataFrame:
    """Return planned crew-hours by what became of them, as a chart draws them."""
    jobs = [became.count(one) for one in OUTCOMES]
    hours = [became.sum_of("hours", one) for one in OUTCOMES]
    said = [
        f"{hour:g} h, {count} {'job' if count == 1 else 'jobs'}"
        for hour, count in zip(hours, jobs, strict=True)
    ]
    return pd.DataFrame({"outcome": OUTCOMES, "hours": hours, "jobs": jobs, "said": said})


def chart_title(became: PlanAndDone) -> str:
    """Say what the picture of planned hours shows."""
    share = became.sum_of("hours", DONE) / became.sum_of("hours")
    return f"{100 * share:.0f} % of the planned crew-hours are done"


def _is(count: int) -> str:
    return "is" if count == 1 else "are"


def _and(parts: list[str]) -> str:
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}"
