"""``mount-risk plan``: which re-work to do in which shutdown."""

from dataclasses import replace
from pathlib import Path

import click
import pandas as pd
from rich import box
from rich.markup import escape
from rich.table import Table

from scoring.asking.plans import planned
from scoring.cli.fleet_question import FleetQuestion, asks_of_a_fleet
from scoring.cli.front_table import front_table
from scoring.cli.plan_options import PlanWanted, asks_for_a_plan
from scoring.cli.screen import counted, err, out, say
from scoring.cli.weighing_re_work import weighed, without_chatter
from scoring.contract.cautions import CAUTIONS
from scoring.contract.rework import actions_said
from scoring.files.write_table import check_suffix, write_table
from scoring.planning.front import table_of
from scoring.planning.plan import Plan
from scoring.what_if.what_is_credited import CREDITED

SHOWN_JOBS = 30
"""Jobs, and holds left, printed; the file has them all."""

CURVE_SHARES = (0.05, 0.1, 0.2, 0.5, 1.0)
"""Shares of all candidate hours at which the curve is shown."""


@click.command()
@asks_for_a_plan
@click.option(
    "--front",
    "show_front",
    is_flag=True,
    help="Show plans from most holds lifted to most loss avoided, too.",
)
@click.option(
    "--out",
    "plan_file",
    type=click.Path(path_type=Path),
    default=None,
    help="Write the plan here: .csv, .parquet or .xlsx.",
)
@click.option(
    "--candidates",
    type=click.Path(path_type=Path),
    default=None,
    metavar="FILE",
    help="Write every set of work that was weighed here, in the same columns.",
)
@asks_of_a_fleet
def plan(
    question: FleetQuestion,
    wanted: PlanWanted,
    plan_file: Path | None,
    candidates: Path | None,
    *,
    show_front: bool,
) -> None:
    """Plan re-work at the units of FLEET: holds first, then what avoids most loss."""
    wanted.refuse_contradictions()
    for file in filter(None, (plan_file, candidates)):
        check_suffix(file)
    checked = question.read()
    asked, efforts = wanted.asked(question, checked.fleet.units)
    asked = replace(asked, with_front=show_front)
    assessor, assessment = question.judge(checked)
    asked.wishes.refuse_unknown(assessment.ranking["unit_id"])
    bundles = weighed(assessor, assessment, efforts)
    with err.status("planning"), without_chatter():
        made, front = planned(bundles, assessment, asked)
    for path, table in ((plan_file, made.jobs), (candidates, made.weighed)):
        if path is not None:
            write_table(table, path, sheet="plan")
    _tell(made, question.horizon)
    if front is not None and show_front:
        _tell_front(table_of(front, bundles, made.choice.holds + len(made.holds_left)))
    _tell_unmet(asked.wishes.unmet(bundles, asked.shutdowns, made.choice.window >= 0))
    if plan_file is not None:
        say(f"\nThe whole plan is in {plan_file}")
    say(f"\n{CAUTIONS}")


def _tell(made: Plan, horizon: int) -> None:
    jobs, windows = made.jobs, made.windows
    currency = jobs["currency"].dropna().head(1).tolist()
    code = f" {currency[0]}" if currency else ""
    say(
        f"{counted(len(jobs), 'job')}, {jobs['hours'].sum():g} of {windows['crew_hours'].sum():g} "
        f"crew-hours; {made.choice.avoided:,.0f}{code} of expected loss avoided within "
        f"{horizon} days; {counted(made.choice.holds, 'hold')} lifted"
    )
    say(f"{made.choice.words}")
    say(CREDITED)
    if jobs["starts_on"].isna().any() and (jobs["lead_days"] > 0).any():
        say("parts are taken to be there in time: see lead_days, or give the day of the shutdown")
    out.print(_table(jobs))
    if len(jobs) > SHOWN_JOBS:
        say(f"... and {len(jobs) - SHOWN_JOBS} more")
    _tell_windows(windows)
    _tell_left(made)


def _table(jobs: pd.DataFrame) -> Table:
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, show_edge=False)
    for heading in ("window", "unit", "site"):
        table.add_column(heading, overflow="fold")
    for heading in ("hours", "people", "avoided"):
        table.add_column(heading, justify="right", no_wrap=True)
    table.add_column("actions", ratio=2, overflow="fold")
    table.add_column("why", ratio=3)
    for row in jobs.head(SHOWN_JOBS).to_dict("records"):
        crane = " + crane" if row["crane"] == "yes" else ""
        table.add_row(
            *(escape(str(row[name])) for name in ("window", "unit_id", "site")),
            f"{row['hours']:g}",
            f"{row['people']}{crane}",
            f"{row['loss_avoided']:,.0f}",
            escape(actions_said(row["actions"])),
            escape(row["why"].partition("; found: ")[0]),
        )
    return table


def _tell_windows(windows: pd.DataFrame) -> None:
    if len(windows) < 2:
        return
    say("\nwindows")
    for row in windows.to_dict("records"):
        say(
            f"  {row['window']}: {counted(row['jobs'], 'job')}, {row['used']:g} of "
            f"{row['crew_hours']:g} crew-hours, {row['loss_avoided']:,.0f} avoided"
        )


def _tell_front(points: pd.DataFrame) -> None:
    say("\nfrom most holds lifted to most loss avoided, in the same hours")
    out.print(front_table(points))
    say("take one with --lift HOLDS")


def _tell_unmet(unmet: pd.DataFrame) -> None:
    for row in unmet.to_dict("records"):
        say(f"{row['unit_id']} must be in and is not: {row['why']}")


def _tell_left(made: Plan) -> None:
    if len(made.holds_left):
        say(f"\n{counted(len(made.holds_left), 'hold')} not lifted: these units must not run")
        for row in made.holds_left.head(SHOWN_JOBS).to_dict("records"):
            say(f"  {row['unit_id']} at {row['site']}: {row['why']}")
        if len(made.holds_left) > SHOWN_JOBS:
            say(f"  ... and {len(made.holds_left) - SHOWN_JOBS} more")
    if len(made.missed):
        say("\njust missed the cut")
        for row in made.missed.to_dict("records"):
            work = actions_said(row["actions"])
            say(f"  {row['unit_id']}, {work}, {row['hours']:g} h: {row['why']}")
    curve = made.curve
    whole = curve["hours"].iloc[-1]
    if whole > 0:
        say(f"\nmost that crew-hours can avoid, of {whole:,.0f} for all that was weighed")
        for share in CURVE_SHARES:
            at = curve[curve["hours"] <= share * whole + 1e-9].iloc[-1]
            say(
                f"  {at['hours']:>8,.1f} h: {at['loss_avoided']:>12,.0f}, "
                f"an hour more {at['an_hour_more']:,.0f}"
            )
