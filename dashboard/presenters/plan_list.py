"""The jobs of a plan as a list to act on: one row a job, as HTML."""

import re
from collections.abc import Callable, Mapping
from html import escape
from typing import Any

import pandas as pd

from dashboard.presenters.finding_units import unit_link
from dashboard.presenters.semantic_table import (
    cell,
    first_in_a_hand,
    heading,
    site_and_line,
    table,
    unit_cell,
    verdict_marked,
)
from dashboard.presenters.words import in_currency
from scoring.contract.amounts_in_words import percent, thousands
from scoring.contract.rework import actions_said

LISTED = 40
"""So many jobs are listed; the file has all."""

UNITS_NAMED = 40
"""Of units that stay on hold for one reason, so many are named."""

NAMED_FIRST = "leaves what the ranking names first: "

_CHANGE = re.compile(r"(?P<failure>.+) (?P<before>[\d.]+)% -> (?P<after>[\d.]+)%")

Link = Callable[[str], str]
"""From a unit's id to an address."""


def why_said(why: str) -> str:
    """Say why work is done, without what has a column of its own.

    Examples
    --------
    >>> why_said("lifts the hold; avoids 9 of 12; seal leak 12.2% -> 9.0%; joint slip 0.1% -> 0.1%")
    'lifts the hold; seal leak 12 % → 9.0 %'
    >>> why_said("leaves what the ranking names first: change oil; open breather")
    'leaves for later what the ranking names first: change oil; open breather'
    """
    words, marked, later = why.partition(NAMED_FIRST)
    parts = (part for part in words.split("; ") if part and not part.startswith("avoids "))
    said = "; ".join(filter(None, map(_change_said, parts))).rstrip("; ")
    if not marked:
        return said
    rest = f"leaves for later what the ranking names first: {later}"
    return f"{said}; {rest}" if said else rest


def _change_said(part: str) -> str:
    """Say how a chance changes; nothing where it does not, and anything else as it is."""
    found = _CHANGE.fullmatch(part)
    if not found:
        return part.replace("%", " %")
    before, after = (percent(float(found[end]) / 100) for end in ("before", "after"))
    return "" if before == after else f"{found['failure']} {before} → {after}"


def list_of_jobs(
    jobs: pd.DataFrame,
    must_in: frozenset[str],
    currency: object,
    leave_out: Link | None,
    *,
    several: bool,
) -> str:
    """Return the jobs of a plan as a table; on a narrow screen each row is a card.

    Parameters
    ----------
    jobs : DataFrame
        ``Plan.jobs``.
    must_in : frozenset of str
        Units that somebody forced in.
    currency : str, optional
        Of the loss.
    leave_out : callable, optional
        Where a link leads that leaves a unit out; none where a link cannot keep the shutdowns.
    several : bool
        Whether each job needs the name of its shutdown.
    """
    heads = [("", ""), ("unit", "")]
    heads += [("shutdown", "")] if several else []
    heads += [
        ("what to do", ""),
        ("crew-hours", "number"),
        (escape(in_currency("loss avoided", currency)), "number"),
    ]
    heads += [("why", "")] + ([("in or out", "")] if leave_out else [])
    return _table(
        heads,
        [
            _job(row, leave_out, forced=row["unit_id"] in must_in, several=several)
            for row in jobs.head(LISTED).to_dict("records")
        ],
    )


def _job(row: Mapping[Any, Any], leave_out: Link | None, *, forced: bool, several: bool) -> str:
    unit = str(row["unit_id"])
    crane = ", crane" if row["crane"] == "yes" else ""
    people = f"{row['people']} {'person' if row['people'] == 1 else 'people'}{crane}"
    verdict = f"{verdict_marked(row['verdict'])} → {verdict_marked(row['verdict_after'])}"
    where = site_and_line(row)
    cells = [
        cell(f"{row['order']}", "rank"),
        unit_cell(unit, f"{escape(where)}<br>{verdict}"),
        *([cell(escape(str(row["window"])))] if several else []),
        cell(escape(actions_said(row["actions"]))),
        cell(
            f'{row["hours"]:g}<span class="of"> crew-hours</span>'
            f'<span class="where">{escape(people)}</span>',
            "number",
        ),
        cell(f'<span class="of">avoids </span>{thousands(row["loss_avoided"])}', "number"),
        cell(f'<span class="few">{escape(why_said(row["why"]))}</span>', "why"),
    ]
    if leave_out:
        must = "must be in · " if forced else ""
        label = escape(f"leave out {unit}")
        cells.append(
            cell(
                f'{must}<a href="{escape(leave_out(unit))}" aria-label="{label}">leave out</a>',
                "act",
            )
        )
    return f'<tr role="row">{"".join(cells)}</tr>'


def list_of_missed(missed: pd.DataFrame, currency: object, put_in: Link | None) -> str:
    """Return the work that just missed the cut, the most loss avoided an hour first."""
    heads = [("unit", ""), ("what to do", ""), ("crew-hours", "number")]
    heads += [(escape(in_currency("loss avoided", currency)), "number"), ("why not", "")]
    heads += [("in or out", "")] if put_in else []
    rows = []
    for row in missed.to_dict("records"):
        unit = str(row["unit_id"])
        cells = [
            unit_cell(unit, escape(str(row["site"]))),
            cell(escape(actions_said(row["actions"]))),
            cell(f'{row["hours"]:g}<span class="of"> crew-hours</span>', "number"),
            cell(f'<span class="of">avoids </span>{thousands(row["loss_avoided"])}', "number"),
            cell(escape(row["why"].partition("; avoids ")[0]), "why"),
        ]
        if put_in:
            label = escape(f"put in {unit}")
            link = f'<a href="{escape(put_in(unit))}" aria-label="{label}">put in</a>'
            cells.append(cell(link, "act"))
        rows.append(f'<tr role="row">{"".join(cells)}</tr>')
    return _table(heads, rows)


def list_of_holds_left(left: pd.DataFrame) -> str:
    """Return the units that stay on hold, by why each stays, as HTML."""
    rows = []
    for why, units in left.groupby("why", sort=False)["unit_id"]:
        links = ", ".join(
            f'<a href="{escape(unit_link(one))}">{escape(one)}</a>' for one in units[:UNITS_NAMED]
        )
        more = len(units) - UNITS_NAMED
        rest = f" and {more} more" if more > 0 else ""
        rows.append(
            f'<li>{escape(str(why))}: {len(units)}<span class="then">{links}{rest}</span></li>'
        )
    return f'<ul class="holds">{"".join(rows)}</ul>'


def _table(heads: list[tuple[str, str]], rows: list[str]) -> str:
    shown = table("jobs", "".join(heading(*one) for one in heads), "".join(rows))
    return first_in_a_hand(shown, len(rows))
