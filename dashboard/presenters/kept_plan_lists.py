"""Kept plans as lists: what each promised, and what became of every job, as HTML."""

import datetime as dt
from collections.abc import Mapping, Sequence
from html import escape
from typing import Any

import pandas as pd

from dashboard.presenters.kept_plan_words import kept_link
from dashboard.presenters.semantic_table import (
    cell,
    heading,
    site_and_line,
    table,
    unit_cell,
    verdict_marked,
)
from dashboard.presenters.words import day_said, in_currency
from scoring.contract.amounts_in_words import after_amount, rounded, thousands
from scoring.contract.rework import actions_said
from scoring.entering.kept_plans import KeptPlan
from scoring.planning.plan_and_done import IN_PART, NOT_DONE, PlanAndDone, lifts_hold


def list_of_compared(became: PlanAndDone, currency: object) -> str:
    """Return each job beside what was done, as HTML; on a narrow screen each row is a card."""
    heads = [("", ""), ("unit", ""), ("what to do", ""), ("done", "")]
    heads += [("crew-hours planned", "number")]
    heads += [
        (escape(in_currency("loss it was to avoid", currency)), "number"),
        ("hold it was to lift", ""),
    ]
    several = len(became.jobs["window"].unique()) > 1
    rows = "".join(_compared(row, several=several) for row in became.jobs.to_dict("records"))
    return _table(heads, rows)


def _compared(row: Mapping[Any, Any], *, several: bool) -> str:
    now = row["verdict_now"]
    after = verdict_marked(now) if isinstance(now, str) else "not in service"
    verdict = f"{verdict_marked(row['verdict'])} → {after} now"
    where = escape(site_and_line(row))
    outcome = str(row["outcome"])
    day = f", {day_said(row['done_on'])}" if outcome != NOT_DONE else ""
    left = f"to do still: {actions_said(row['actions_left'])}" if outcome == IN_PART else ""
    below = f'<span class="where">{escape(left)}</span>' if left else ""
    begins = "" if pd.isna(row["starts_on"]) else f"on {day_said(row['starts_on'])}"
    when = " ".join(filter(None, [str(row["window"]) if several else "", begins]))
    hold = ""
    if row["lifts_hold"]:
        stands = '<span class="v-hold">stands</span>' if isinstance(now, str) else "not in service"
        hold = "lifted" if row["hold_lifted"] else stands
    cells = [
        cell(f"{row['order']}", "rank"),
        unit_cell(str(row["unit_id"]), f"{where}<br>{verdict}"),
        cell(f'{escape(actions_said(row["actions"]))}<span class="where">{escape(when)}</span>'),
        cell(f"{escape(outcome)}{day}{below}", f"outcome {outcome.replace(' ', '-')}"),
        cell(f'{row["hours"]:g}<span class="of"> crew-hours</span>', "number"),
        cell(f'<span class="of">was to avoid </span>{thousands(row["loss_avoided"])}', "number"),
        cell(f'<span class="of">{"hold it was to lift: " if hold else ""}</span>{hold}'),
    ]
    return f'<tr role="row">{"".join(cells)}</tr>'


def list_of_not_planned(became: PlanAndDone) -> str:
    """Return the work on units of the plan that it does not name, as HTML."""
    heads = [("unit", ""), ("done on", ""), ("what was done beside the plan", "")]
    heads += [("crew-hours", "number")]
    rows = []
    for row in became.not_planned.to_dict("records"):
        hours = row["crew_hours"]
        took = "" if pd.isna(hours) else f'{hours:g}<span class="of"> crew-hours</span>'
        cells = [
            unit_cell(str(row["unit_id"]), ""),
            cell(day_said(row["done_on"])),
            cell(escape(actions_said(row["actions"]))),
            cell(took, "number"),
        ]
        rows.append(f'<tr role="row">{"".join(cells)}</tr>')
    return _table(heads, "".join(rows))


def list_of_plans(plans: Sequence[KeptPlan], jobs: pd.DataFrame) -> str:
    """Return the kept plans with what each promised, as HTML.

    Parameters
    ----------
    plans : sequence of KeptPlan
        The last first.
    jobs : DataFrame
        Their jobs, with ``plan_id``.
    """
    heads = [("plan", ""), ("kept by", ""), ("of the records as of", "")]
    heads += [("units", "number"), ("crew-hours", "number"), ("promised", ""), ("the choice", "")]
    sums = jobs.assign(lifts=lifts_hold(jobs)).groupby("plan_id")
    told = sums.agg(
        units=("unit_id", "nunique"),
        hours=("hours", "sum"),
        avoided=("loss_avoided", "sum"),
        lifted=("lifts", "sum"),
        currency=("currency", "first"),
    )
    promises = told.to_dict("index")
    rows = "".join(_plan(one, promises[one.plan_id]) for one in plans)
    return _table(heads, rows)


def _plan(plan: KeptPlan, told: Mapping[Any, Any]) -> str:
    lifted = int(told["lifted"])
    holds = f"lifts {lifted} {'hold' if lifted == 1 else 'holds'}, " if lifted else ""
    promised = f"{holds}avoids {rounded(float(told['avoided']))}{after_amount(told['currency'])}"
    anew = "several shutdowns, in no link"
    if plan.link:
        label = escape(f"make {plan.name} anew from the records")
        anew = f'<a href="{escape(plan.link)}" aria-label="{label}">make it anew</a>'
    link = escape(kept_link(plan.plan_id))
    name = f'<a translate="no" href="{link}">{escape(plan.name)}</a>'
    name += '<span class="where">compared with what was done</span>'
    made_of = day_said(dt.date.fromisoformat(plan.as_of))
    units = int(told["units"])
    cells = [
        f'<th role="rowheader" scope="row">{name}</th>',
        cell(f'<span translate="no">{escape(plan.kept_by)}</span>, {day_said(plan.kept_on)}'),
        cell(f'<span class="of">records as of </span>{made_of}'),
        cell(f'{units}<span class="of"> {"unit" if units == 1 else "units"}</span>', "number"),
        cell(f'{told["hours"]:g}<span class="of"> crew-hours</span>', "number"),
        cell(escape(promised)),
        cell(anew, "act"),
    ]
    return f'<tr role="row">{"".join(cells)}</tr>'


def _table(heads: list[tuple[str, str]], rows: str) -> str:
    return table("jobs kept", "".join(heading(*one) for one in heads), rows)


def jobs_in_a_file(became: PlanAndDone) -> pd.DataFrame:
    """Return each job beside what was done, as a file says it: yes and no, names of actions."""
    flags = {name: _yes_no(became.jobs[name]) for name in ("lifts_hold", "hold_lifted")}
    return became.jobs.assign(**flags)


def _yes_no(flags: "pd.Series[bool]") -> "pd.Series[str]":
    return flags.map({True: "yes", False: "no"})
