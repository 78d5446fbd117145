"""A route of looks as its page shows it."""

from collections.abc import Mapping, Sequence
from urllib.parse import urlencode

import pandas as pd

from dashboard.presenters.words import checks_said, money
from scoring.contract import Seen
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


def visits_shown(visits: pd.DataFrame, *, with_links: bool) -> pd.DataFrame:
    """Return visits as a person reads them, in the order of the walk."""
    table = pd.DataFrame(
        {
            "no.": visits["order"],
            "unit": visits["unit_id"],
            "site": visits["site"],
            "line": visits["line"].astype(object).fillna(""),
            "look at": visits["checks"].map(checks_said),
            "minutes": visits["minutes"].round(),
            "worth": visits["value"].round(),
            "chance of a finding": visits["chance_of_finding"].round(2),
            "chance of a hold": visits["chance_of_hold"].round(2),
            "why": visits["why"],
        }
    )
    if with_links:
        links = [f"/walkdown/new?{urlencode({'unit': unit})}" for unit in visits["unit_id"]]
        table.insert(2, "walkdown", links)
    return table


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


def sums(route: LookPlan) -> dict[str, str]:
    """Return what a route comes to, in words."""
    visits = route.visits
    currency = visits["currency"].dropna()
    there = route.by_site["hours"].sum()
    return {
        "visits": f"{len(visits):,}",
        "hours used": f"{visits['minutes'].sum() / 60:.1f} of {there:g}",
        "worth": money(float(visits["value"].sum()), currency.iloc[0] if len(currency) else None),
        "visits that find something": f"about {visits['chance_of_finding'].sum():.0f}",
    }
