"""The first pages of a work order: one shutdown by day and by whom, its jobs, its parts."""

from collections.abc import Mapping
from itertools import groupby
from textwrap import shorten
from typing import Any

import pandas as pd

from scoring.contract.amounts_in_words import after_amount
from scoring.contract.ranking import HOLD
from scoring.contract.rework import actions_said
from scoring.planning.days_of_a_shutdown import Daywork
from scoring.sheets.sheet_blocks import (
    Align,
    Blank,
    Block,
    Cell,
    Column,
    Facts,
    Heading,
    Prose,
    Section,
    Signatures,
    Table,
    Together,
    Verdict,
    Weight,
    Written,
)
from scoring.sheets.work_to_order import WorkToOrder

MOST_LETTERS = 40
"""A longer name of a line is cut in the tables; it stands whole on the pages of the unit. Ours."""

LEAST_SAID = 0.5
"""Less is told as nothing: it would be rounded to 0. [currency]"""

USUAL_NAME = "shutdown"
"""What a single shutdown is called that nobody named."""

HOW_DAYS_ARE_FILLED = (
    "Laid out by a plain rule, not by an optimiser: jobs that lift a hold first, then in walking "
    "order; each begins as soon as its people are free until it is done, a crane is at one job at "
    "a time, and what fits into a day is not left overnight unless more jobs fit so. Ways between "
    "units take no time. Hours, people and the length of a day are planning values: change what "
    "your crew knows better."
)

ROLES = ("planned by", "shutdown released by", "all jobs done, locks off")


def shutdown_on_paper(work: WorkToOrder, window: Mapping[Any, Any]) -> Section:
    """Return the pages of one shutdown.

    Parameters
    ----------
    work : WorkToOrder
        The plan.
    window : mapping
        A row of ``work.windows``.

    Returns
    -------
    Section
    """
    rows, days = work.days_of(window)
    jobs = _with_site(work.jobs.iloc[rows].reset_index(drop=True))
    blocks: list[Block] = [_facts(work, window, jobs, days)]
    if len(jobs):
        blocks += [Heading("Who works here"), _roster(days)]
        blocks += [Heading("Day by day"), _day_by_day(window, jobs, days)]
        blocks += [Prose(HOW_DAYS_ARE_FILLED, Weight.QUIET)]
        blocks += _not_fitting(jobs, days)
        blocks += [Heading("Jobs"), _jobs(jobs)]
        blocks += _parts(work, rows, window)
    else:
        blocks.append(Prose("No job is planned in this shutdown."))
    blocks.append(Signatures(ROLES))
    return Section("Work order of a shutdown", tuple(blocks), _called(window))


def holds_on_paper(work: WorkToOrder) -> Section | None:
    """Return the units that stay on hold, and those of the plan that are gone; None for neither."""
    blocks: list[Block] = []
    left = work.holds_left
    if len(left):
        blocks += [
            Verdict(
                f"■ Must not run, and not freed by this plan: {len(left)}",
                hold=True,
                why="Whoever works in this shutdown leaves their locks where they are.",
            ),
            Table(
                (Column("unit", share=2), Column("site", share=2), Column("why it stays", share=4)),
                tuple(
                    (Written(row["unit_id"]), Written(row["site"]), row["why"])
                    for row in left.to_dict("records")
                ),
            ),
        ]
    if work.gone:
        blocks += [
            Heading("In the plan, and no longer in service"),
            Prose(Written(", ".join(work.gone))),
        ]
    return Section("What stays on hold", tuple(blocks)) if blocks else None


def _called(window: Mapping[Any, Any]) -> str:
    """Name a shutdown: its own name, and the sites it is open for."""
    name = str(window["window"])
    if pd.isna(window["sites"]):
        return name if name == USUAL_NAME else Written(name)
    return Written(f"{name} · {window['sites']}")


def _facts(
    work: WorkToOrder, window: Mapping[Any, Any], jobs: pd.DataFrame, days: Daywork
) -> Facts:
    used, hours = float(jobs["hours"].sum()), window["crew_hours"]
    lifts = int(((jobs["verdict"] == HOLD) & (jobs["verdict_after"] != HOLD)).sum())
    given = "" if days.people_given else ", as many as the largest job needs"
    starts = window["starts_on"]
    return Facts(
        (
            ("begins on", Blank.LINE if pd.isna(starts) else str(starts.date())),
            ("jobs", f"{len(jobs)}"),
            ("people there at once", f"{days.people}{given}"),
            ("days", f"{days.days} of {days.hours_a_day:g} hours"),
            ("crew-hours", f"{used:g}" if pd.isna(hours) else f"{used:g} of {hours:g}"),
            ("jobs with a crane", f"{int((jobs['crane'] == 'yes').sum())}"),
            ("holds lifted", f"{lifts}"),
            (
                f"loss avoided within {work.assessment.horizon_days} days",
                _money(jobs["loss_avoided"].sum(), jobs["currency"].dropna().max()),
            ),
        )
    )


def _money(value: float, currency: object) -> str:
    return f"{value:,.0f}{after_amount(currency)}"


def _roster(days: Daywork) -> Facts:
    """Return the people by number, each with room for a name."""
    used = sorted({one for who in days.spells["who"] for one in who})
    return Facts(tuple((f"{one}", Blank.LINE) for one in used), columns=3)


def _where(row: Mapping[Any, Any]) -> Written:
    """Return a unit with its line, else its site, as their people name them."""
    place = row["line"] if pd.notna(row["line"]) else row["site"]
    return Written(f"{row['unit_id']}\n{shorten(str(place), MOST_LETTERS, placeholder='…')}")


def _with_site(jobs: pd.DataFrame) -> pd.DataFrame:
    """Name the site beside the line, where a shutdown has several."""
    if jobs["site"].nunique() < 2:
        return jobs
    line = jobs["line"].astype(object)
    both = line.str.cat(jobs["site"].astype(object), sep=", ")
    return jobs.assign(line=both.where(line.notna(), jobs["site"]))


def _crane(row: Mapping[Any, Any]) -> str:
    return "crane" if row["crane"] == "yes" else ""


def _day_by_day(window: Mapping[Any, Any], jobs: pd.DataFrame, days: Daywork) -> Table:
    rows: list[tuple[Cell, ...]] = []
    spells = days.spells.to_dict("records")
    for day, of_day in groupby(spells, key=lambda spell: int(spell["day"])):
        for nth, spell in enumerate(of_day):
            job = jobs.iloc[spell["job"]]
            rest = "goes on next day" if spell["goes_on"] else ""
            more = "\n".join(filter(None, (_crane(job), rest)))
            rows.append(
                (
                    "" if nth else _day(day, window["starts_on"]),
                    f"{spell['begins_h']:.1f} to {spell['ends_h']:.1f}",
                    ", ".join(str(one) for one in spell["who"]),
                    _where(job),
                    actions_said(job["actions"]) + (f"\n{more}" if more else ""),
                    Blank.BOX,
                )
            )
    return Table(
        (
            Column("day"),
            Column("hours of the day"),
            Column("who", share=1),
            Column("unit and line", share=3),
            Column("work", share=3),
            Column("done"),
        ),
        tuple(rows),
    )


def _day(day: int, starts_on: object) -> str:
    if not isinstance(starts_on, pd.Timestamp) or pd.isna(starts_on):
        return f"{day}"
    return f"{day}\n{(starts_on + pd.Timedelta(days=day - 1)).date()}"


def _not_fitting(jobs: pd.DataFrame, days: Daywork) -> list[Block]:
    """Return the jobs for which people, crane and hours left no room."""
    if not len(days.not_fitting):
        return []
    left = jobs.iloc[days.not_fitting].to_dict("records")
    return [
        Heading("In the plan, but without room in these days"),
        Prose(
            "Their hours are there in sum, but not for so many people, or with the crane, at once. "
            "Give more people or hours, or do them when others are done sooner."
        ),
        Table(
            (
                Column("unit and line", share=2),
                Column("work", share=3),
                Column("crew-hours", Align.RIGHT),
                Column("people", Align.RIGHT),
                Column("crane"),
            ),
            tuple(
                (
                    _where(row),
                    actions_said(row["actions"]),
                    f"{row['hours']:g}",
                    f"{row['people']}",
                    _crane(row),
                )
                for row in left
            ),
        ),
    ]


def _jobs(jobs: pd.DataFrame) -> Table:
    return Table(
        (
            Column("nr.", Align.RIGHT),
            Column("unit and line", share=6),
            Column("work", share=5),
            Column("crew-hours", Align.RIGHT),
            Column("people", Align.RIGHT),
            Column("parts come in", Align.RIGHT, share=2),
            Column("what it buys", share=5),
        ),
        tuple(
            (
                f"{row['order']}",
                _where(row),
                actions_said(row["actions"]),
                f"{row['hours']:g}",
                "\n".join(filter(None, (f"{row['people']}", _crane(row)))),
                f"{row['lead_days']} days" if row["lead_days"] else "",
                what_it_buys(row),
            )
            for row in jobs.to_dict("records")
        ),
    )


def what_it_buys(job: Mapping[Any, Any]) -> str:
    """Say what a job buys: a hold that it lifts, and the loss that it avoids."""
    lifts = job["verdict"] == HOLD and job["verdict_after"] != HOLD
    avoids = f"avoids {_money(job['loss_avoided'], job['currency'])}"
    if lifts and job["loss_avoided"] < LEAST_SAID:
        return "lifts the hold"
    return f"lifts the hold; {avoids}" if lifts else avoids


def _parts(work: WorkToOrder, rows: Any, window: Mapping[Any, Any]) -> list[Block]:  # noqa: ANN401
    """Return the parts of all jobs, the last to come first."""
    needed: dict[tuple[str, int], list[str]] = {}
    for row in rows:
        for part, days in work.parts_at(row):
            needed.setdefault((part, days), []).append(str(work.jobs["unit_id"].iloc[row]))
    if not needed:
        return [Heading("Parts"), Prose("No job needs a part.")]
    starts = window["starts_on"]

    def order_by(days: int) -> str:
        open_end = pd.isna(starts) or not days
        return "" if open_end else str((starts - pd.Timedelta(days=days)).date())

    table = Table(
        (
            Column("part", share=3),
            Column("for", Align.RIGHT),
            Column("units", share=4),
            Column("comes in", Align.RIGHT),
            Column("order by"),
            Column("here"),
        ),
        tuple(
            (
                part,
                f"{len(units)}",
                Written(", ".join(units)),
                f"{days} days" if days else "at once",
                order_by(days),
                Blank.BOX,
            )
            for (part, days), units in sorted(
                needed.items(), key=lambda one: (-one[0][1], one[0][0])
            )
        ),
    )
    return [
        Heading("Parts"),
        table,
        Together(
            (
                Prose(
                    "So many units need the part; sizes and numbers of pieces are those of each "
                    "unit's own manual.",
                    Weight.QUIET,
                ),
            )
        ),
    ]
