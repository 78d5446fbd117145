"""What the first page says: whose plant, how it stands, what the words mean, where to go."""

from dataclasses import dataclass
from html import escape

import pandas as pd

from dashboard.presenters.words import VERDICT_WORDS
from scoring.access.acts import Act
from scoring.access.who_asks import Asker
from scoring.contract.amounts_in_words import thousands
from scoring.contract.ranking import HOLD, VERDICTS
from scoring.contract.verdict_words import VERDICT_MEANS


@dataclass(frozen=True)
class Door:
    """A way on, for somebody with a task of theirs."""

    who: str
    to: str
    what: str
    act: Act = Act.SEE


TODAY, WALKDOWNS = "/today", "/walkdowns"

DOORS = (
    Door(
        "I look at machines", "/walkdowns", "begin a walkdown, go on with one, take a route along"
    ),
    Door("I decide what is mended", "/fix", "units in the order of what they may cost, and why"),
    Door(
        "I answer for the plant",
        "/trend",
        "whether it gets better, what stands still, for how long",
        Act.SEE_TREND,
    ),
)


def how_it_stands(ranking: pd.DataFrame) -> str:
    """Say how many units must not run, and at how many something critical was not seen.

    Parameters
    ----------
    ranking : DataFrame
        ``verdict`` and ``not_seen``, one row a unit in service.

    Examples
    --------
    >>> how_it_stands(pd.DataFrame({"verdict": ["hold", "watch"], "not_seen": ["guard", None]}))
    'Of 2 units in service 1 must not run; at 1 nobody has seen every critical check.'
    """
    held = int((ranking["verdict"].astype(object) == HOLD).sum())
    unseen = int(ranking["not_seen"].notna().sum())
    first = f"Of {thousands(len(ranking))} units in service {held or 'none'} must not run"
    if not unseen:
        return f"{first}; every critical check has been seen at all of them."
    return f"{first}; at {thousands(unseen)} nobody has seen every critical check."


def verdicts(ranking: pd.DataFrame) -> str:
    """Return each verdict with its shape, what it means and at how many units, as HTML."""
    counted = ranking["verdict"].astype(object).value_counts()
    rows = "".join(
        f'<tr role="row"><th role="rowheader" scope="row" class="v-{verdict}">'
        f"{escape(VERDICT_WORDS[verdict])}</th>"
        f'<td role="cell">{escape(VERDICT_MEANS[verdict])}</td>'
        f'<td role="cell" class="number"><a href="/fix?verdict={verdict}">'
        f"{thousands(counted.get(verdict, 0))} units</a></td></tr>"
        for verdict in VERDICTS
    )
    return f'<table role="table" class="verdicts"><tbody role="rowgroup">{rows}</tbody></table>'


def doors(asker: Asker, *, into_a_store: bool) -> str:
    """Return the ways on that somebody may take, each as large as a thumb, as HTML.

    Parameters
    ----------
    asker : Asker
        Who sees the page.
    into_a_store : bool
        Whether walkdowns can be entered; then an inspector's way leads to what is due today.
    """
    parts = "".join(
        f'<a class="door" href="{TODAY if into_a_store and door.to == WALKDOWNS else door.to}">'
        f"<b>{escape(door.who)}</b>"
        f"<span>{escape(door.what)}</span></a>"
        for door in DOORS
        if asker.may(door.act)
    )
    return f'<nav class="doors" aria-label="where to go">{parts}</nav>'
