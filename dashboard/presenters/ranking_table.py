"""The ranking as pages show it: filters, columns in words, one page of rows at a time."""

from dataclasses import dataclass

import pandas as pd

from scoring.assessment import Assessment
from scoring.contract.events import JOINT_SLIP, LOW_SPEED_BEARING, SEAL_LEAK
from scoring.contract.ranking import VERDICTS
from scoring.rules.state_of_parts import state_of_parts

ROWS_A_PAGE = 50

AS_RANKED = "holds first, then expected loss"


SHORT_WORDS = {
    LOW_SPEED_BEARING: "bearing failure",
    SEAL_LEAK: "seal leak",
    JOINT_SLIP: "joint slip",
}
"""Headings of the columns of chances."""

ORDERS = {
    AS_RANKED: None,
    **{f"chance of a {words}": f"p_{mode}" for mode, words in SHORT_WORDS.items()},
    "expected loss": "expected_loss",
    "slip margin, the lowest first": "slip_margin",
}
"""In which order a person may see the whole ranking, and the column that gives it."""


@dataclass(frozen=True)
class Filters:
    """What a person asked to see; an empty choice means everything."""

    text: str = ""
    sites: tuple[str, ...] = ()
    mountings: tuple[str, ...] = ()
    crews: tuple[str, ...] = ()
    verdicts: tuple[str, ...] = ()


@dataclass(frozen=True)
class Choices:
    """What filters may choose from."""

    sites: list[str]
    mountings: list[str]
    crews: list[str]
    verdicts: list[str]


def ranked_units(assessment: Assessment) -> pd.DataFrame:
    """Return the ranking with mounting, crew, and how each part stands beside it."""
    known = assessment.known
    beside = pd.DataFrame(
        {
            "unit_id": known.units["unit_id"].astype(object),
            "mounting": known.units["mounting"].astype(object),
            "crew": known.history["crew"].astype(object),
            "line": known.units["line"].astype(object),
        }
    ).join(state_of_parts(known, assessment.limits, assessment.findings))
    return assessment.ranking.merge(beside, on="unit_id", how="left")


def choices(ranked: pd.DataFrame) -> Choices:
    """Return what is there to choose from."""
    present = set(ranked["verdict"].astype(object))
    return Choices(
        sites=sorted(ranked["site"].dropna().unique()),
        mountings=sorted(ranked["mounting"].dropna().unique()),
        crews=sorted(ranked["crew"].dropna().unique()),
        verdicts=[verdict for verdict in VERDICTS if verdict in present],
    )


def filtered(ranked: pd.DataFrame, filters: Filters) -> pd.DataFrame:
    """Return the rows that a person asked to see, in the order of the ranking."""
    keep = pd.Series(data=True, index=ranked.index)
    for column, wanted in (
        ("site", filters.sites),
        ("mounting", filters.mountings),
        ("crew", filters.crews),
        ("verdict", filters.verdicts),
    ):
        if wanted:
            keep &= ranked[column].isin(wanted)
    for word in filters.text.lower().split():
        found = pd.Series(data=False, index=ranked.index)
        for column in ("unit_id", "site", "line", "main_reasons", "first_action"):
            found |= ranked[column].fillna("").str.lower().str.contains(word, regex=False)
        keep &= found
    return ranked[keep]


def ordered(rows: pd.DataFrame, order: str) -> pd.DataFrame:
    """Return all rows in another order than they are ranked in; blanks come last.

    Parameters
    ----------
    rows : DataFrame
        As ranked.
    order : str
        One of ``ORDERS``.
    """
    column = ORDERS[order]
    if column is None:
        return rows
    return rows.sort_values(column, ascending=column == "slip_margin", kind="stable")


def counts(ranked: pd.DataFrame) -> dict[str, int]:
    """Return how many units have each verdict."""
    verdicts = ranked["verdict"].astype(object)
    return {verdict: int((verdicts == verdict).sum()) for verdict in VERDICTS}
