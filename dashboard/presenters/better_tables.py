"""Tables of the page that says whether it gets better."""

from collections.abc import Sequence
from html import escape
from urllib.parse import quote

import numpy as np
import pandas as pd

from dashboard.presenters.semantic_table import heading, table
from dashboard.presenters.words import in_currency
from scoring.contract.amounts_in_words import rounded
from scoring.trends.better_sentences import share_said
from scoring.trends.change_with_interval import (
    CANNOT_BE_TOLD,
    paired_change,
    share_with_interval,
)
from scoring.trends.funnel import ABOVE, BELOW, WITHIN
from scoring.trends.month_ends import AGE_LABELS
from scoring.trends.sites_and_crews import NOT_WRITTEN_DOWN

WITHIN_LUCK = "within luck"
STANDS_WORDS = {ABOVE: "▲ more often right", BELOW: "▼ less often right"}


def half_years(installations: pd.DataFrame) -> pd.DataFrame:
    """Return the share of installations right the first time, by the half-year they were hung in.

    Parameters
    ----------
    installations : DataFrame
        From ``first_time_right``.

    Returns
    -------
    DataFrame
        ``half_year``, ``hung``, ``judged``, ``right``, ``share``, ``low``, ``high``; the oldest
        first, those of which none is judged left out.
    """
    day = installations["hung_on"].dt
    half = day.year.astype(str) + np.where(day.month > 6, " H2", " H1")
    table = installations.groupby(half).agg(
        hung=("unit_id", "size"), judged=("judged", "sum"), right=("right", "sum")
    )
    table = table[table["judged"] > 0].rename_axis("half_year").reset_index()
    share, low, high = share_with_interval(
        table["right"].to_numpy(np.float64), table["judged"].to_numpy(np.float64)
    )
    return table.assign(share=share, low=low, high=high)


SHARES = ("share", "90 % from", "90 % to")


def half_years_shown(shares: pd.DataFrame) -> pd.DataFrame:
    """Return ``half_years`` as a person reads them, the newest first."""
    said = {"half_year": "hung in", "low": SHARES[1], "high": SHARES[2]}
    return shares.rename(columns=said).iloc[::-1]


def settings_said(sites: Sequence[str], months: int) -> str:
    """Say in one line what is chosen.

    Examples
    --------
    >>> settings_said([], 24), settings_said(["Quay"], 12)
    ('all sites · pictures of 24 months · change', 'Quay · pictures of 12 months · change')
    """
    return f"{', '.join(sites) or 'all sites'} · pictures of {months} months · change"


def last_months(table: pd.DataFrame, months: int) -> pd.DataFrame:
    """Return the rows of the last month-ends.

    Parameters
    ----------
    table : DataFrame
        ``month_end``.
    months : int
        How many.
    """
    ends = table["month_end"].drop_duplicates().nlargest(months)
    return table[table["month_end"].isin(ends)]


def holds_by_month(by_age: pd.DataFrame) -> pd.DataFrame:
    """Return open holds, one row a month's end, the newest first, a column for each age."""
    table = by_age.pivot_table(index="month_end", columns="age", values="holds")
    table = table[list(AGE_LABELS)].astype(np.int64).sort_index(ascending=False)
    days = pd.DatetimeIndex(table.index).strftime("%Y-%m-%d")
    return table.set_axis(days, axis=0).rename_axis("month's end").reset_index()


def sites_shown(units: pd.DataFrame, right: pd.DataFrame, currency: object = None) -> str:
    """Return one row a site as HTML: what it may lose, its holds, how often it is right.

    Parameters
    ----------
    units : DataFrame
        From ``then_and_now``.
    right : DataFrame
        From ``funnel``, by site.
    currency : str, optional
        Of the loss.
    """
    rows = []
    for site, of_site in units.groupby("site", sort=True):
        loss, held = (
            paired_change(
                of_site[f"{what}_now"].to_numpy(np.float64),
                of_site[f"{what}_before"].to_numpy(np.float64),
                among=units["site"].nunique(),
            )
            for what in ("loss", "held")
        )
        if not np.isfinite(loss.now):
            continue
        changed = ""
        if np.isfinite(loss.low):
            changed = f"{rounded(loss.low)} to {rounded(loss.high)}"
        rows.append(
            [
                _link(str(site), "site"),
                escape(f"{int(of_site['held_now'].sum())} of {of_site['held_now'].count()}"),
                escape(held.less_is),
                escape(rounded(loss.now)),
                escape(changed),
                escape(loss.less_is),
                *_right(right, site),
            ]
        )
    return _table(
        "site",
        [
            "must not run",
            "than a year ago",
            in_currency("loss a unit", currency),
            "change in a year, 90 %",
            "than a year ago",
            "right the first time",
            "beside luck",
        ],
        rows,
    )


def beside_luck(right: pd.DataFrame) -> tuple[pd.DataFrame, pd.DataFrame]:
    """Part groups into those outside of what luck alone makes, and those within it.

    Parameters
    ----------
    right : DataFrame
        From ``funnel``.

    Examples
    --------
    >>> groups = pd.DataFrame({"stands": [WITHIN, BELOW]}, index=["crew A", "crew B"])
    >>> [list(part.index) for part in beside_luck(groups)]
    [['crew B'], ['crew A']]
    """
    is_within = right["stands"] == WITHIN
    return right[~is_within], right[is_within]


def crews_shown(right: pd.DataFrame) -> str:
    """Return one row a crew as HTML: how often its installations were right.

    Parameters
    ----------
    right : DataFrame
        From ``funnel``, by crew.
    """
    rows = [[_link(str(crew), "crew"), *_right(right, crew)] for crew in right.index]
    return _table("crew", ["right the first time", "beside luck"], rows)


def unseen_shown(checks: pd.DataFrame) -> pd.DataFrame:
    """Return critical checks that are not looked at, in words."""
    return pd.DataFrame(
        {
            "check": checks["check"],
            "units where it is critical": checks["units"],
            "not seen since hung": checks["never_seen"],
            "share not seen": checks["never_seen"] / checks["units"],
            "overdue": checks["overdue"],
        }
    )


def cost_by_year(costs: pd.DataFrame) -> pd.DataFrame:
    """Return what re-work cost and removed, by year and occasion, the newest first.

    Parameters
    ----------
    costs : DataFrame
        From ``cost_of_rework``.
    """
    occasion = costs["after_failure"].map({True: "repair of a failure", False: "before a failure"})
    sums = (
        costs.assign(year=costs["done_on"].dt.year.astype(str), occasion=occasion)
        .groupby(["year", "occasion"])
        .agg(
            jobs=("hours", "size"),
            hours=("hours", "sum"),
            assumed=("hours_assumed", "sum"),
            labour=("labour", "sum"),
            parts=("parts", "sum"),
            removed=("loss_removed", "sum"),
        )
        .reset_index()
        .sort_values(["year", "occasion"], ascending=[False, True])
    )
    sums[["hours", "labour", "parts", "removed"]] = sums[
        ["hours", "labour", "parts", "removed"]
    ].round()
    return sums.rename(
        columns={
            "assumed": "jobs with hours assumed",
            "labour": "labour, assumed price",
            "parts": "parts, assumed",
            "removed": "loss removed, next year",
        }
    )


def _right(right: pd.DataFrame, name: object) -> list[str]:
    place = right.index.get_indexer(pd.Index([name], dtype=object))[0]
    if place < 0:
        return ["none judged", ""]
    one = right.iloc[place]
    return [
        escape(f"{one['good']} of {one['of']}, {share_said(float(one['share']))}"),
        escape(STANDS_WORDS.get(str(one["stands"]), WITHIN_LUCK)),
    ]


def _link(name: str, key: str) -> str:
    if name == NOT_WRITTEN_DOWN:
        return escape(name)
    return f'<a href="/fix?{key}={quote(name)}" target="_self">{escape(name)}</a>'


def _table(what: str, headings: list[str], rows: list[list[str]]) -> str:
    """Write a table whose cells are HTML already; in a hand each cell says its own heading."""
    head = "".join(heading(escape(one)) for one in [what, *headings])
    body = "".join(
        f'<tr role="row"><th role="rowheader" scope="row">{row[0]}</th>'
        + "".join(
            f'<td role="cell"{_kind(cell)}><span class="of">{escape(h)}: </span>{cell}</td>'
            for h, cell in zip(headings, row[1:], strict=True)
        )
        + "</tr>"
        for row in rows
    )
    return table("groups", head, body)


def _kind(cell: str) -> str:
    """Mark a cell that says no more than the interval beside it: a card in a hand leaves it out."""
    return ' class="as-before"' if cell in (CANNOT_BE_TOLD, WITHIN_LUCK) else ""
