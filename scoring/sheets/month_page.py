"""The manager's month on one page: is it getting better, what is at risk, what nobody knows."""

import numpy as np
import pandas as pd

from scoring.contract.amounts_in_words import after_amount, rounded, span_said, thousands
from scoring.drawing.holds_over_months import draw_holds
from scoring.drawing.money_over_months import draw_money
from scoring.drawing.right_beside_luck import Group, draw_right_beside_luck
from scoring.sheets.drawing_on_paper import Drawing
from scoring.sheets.foot_of_pages import foot_of_pages
from scoring.sheets.month_results import MonthResults
from scoring.sheets.sheet_blocks import (
    Align,
    Beside,
    Block,
    Column,
    Heading,
    Prose,
    Section,
    Sheet,
    Table,
    Weight,
    Written,
)
from scoring.trends import holds_by_age
from scoring.trends.after_rework import LOOK_AFTER_REWORK_DAYS
from scoring.trends.better_sentences import (
    YEAR_DAYS,
    Sentence,
    first_time_right_sentence,
    holds_sentence,
    holds_title,
    money_sentence,
    rework_sentence,
    share_said,
    unseen_sentence,
)
from scoring.trends.funnel import ABOVE, BELOW, WITHIN
from scoring.trends.month_ends import AGE_LABELS
from scoring.trends.sites_and_crews import NOT_WRITTEN_DOWN

MONTHS = 13
"""This month's end and those of the twelve months before it. Ours."""

WORST, BEST = 4, 2
"""So many sites are listed where there are more; ours, so that all stands on one page."""

MOST_LETTERS = 26
"""A longer name of a site is cut. Ours."""

MOST_LETTERS_OF_FLEET = 70
"""A longer name of a fleet is cut. Ours."""

NEVER_KNOWN = (
    "What a single year brings scatters far more than the interval of its mean. Why a site or a "
    "crew differs is not known from these figures: the work, the machines or who looked."
)

STANDS = {ABOVE: "more often", BELOW: "less often"}
"""Beyond what luck makes."""


def month_page(results: MonthResults, fleet_name: str) -> Sheet:
    """Return the manager's month.

    Parameters
    ----------
    results : MonthResults
        What it rests on.
    fleet_name : str
        As the person gave it.

    Returns
    -------
    Sheet
        One page, however large the fleet.
    """
    units = results.assessment.known.units
    title = "Is it getting better?"
    size = f"{thousands(len(units))} units in service; sites: {units['site'].nunique()}"
    blocks: tuple[Block, ...] = (
        Prose(Written(_cut(fleet_name, MOST_LETTERS_OF_FLEET)), Weight.STRONG),
        *_sentences(results),
        Beside((_money(results), _holds(results))),
        Beside((_groups(results), _sites(results))),
        *_rework_and_looks(results),
        Heading("What is not known"),
        Prose(_not_known(results), Weight.QUIET),
    )
    below = f"{size}, {results.as_of:%Y-%m-%d}; basis: {results.assessment.yardstick.basis}"
    section = Section(title, blocks, below)
    return Sheet(title, (section,), foot_of_pages(results.fleet, results.as_of))


def _sentences(results: MonthResults) -> tuple[Block, ...]:
    """Say the three sentences, what each is about at the left."""
    span = span_said(results.assessment.horizon_days)
    said = (
        ("money at risk", money_sentence(results.units, results.currency or None, span)),
        ("must not run", holds_sentence(results.units, results.states, results.told)),
        (
            "right the first time",
            first_time_right_sentence(results.installations, results.as_of),
        ),
    )
    return tuple(_sentence(about, one) for about, one in said)


def _sentence(about: str, said: Sentence | None) -> Block:
    verdict, rest = (said.verdict, said.rest) if said else ("Cannot be told", "None is on record.")
    left = (Prose(verdict, Weight.STRONG), Prose(about, Weight.QUIET))
    return Beside((left, (Prose(_as_sentence(rest)),)), (1.0, 4.6))


def _cut(name: str, most: int) -> str:
    """Return a name, its end left out where it is too long for one line."""
    return name if len(name) <= most else f"{name[: most - 1]}…"


def _as_sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}"


def _money(results: MonthResults) -> tuple[Block, ...]:
    """Draw what is at risk, and say what the picture shows."""
    states = results.states[::-1]
    losses = [(one.loss.mean, one.loss.low, one.loss.high) for one in states]
    first, last = states[0].loss, states[-1].loss
    code = after_amount(results.currency or None)
    words = (
        f"Line: expected loss of all units within a year, {rounded(first.mean)}{code} at first, "
        f"{rounded(last.mean)}{code} now. Hatched: 90 % interval, now {rounded(last.low)} to "
        f"{rounded(last.high)}; what is unsure moves all months together."
    )
    picture = draw_money(_months(results), losses, results.currency)
    return (Heading("Money at risk"), Drawing(picture, picture.width), Prose(words, Weight.QUIET))


def _months(results: MonthResults) -> list[str]:
    return [f"{one.day:%Y-%m}" for one in results.states[::-1]]


def _holds(results: MonthResults) -> tuple[Block, ...]:
    """Draw open holds by age, and say what the picture shows."""
    by_age = holds_by_age(results.states)
    table = by_age.pivot_table(index="month_end", columns="age", values="holds", sort=True)
    counts = table[list(AGE_LABELS)].to_numpy(np.int64).tolist()
    words = "No unit is on hold." if not sum(counts[-1]) else f"On hold: {holds_title(by_age)}."
    picture = draw_holds(_months(results), counts, AGE_LABELS)
    said = f"Bars: units that must not run, at each month's end, by how long so far. {words}"
    return (
        Heading("Units that must not run"),
        Drawing(picture, picture.width),
        Prose(said, Weight.QUIET),
    )


def _groups(results: MonthResults) -> tuple[Block, ...]:
    """Draw sites and crews beside luck; nobody is named in it, and no crew in the words."""
    heading = Heading("Right the first time: sites and crews")
    funnels = results.funnels
    groups = [
        Group(
            by == "site",
            int(one["of"]),
            one["share"],
            one["low"],
            one["high"],
            one["stands"] != WITHIN,
        )
        for by, table in funnels.items()
        for name, one in table.to_dict("index").items()
        if name != NOT_WRITTEN_DOWN
    ]
    if not groups:
        return (heading, Prose("No installation could be judged, so nothing is drawn."))
    words = (
        "Squares: sites, circles: crews; thin lines: where 9 in 10 fleets lie in which all are "
        f"alike. {_who_lies_outside(funnels)}"
    )
    picture = draw_right_beside_luck(groups)
    return (heading, Drawing(picture, picture.width), Prose(words, Weight.QUIET))


def _who_lies_outside(funnels: dict[str, pd.DataFrame]) -> str:
    """Count who differs by more than luck; sites stand in the table beside, crews in no list."""
    (sites_above, sites_below), (crews_above, crews_below) = (
        [int((funnels[by]["stands"] == stands).sum()) for stands in (ABOVE, BELOW)]
        for by in ("site", "installer")
    )
    return (
        f"Filled: beyond luck. Sites more often right: {sites_above}, less often: {sites_below}; "
        f"crews more often right: {crews_above}, less often: {crews_below}."
    )


def _sites(results: MonthResults) -> tuple[Block, ...]:
    """List sites by loss a unit, the worst first; where they are many the worst and the best."""
    columns = (
        Column("site", share=1.0),
        Column("on hold", Align.RIGHT),
        Column("loss", Align.RIGHT),
        Column("right first time", Align.RIGHT),
    )
    right = results.funnels["site"]
    here = results.units[results.units["loss_now"].notna()]
    table = here.groupby("site").agg(
        held=("held_now", "sum"), units=("held_now", "size"), loss=("loss_now", "mean")
    )
    table = table.sort_values("loss", ascending=False, kind="stable")
    left_out = max(len(table) - WORST - BEST, 0)
    shown = table if not left_out else pd.concat([table.head(WORST), table.tail(BEST)])
    rows: list[tuple[str, ...]] = [
        (
            Written(_cut(str(site), MOST_LETTERS)),
            f"{int(one['held'])} of {int(one['units'])}",
            rounded(one["loss"]),
            _right(right, str(site)),
        )
        for site, one in shown.to_dict("index").items()
    ]
    if left_out:
        rows.insert(WORST, (f"and {left_out} more", "", "", ""))
    heading = "Sites, by loss a unit"
    if results.currency:
        heading += f", {results.currency}"
    return (Heading(heading), Table(columns, tuple(rows)))


def _right(right: pd.DataFrame, site: str) -> str:
    """Say how often a site's installations were right, and whether that is beyond luck."""
    if site not in right.index:
        return "none judged"
    one = right.iloc[right.index.get_indexer(pd.Index([site], dtype=object))[0]]
    said, stands = share_said(float(one["share"])), str(one["stands"])
    return said if stands == WITHIN else f"{said}, {STANDS[stands]}"


def _rework_and_looks(results: MonthResults) -> tuple[Block, ...]:
    """Say what re-work cost and bought, and what nobody looked at."""
    rework = rework_sentence(results.costs, results.as_of, results.currency or None)
    unseen = unseen_sentence(results.unseen)
    looked = "Every critical check of every unit was seen in time." if not unseen else unseen.rest
    looked = (
        f"{_as_sentence(looked)} Re-work that nobody looked at within "
        f"{LOOK_AFTER_REWORK_DAYS} days: {thousands(results.overdue)} jobs."
    )
    bought = rework.rest if rework else "no re-work before a failure is on record in the last year."
    return (
        Beside(((Prose("Re-work", Weight.STRONG),), (Prose(_as_sentence(bought)),)), (1.0, 4.6)),
        Beside(((Prose("Not looked at", Weight.STRONG),), (Prose(looked),)), (1.0, 4.6)),
    )


def _not_known(results: MonthResults) -> str:
    """Say what the figures above do not tell."""
    hung = results.installations
    ago = (results.as_of.normalize() - hung["hung_on"]).dt.days
    year = hung[(ago >= 0) & (ago < YEAR_DAYS)]
    unjudged = (
        f"Installations of the last year without a complete walkdown: {(~year['judged']).sum()} of "
        f"{len(year)}; how they were hung is not known."
    )
    return " ".join([unjudged, *_assumed_costs(results), NEVER_KNOWN])


def _assumed_costs(results: MonthResults) -> list[str]:
    costs = results.assessment.risk.costs
    some = np.any([flags for flags, _ in costs.words], axis=0)
    if not some.any():
        return []
    return [f"What a failure costs is assumed at {int(some.sum())} of {len(some)} units."]
