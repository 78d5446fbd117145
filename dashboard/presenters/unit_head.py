"""The first screen of a unit's page: verdict and why, what to do first, chances; as HTML."""

from collections.abc import Hashable, Mapping
from dataclasses import dataclass
from html import escape
from typing import Any

import pandas as pd

from dashboard.presenters.ranked_list import interval_bar
from dashboard.presenters.unit_sheet import probabilities
from dashboard.presenters.words import (
    VERDICT_WORDS,
    chance,
    day_said,
    first_action_said,
)
from scoring.contract.amounts_in_words import after_amount, rounded, span_said, thousands
from scoring.contract.ranking import HOLD
from scoring.contract.rework import ACTION_BY_NAME
from scoring.contract.verdict_words import VERDICT_MEANS
from scoring.explanation import Explanation
from scoring.looking.next_look import NextLook
from scoring.planning.bundles import SMALLEST
from scoring.rules.rule import Severity

LOOK_AT = "look at: "

NOBODY = "Told: nobody on record."


@dataclass(frozen=True)
class Hold:
    """One reason why a unit must not run.

    Attributes
    ----------
    reason : str
        What was found.
    seen_on : str
        The day on which it was seen; empty for what is worked out.
    seen_by : str
        Who saw it, where that is on record.
    """

    reason: str
    seen_on: str
    seen_by: str


def holds(explanation: Explanation, walkdowns: pd.DataFrame) -> list[Hold]:
    """Return why a unit must not run, each with when and by whom it was seen.

    Parameters
    ----------
    explanation : Explanation
        What is said of the unit.
    walkdowns : DataFrame
        All of the fleet: ``unit_id``, ``inspected_on``, ``inspector``.
    """
    found = explanation.findings
    grave = found[(found["severity"] == int(Severity.HOLD)) & (found["accepted"] == "")]
    of_unit = walkdowns[walkdowns["unit_id"] == explanation.ranked["unit_id"]]
    days = pd.to_datetime(of_unit["inspected_on"]).dt.date
    said = []
    for row in grave.to_dict("records"):
        seen_on = pd.Timestamp(row["seen_on"])
        if pd.isna(seen_on):
            said.append(Hold(str(row["reason"]), "", ""))
            continue
        by = of_unit.loc[days == seen_on.date(), "inspector"].dropna().unique()
        said.append(
            Hold(
                str(row["reason"]),
                day_said(seen_on),
                " and ".join(str(one) for one in by),
            )
        )
    return said


def seen_by(walkdowns: pd.DataFrame, day: pd.Timestamp) -> pd.DataFrame:
    """Return the walkdowns up to a day.

    Parameters
    ----------
    walkdowns : DataFrame
        ``inspected_on``, a text that begins with the day.
    day : Timestamp
        The day.

    Examples
    --------
    >>> then = pd.DataFrame({"inspected_on": ["2026-03-31 14:00", "2026-04-01"]})
    >>> len(seen_by(then, pd.Timestamp("2026-03-31")))
    1
    """
    return walkdowns[walkdowns["inspected_on"].astype(object).str[:10] <= str(day.date())]


def told_words(walkdowns: pd.DataFrame | None) -> str:
    """Say who was told of a hold, by the last walkdown that was signed with one.

    Parameters
    ----------
    walkdowns : DataFrame, optional
        What was signed of the unit, the last first: ``verdict``, ``told``. None over files.
    """
    if walkdowns is None or walkdowns.empty:
        return NOBODY
    named = walkdowns["told"].astype(object).fillna("").str.strip()
    told = named[(walkdowns["verdict"].astype(object) == HOLD) & (named != "")]
    return f"Told: {told.iloc[0]}." if len(told) else NOBODY


def must_not_run(reasons: list[Hold], told: str) -> str:
    """Return the strong block of a unit that must not run."""
    said = "".join(
        f"<p><b>{_sentence(one.reason)}</b><br>{escape(_seen(one))}</p>" for one in reasons
    )
    return f'<div class="must-not-run"><h2>■ must not run</h2>{said}<p>{escape(told)}</p></div>'


def _seen(hold: Hold) -> str:
    if not hold.seen_on:
        return "Worked out from what was seen and what is on record."
    if not hold.seen_by:
        return f"Last seen on {hold.seen_on}."
    return f"Last seen on {hold.seen_on} by {hold.seen_by}."


def _sentence(words: str) -> str:
    return escape(f"{words[:1].upper()}{words[1:]}.")


def verdict_block(verdict: str, reasons: object) -> str:
    """Return the verdict of a unit that may run, with its shape, what it means, and why."""
    said = f"<p>{_sentence(reasons)}</p>" if isinstance(reasons, str) else ""
    means = VERDICT_MEANS[verdict]
    return (
        f'<div class="may-run"><h2 class="v-{escape(verdict)}">{VERDICT_WORDS[verdict]}</h2>'
        f"<p>{_sentence(means)}</p>{said}</div>"
    )


def look_again_said(look: NextLook | None, as_of: pd.Timestamp) -> str:
    """Say by when a unit is to be looked at again; nothing where no check has to be seen again.

    Parameters
    ----------
    look : NextLook, optional
        The next look that is due.
    as_of : Timestamp
        The day of which the page speaks.

    Examples
    --------
    >>> look = NextLook(pd.Timestamp("2026-07-03"), ("oil level", "guard"))
    >>> look_again_said(look, pd.Timestamp("2026-06-30"))
    'To be looked at again by 3 July 2026: oil level, guard.'
    >>> look_again_said(look, pd.Timestamp("2026-07-04"))
    'A look has been due since 3 July 2026: oil level, guard.'
    """
    if look is None:
        return ""
    day, checks = day_said(look.by), ", ".join(look.checks)
    if as_of.normalize() <= look.by:
        return f"To be looked at again by {day}: {checks}."
    return f"A look has been due since {day}: {checks}."


def first_names(explanation: Explanation) -> list[str]:
    """Return the actions that the gravest finding not accepted asks for; none where it has none."""
    found = explanation.findings
    named = found.loc[(found["accepted"] == "") & (found["action"] != ""), "action"]
    return str(named.iloc[0]).split(";") if len(named) else []


def first_block(
    first_action: object, answer: Mapping[Hashable, Any] | None, reasons: object = None
) -> str:
    """Return what to do first, what it takes and what it buys.

    Parameters
    ----------
    first_action : str, optional
        As in the ranking.
    answer : mapping, optional
        The row that ``what_if`` answers of this work; none where no re-work is named.
    reasons : str, optional
        What was said above it; checks that it names are not named again.
    """
    words = first_action_said(first_action)
    if not words:
        return ""
    checks = words.removeprefix(LOOK_AT)
    if checks != words and checks in str(reasons):
        words = "look at what was not seen"
    lines = (
        "" if answer is None else f"<p>{escape(work_said(answer))}</p><p>{escape(buys(answer))}</p>"
    )
    return f'<div class="first"><p><b>First:</b> {escape(words)}.</p>{lines}</div>'


def work_said(answer: Mapping[Hashable, Any]) -> str:
    """Say hours, people, crane, parts and how long these take to come."""
    people = int(answer["people"])
    said = [
        f"{answer['hours']:g} crew-hours",
        "one person" if people == 1 else f"{people} people at once",
        "with a crane" if answer["crane"] else "no crane",
    ]
    efforts = [ACTION_BY_NAME[name].effort for name in str(answer["actions"]).split(";")]
    parts = list(dict.fromkeys(part for effort in efforts for part in effort.parts))
    if parts:
        said.append(f"parts: {', '.join(parts)}")
    if answer["lead_days"]:
        said.append(f"parts take {answer['lead_days']:g} days to come")
    return f"{'; '.join(said)}."


def buys(answer: Mapping[Hashable, Any]) -> str:
    """Say what work buys: a hold lifted, and loss avoided of what is expected."""
    said = []
    if answer["verdict"] == HOLD:
        lifted = answer["verdict_after"] != HOLD
        said.append("Lifts the hold" if lifted else "The unit stays on hold all the same")
    avoided = float(answer["loss_avoided"])
    currency = answer["currency"]
    unit = after_amount(currency)
    if avoided > SMALLEST:
        cost = float(answer["cost"])
        said.append(
            f"{'avoids' if said else 'Avoids'} {rounded(avoided)}{unit} of expected loss, "
            f"for {rounded(cost)}{unit} of work and parts"
        )
    return f"{'; '.join(said)}." if said else "By the records it avoids no loss."


def chances_block(explanation: Explanation, units: int) -> str:
    """Return the three chances as interval bars, the expected loss and the rank."""
    rows = "".join(
        f'<tr><th scope="row">{escape(row["failure"])}</th>'
        f"<td>{interval_bar(row['chance'], row['low'], row['high'])}</td>"
        f'<td class="number">{escape(chance(row["chance"], row["low"], row["high"]))}</td></tr>'
        for row in probabilities(explanation).to_dict("records")
    )
    ranked = explanation.ranked
    span = span_said(int(ranked["horizon_days"]))
    loss = f"{rounded(float(ranked['expected_loss']))}{after_amount(ranked['currency'])}"
    return (
        f'<table class="chances"><caption>Chance within {span}, with its 90 % interval</caption>'
        '<thead><tr><td></td><td><span class="axis"><i>0.1</i><i>1</i><i>10 %</i></span></td>'
        f"<td></td></tr></thead><tbody>{rows}</tbody></table>"
        f'<p class="loss">Expected loss within {span}: <b>{escape(loss)}</b>; '
        f"rank {thousands(float(ranked['rank']))} of {thousands(units)}.</p>"
    )


def findings_table(found: pd.DataFrame) -> str:
    """Return the findings of a unit, numbered as in its pictures.

    Parameters
    ----------
    found : DataFrame
        As ``unit_sheet.findings`` gives them.
    """
    heads = ("nr.", "asks for", "found", "seen on", "cure", "why it matters")
    top = "".join(f'<th scope="col">{escape(name)}</th>' for name in heads)
    rows = "".join(
        "<tr>"
        + "".join(
            f'<td class="{name.replace(" ", "-").strip(".")}">{escape(_cell(row[name]))}</td>'
            for name in heads
        )
        + "</tr>"
        for row in found.assign(
            found=[
                f"{what} (accepted: {why})" if why else what
                for what, why in zip(found["found"], found["accepted"], strict=True)
            ]
        ).to_dict("records")
    )
    return f'<table class="listed"><thead><tr>{top}</tr></thead><tbody>{rows}</tbody></table>'


def nothing_found(not_seen: object) -> str:
    """Say that nothing was found, and how much nobody has seen.

    Examples
    --------
    >>> nothing_found("key; guard")
    'Nothing was found, but 2 checks were not seen. Never a permission to run.'
    >>> nothing_found(None)
    'No finding. Never a permission to run.'
    """
    unseen = len(not_seen.split("; ")) if isinstance(not_seen, str) and not_seen else 0
    if not unseen:
        return "No finding. Never a permission to run."
    checks = "1 check was" if unseen == 1 else f"{unseen} checks were"
    return f"Nothing was found, but {checks} not seen. Never a permission to run."


def _cell(value: Any) -> str:  # noqa: ANN401  # a cell of any kind
    if pd.isna(value):
        return ""
    return str(value.date()) if isinstance(value, pd.Timestamp) else str(value)
