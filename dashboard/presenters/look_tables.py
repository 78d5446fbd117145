"""A route of looks as its page shows it."""

from collections.abc import Hashable, Mapping, Sequence
from html import escape
from typing import Any
from urllib.parse import urlencode

import pandas as pd

from dashboard.presenters.finding_units import unit_link
from dashboard.presenters.semantic_table import (
    first_in_a_hand,
    heading,
    site_and_line,
    table,
)
from scoring.contract import Seen
from scoring.contract.amounts_in_words import percent, rounded, thousands
from scoring.looking.look_plan import LookPlan
from scoring.walkdown_form.visit_questions import STATES

STATE_WORDS: dict[str, str] = {name: words for name, words, _ in STATES}
"""States of the machine, as kept and for a person."""

_WIDEST = {
    name: next(seen for seen in (Seen.HANGING, Seen.STOPPED, Seen.RUNNING) if seen in can_be_seen)
    for name, _, can_be_seen in STATES
}


def state_of(name: str) -> Seen:
    """Return the state of the machine as the weighing of looks knows it.

    Examples
    --------
    >>> state_of("hanging") is Seen.HANGING, state_of("running") is Seen.RUNNING
    (True, True)
    """
    return _WIDEST[name]


def hours_by_site(sites: Sequence[str], hours: float, own: Mapping[str, float]) -> dict[str, float]:
    """Return the inspector's hours at each site; a site's own go first, no hours leave it out.

    Examples
    --------
    >>> hours_by_site(["Upper pit", "Rail shed"], 8.0, {"Rail shed": 0.0})
    {'Upper pit': 8.0}
    """
    there = {site: own.get(site, hours) for site in sites}
    return {site: left for site, left in there.items() if left > 0}


def own_hours(rows: pd.DataFrame) -> dict[str, float]:
    """Return the hours that a person gave for single sites."""
    said = rows.dropna(subset="hours")
    return dict(zip(said["site"].astype(str), said["hours"].astype(float), strict=True))


def sentence(route: LookPlan) -> str:
    """Say what the hours there are may save.

    Parameters
    ----------
    route : LookPlan
        With a visit at least.
    """
    by_site = route.by_site
    unit = _currency(route.visits)
    hours, worth = by_site["hours"].sum(), rounded(float(by_site["value"].sum()))
    if len(by_site) == 1:
        return f"{hours:g} hours at {by_site['site'].iloc[0]} find what may save {worth}{unit}."
    alike = bool((by_site["hours"] == by_site["hours"].iloc[0]).all())
    each = f"{by_site['hours'].iloc[0]:g} hours at each of" if alike else f"{hours:g} hours at"
    best = by_site.iloc[int(by_site["value"].to_numpy().argmax())]
    return (
        f"{each} {len(by_site)} sites find what may save {worth}{unit}; most at {best['site']}: "
        f"{rounded(float(best['value']))} for {best['hours']:g} hours."
    )


def _currency(visits: pd.DataFrame) -> str:
    said = visits["currency"].dropna()
    return f" {said.iloc[0]}" if len(said) else ""


def settings_said(hours: float, state: str, sites: Sequence[str]) -> str:
    """Say in one line what is chosen.

    Examples
    --------
    >>> settings_said(8.0, "stopped", ["Rail shed"]).startswith("Rail shed · 8 hours · ")
    True
    """
    where = ", ".join(sites) if sites else "all sites"
    each = f"{hours:g} hours" if len(sites) == 1 else f"{hours:g} hours at each site"
    return f"{where} · {each} · {STATE_WORDS[state]} · change"


def worth_over_hours(visits: pd.DataFrame) -> pd.DataFrame:
    """Return what the first hours are worth together, the visits worth most an hour first.

    Parameters
    ----------
    visits : DataFrame
        ``minutes``, ``value``.

    Returns
    -------
    DataFrame
        ``hours``, from 0; ``worth``.
    """
    best = (visits["value"] / visits["minutes"]).sort_values(ascending=False, kind="stable").index
    ordered = visits.loc[best]
    return pd.DataFrame(
        {
            "hours": [0.0, *(ordered["minutes"].cumsum() / 60)],
            "worth": [0.0, *ordered["value"].cumsum()],
        }
    )


def half_found(table: pd.DataFrame) -> str:
    """Say in how many of the first hours half of the worth is found.

    Examples
    --------
    >>> half_found(pd.DataFrame({"hours": [0.0, 1.5, 4.0], "worth": [0.0, 60.0, 100.0]}))
    'Half of the worth is found in the first 1.5 of 4 hours'
    """
    half = table.loc[table["worth"] >= table["worth"].iloc[-1] / 2, "hours"].iloc[0]
    last = table["hours"].iloc[-1]
    return f"Half of the worth is found in the first {half:.2g} of {last:.3g} hours"


def visits_list(visits: pd.DataFrame, *, with_links: bool) -> str:
    """Return visits in the order of the walk as a table; on a narrow screen each row is a card."""
    unit = _currency(visits)
    heads = {
        "no": "nr.",
        "unit": "unit",
        "number minutes": "minutes",
        "number worth": f"worth{f',{unit}' if unit else ''}",
        "number finds": "finds something",
        "number finds-hold": "finds a hold",
        "why": "look at, with the chance that it is wrong",
    }
    if with_links:
        heads["begin"] = "walkdown"
    top = "".join(heading(escape(words), kind) for kind, words in heads.items())
    rows = "".join(_visit(row, with_links=with_links) for row in visits.to_dict("records"))
    return first_in_a_hand(table("listed visits", top, rows), len(visits))


def _visit(row: Mapping[Hashable, Any], *, with_links: bool) -> str:
    where = site_and_line(row)
    unit_id = str(row["unit_id"])
    begin = f"/walkdown/new?{urlencode({'unit': unit_id})}"
    last = f'<td role="cell" class="begin"><a href="{escape(begin)}">begin</a></td>'
    return (
        f'<tr role="row"><td role="cell" class="no">{row["order"]}</td>'
        f'<th role="rowheader" scope="row" class="unit"><a href="{escape(unit_link(unit_id))}">'
        f'{escape(unit_id)}</a><span class="where">{escape(where)}</span></th>'
        f'<td role="cell" class="number minutes">{row["minutes"]:.0f}<span class="what"> min</span>'
        "</td>"
        f'<td role="cell" class="number worth">{thousands(row["value"])}'
        '<span class="what"> worth</span></td>'
        f'<td role="cell" class="number finds">{escape(percent(row["chance_of_finding"]))}</td>'
        f'<td role="cell" class="number finds-hold">{escape(percent(row["chance_of_hold"]))}</td>'
        f'<td role="cell" class="why">{escape(str(row["why"]))}</td>{last if with_links else ""}'
        "</tr>"
    )


def sites_shown(by_site: pd.DataFrame) -> pd.DataFrame:
    """Return what the hours at each site are used for, and how near the best that is."""
    return pd.DataFrame(
        {
            "site": by_site["site"],
            "hours": by_site["hours"],
            "of them used": (by_site["minutes"] / 60).round(1),
            "visits": by_site["visits"],
            "worth": by_site["value"].round(),
            "no route is worth more than": by_site["bound"].round(),
        }
    )


def sums(route: LookPlan) -> str:
    """Say in words what a route comes to."""
    visits = route.visits
    there = route.by_site["hours"].sum()
    finds = visits["chance_of_finding"].sum()
    used = round(visits["minutes"].sum() / 60, 1)
    return (
        f"{thousands(len(visits))} visits in {used:g} of {there:g} "
        f"hours; about {finds:.0f} of them find something."
    )
