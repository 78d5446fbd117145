"""The ranking as a list to act on: one row a unit, its chances drawn on one axis, as HTML."""

import math
from collections.abc import Hashable, Mapping, Sequence
from html import escape
from typing import Any

import pandas as pd

from dashboard.presenters.finding_units import unit_link
from dashboard.presenters.ranking_table import SHORT_WORDS, Filters
from dashboard.presenters.semantic_table import heading, site_and_line, table
from dashboard.presenters.unit_mark import unit_mark
from dashboard.presenters.words import VERDICT_WORDS, first_action_said, in_currency
from scoring.contract.amounts_in_words import percent, thousands
from scoring.walkdown_form.visit_questions import MOUNTING_WORDS

LEAST, MOST = 0.0001, 1.0
"""Ends of the axis of chances, which is logarithmic."""

LOSS = "expected_loss"


def place_on_axis(share: float) -> float:
    """Return where a chance stands on the axis; what lies outside stands at its end.

    Examples
    --------
    >>> [place_on_axis(share) for share in (0.0, 0.0001, 0.001, 0.01, 0.1, 1.0)]
    [0.0, 0.0, 25.0, 50.0, 75.0, 100.0]
    """
    within = min(max(share, LEAST), MOST)
    return round(100 * math.log(within / LEAST) / math.log(MOST / LEAST), 1)


def interval_bar(middle: float, low: float, high: float) -> str:
    """Draw a chance as a mark on a line from the lower to the upper end of its interval.

    A line that goes on beyond the axis has an open end.
    """
    start, end, at = (place_on_axis(share) for share in (low, high, middle))
    cut = " cut" if low < LEAST else ""
    said = f"{percent(low)} to {percent(high)}"
    return (
        f'<span class="bar" role="img" aria-label="90 % interval {escape(said)}" '
        f'title="90 % interval: {escape(said)}">'
        f'<i class="line{cut}" style="left:{start}%;width:{round(end - start, 1)}%"></i>'
        f'<i class="mark" style="left:{at}%"></i></span>'
    )


def ranked_list(
    rows: pd.DataFrame, order: str | None, currency: object, span: str = "a year"
) -> str:
    """Return units as a table; on a narrow screen each row is a card, and all of it a link.

    Parameters
    ----------
    rows : DataFrame
        As ranked, those of one page.
    order : str, optional
        The column by which they are ordered; none where they are as ranked.
    currency : str, optional
        Of the losses.
    span : str
        So far ahead they reach.
    """
    key = order if order in _numbers() else LOSS
    money = escape(in_currency(f"expected loss in {span}", currency))
    heads = "".join(
        _head(f"{words}<span class='axis'><i>0.1</i><i>1</i><i>10 %</i></span>", f"p_{mode}", order)
        for mode, words in SHORT_WORDS.items()
    )
    headings = (
        f"{_head('rank')}{_head('unit')}{_head('verdict')}{heads}{_head(money, LOSS, order)}"
        f"{_head('why, the worst first')}{_head('what to do first')}"
    )
    return table("units", headings, "".join(_row(row, key) for row in rows.to_dict("records")))


def list_of_holds(ranked: pd.DataFrame) -> str:
    """Return the units that must not run, each with why and what to do first, as HTML."""
    rows = "".join(
        f'<li><a href="{escape(unit_link(row["unit_id"]))}">{escape(row["unit_id"])}</a> '
        f"{escape(site_and_line(row))}: {_text(row['main_reasons'])}"
        f'<span class="then">{_said(row["first_action"])}</span></li>'
        for row in ranked[ranked["verdict"] == "hold"].to_dict("records")
    )
    return f'<ul class="holds">{rows}</ul>'


def by_place(ranked: pd.DataFrame) -> pd.DataFrame:
    """Return units, holds and expected loss by site and line, the greatest loss first.

    Parameters
    ----------
    ranked : DataFrame
        ``site``, ``line``, ``verdict``, ``expected_loss``.

    Returns
    -------
    DataFrame
        ``site``, ``line``, ``units``, ``must not run``, ``expected loss``.
    """
    groups = ranked.assign(
        line=ranked["line"].astype(object).fillna(""),
        site=ranked["site"].astype(object).fillna(""),
        held=ranked["verdict"].astype(object) == "hold",
    ).groupby(["site", "line"], sort=False)
    table = groups.agg(
        units=("unit_id", "size"), held=("held", "sum"), loss=(LOSS, "sum")
    ).reset_index()
    table = table.sort_values(["loss", "site", "line"], ascending=[False, True, True])
    return table.rename(columns={"held": "must not run", "loss": "expected loss"})


def places(ranked: pd.DataFrame, span: str = "a year") -> str:
    """Return the comparison of sites and lines as HTML."""
    heads = "".join(_head(name) for name in ("site", "line"))
    numbers = "".join(
        heading(name, "number") for name in ("units", "must not run", f"expected loss in {span}")
    )
    rows = "".join(
        f'<tr role="row"><td role="cell">{_text(row["site"])}</td>'
        f'<td role="cell">{_text(row["line"])}</td>'
        + "".join(
            f'<td role="cell" class="number">{thousands(row[name])}</td>'
            for name in ("units", "must not run", "expected loss")
        )
        + "</tr>"
        for row in by_place(ranked).to_dict("records")
    )
    return table("places", f"{heads}{numbers}", rows)


def how_it_stands(ranked: pd.DataFrame, ahead: int = 20, span: str = "a year") -> str:
    """Say how many must not run, and how much of the loss lies at the next units.

    Examples
    --------
    >>> how_it_stands(pd.DataFrame({"verdict": ["hold", "correct", "watch"],
    ...     "expected_loss": [100.0, 60.0, 40.0]}), ahead=1)
    '1 must not run. The next unit carries 30 % of the expected loss of a year.'
    """
    held = ranked["verdict"].astype(object) == "hold"
    loss = ranked[LOSS]
    first = f"{int(held.sum())} must not run." if held.any() else "No unit is held."
    rest = loss[~held].sort_values(ascending=False)
    if rest.empty or not loss.sum() > 0:
        return first
    count = min(ahead, len(rest))
    share = rest.head(count).sum() / loss.sum()
    who = "The next unit carries" if count == 1 else f"The next {count} units carry"
    return f"{first} {who} {100 * share:.0f} % of the expected loss of {span}."


def none_fits(filters: Filters) -> str:
    """Say as HTML that no unit fits, and what a person asked to see.

    Examples
    --------
    >>> none_fits(Filters(mountings=("shrink_disc", "keyed_bore"))).partition(": ")[2]
    'mounting <b>shrink disc</b> or <b>keyed bore</b>.</p>'
    """
    said = {
        "search": _strong([filters.text.strip()], ' translate="no"'),
        "site": _strong(filters.sites, ' translate="no"'),
        "mounting": _strong([MOUNTING_WORDS[one] for one in filters.mountings]),
        "hung by": _strong(filters.crews, ' translate="no"'),
        "verdict": _strong([VERDICT_WORDS[one] for one in filters.verdicts]),
    }
    asked = "; ".join(f"{name} {words}" for name, words in said.items() if words)
    return f'<p role="status">No unit fits what is asked for: {asked}.</p>'


def _strong(names: Sequence[str], how: str = "") -> str:
    return " or ".join(f"<b{how}>{escape(one)}</b>" for one in names if one)


def half_lies(ranked: pd.DataFrame) -> str:
    """Say at how few units half of the loss lies, the greatest first.

    Examples
    --------
    >>> half_lies(pd.DataFrame({"expected_loss": [10.0, 60.0, 30.0, 0.0]}))
    'Half of the expected loss lies at 1 of 4 units'
    """
    together = ranked[LOSS].fillna(0).sort_values(ascending=False).cumsum().to_numpy()
    if len(together) == 0 or not together[-1] > 0:
        return ""
    count = int((together < together[-1] / 2).sum()) + 1
    return (
        f"Half of the expected loss lies at {thousands(count)} of {thousands(len(together))} units"
    )


def loss_over_units(ranked: pd.DataFrame, points: int = 200) -> pd.DataFrame:
    """Return the loss of the first units together, holds first, then the greatest loss.

    Parameters
    ----------
    ranked : DataFrame
        As ranked: ``verdict``, ``expected_loss``.
    points : int
        At most about so many rows; the last hold and the last unit are always among them.

    Returns
    -------
    DataFrame
        ``units``, from 0; ``loss``, of so many first units together; ``part``.
    """
    held = int((ranked["verdict"].astype(object) == "hold").sum())
    together = [0.0, *ranked[LOSS].fillna(0).cumsum()]
    step = max(1, len(ranked) // points)
    at = sorted({*range(0, len(ranked) + 1, step), held, len(ranked)})
    return pd.DataFrame(
        {
            "units": at,
            "loss": [together[one] for one in at],
            "part": ["must not run" if one <= held else "may run" for one in at],
        }
    )


def _numbers() -> tuple[str, ...]:
    return (LOSS, *(f"p_{mode}" for mode in SHORT_WORDS))


def _head(words: str, column: str | None = None, order: str | None = None) -> str:
    return heading(
        words, "number" if column else "", is_sorted=column is not None and column == order
    )


def _row(row: Mapping[Hashable, Any], key: str) -> str:
    verdict, unit = str(row["verdict"]), str(row["unit_id"])
    cells = [
        f'<td role="cell" class="rank">{row["rank"]}</td>',
        (
            f'<th role="rowheader" scope="row"><a href="{escape(unit_link(unit))}">'
            f"{escape(unit)}</a>"
            f'{unit_mark(row)}<span class="where">{escape(site_and_line(row))}</span></th>'
        ),
        f'<td role="cell" class="verdict v-{verdict}">{escape(VERDICT_WORDS[verdict])}</td>',
    ]
    for mode, words in SHORT_WORDS.items():
        column = f"p_{mode}"
        middle, low, high = (float(row[f"{column}{end}"]) for end in ("", "_low", "_high"))
        cells.append(
            f'<td role="cell" class="number chance{_sorted(column, key)}">'
            f"{interval_bar(middle, low, high)}"
            f'<span class="value">{escape(percent(middle))}</span>'
            f'<span class="what"> {words}</span></td>'
            if math.isfinite(middle)
            else '<td role="cell" class="number chance"></td>'
        )
    cells.append(
        f'<td role="cell" class="number loss{_sorted(LOSS, key)}">'
        f'{_amount(row[LOSS])}<span class="what"> loss</span></td>'
    )
    cells.append(f'<td role="cell" class="why">{_few(_text(row["main_reasons"]))}</td>')
    cells.append(f'<td role="cell" class="then">{_few(_said(row["first_action"]))}</td>')
    return f'<tr role="row">{"".join(cells)}</tr>'


def _sorted(column: str, key: str) -> str:
    return " sorted" if column == key else ""


def _amount(value: object) -> str:
    return thousands(value) if isinstance(value, float) and math.isfinite(value) else ""


def _text(value: object) -> str:
    return escape(value) if isinstance(value, str) else ""


def _few(text: str) -> str:
    return f'<div class="few" title="{text}">{text}</div>' if text else ""


def _said(first_action: object) -> str:
    return escape(first_action_said(first_action))
