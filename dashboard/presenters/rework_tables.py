"""What became of re-work, as the page of the trend shows it."""

import pandas as pd

from dashboard.presenters.words import checks_said
from scoring.contract.amounts_in_words import percent, thousands
from scoring.contract.rework import actions_said
from scoring.trends.after_rework import DID_NOT_SUCCEED, FOUND_WRONG, NOT_LOOKED_AT, SUCCEEDED
from scoring.what_if.rework_success import ReworkSuccess

FEWEST_LOOKED_AT = 5
"""Below so many looks a share says little; planning value of ours."""


def of_what_was_wrong(seen: pd.DataFrame) -> pd.DataFrame:
    """Keep the cures of what had been found wrong; other cures prove nothing."""
    return seen[seen["before"] == FOUND_WRONG]


def fates_said(seen: pd.DataFrame) -> str:
    """Say what became of the cures: how many, and their share of those that were seen.

    Parameters
    ----------
    seen : DataFrame
        From ``after_rework``: ``before``, ``after``.

    Examples
    --------
    >>> cures = pd.DataFrame({"before": FOUND_WRONG, "after": [SUCCEEDED] * 3 + [NOT_LOOKED_AT]})
    >>> fates_said(cures)
    'Of 4 cures of what had been found wrong 3 were seen since: 3 succeeded (100 %), 0 did not.'
    """
    counts = of_what_was_wrong(seen)["after"].value_counts()
    succeeded, failed, unseen = (
        int(counts.get(fate, 0)) for fate in (SUCCEEDED, DID_NOT_SUCCEED, NOT_LOOKED_AT)
    )
    looked = succeeded + failed
    if not looked:
        return f"Of {thousands(unseen)} cures of what had been found wrong none was seen since."
    return (
        f"Of {thousands(looked + unseen)} cures of what had been found wrong {thousands(looked)} "
        f"were seen since: {thousands(succeeded)} succeeded ({percent(succeeded / looked)}), "
        f"{thousands(failed)} did not."
    )


def by_check(seen: pd.DataFrame) -> pd.DataFrame:
    """Return what became of the cures, check by check, the most frequent first."""
    wrong = of_what_was_wrong(seen)
    counts = pd.crosstab(wrong["check"], wrong["after"])
    counts = counts.reindex(columns=[SUCCEEDED, DID_NOT_SUCCEED, NOT_LOOKED_AT], fill_value=0)
    cures = counts.sum(axis=1).rename("cures")
    looked = counts[SUCCEEDED] + counts[DID_NOT_SUCCEED]
    counts["share that succeeded"] = (counts[SUCCEEDED] / looked).where(looked > 0).round(2)
    few = (looked < FEWEST_LOOKED_AT).map({True: "few: says little", False: ""})
    table = pd.concat([cures, counts], axis=1).assign(remark=few)
    table.index = table.index.map(checks_said)
    return table.sort_values("cures", ascending=False, kind="stable").reset_index(names="check")


def rework_success_shown(success: ReworkSuccess) -> pd.DataFrame:
    """Return how often each action succeeds that was looked at, the surest first."""
    table = success.table[success.table["looks"] > 0]
    shown = table.assign(what=table["action"].map(actions_said))
    return shown.sort_values("chance", ascending=False, kind="stable")


def overdue_shown(overdue: pd.DataFrame) -> pd.DataFrame:
    """Return re-work that nobody looked at in time, in words."""
    return pd.DataFrame(
        {
            "unit": overdue["unit_id"],
            "site": overdue["site"],
            "done on": overdue["done_on"],
            "days ago": overdue["days"],
            "what was done": overdue["actions"].map(actions_said),
            "look at": overdue["checks"].map(checks_said),
        }
    )


def back_shown(back: pd.DataFrame) -> pd.DataFrame:
    """Return findings that came back after their cure had been seen, in words."""
    return pd.DataFrame(
        {
            "unit": back["unit_id"],
            "site": back["site"],
            "found again": back["check"].map(checks_said),
            "on": back["found_again_on"],
            "cured on": back["done_on"],
            "seen good on": back["seen_on"],
            "days from cure": back["days"],
            "by": back["actions"].map(actions_said),
        }
    )


def gain_by_year(gain: pd.DataFrame) -> pd.DataFrame:
    """Return what re-work removed of the expected loss a year, by year and occasion.

    Parameters
    ----------
    gain : DataFrame
        From ``gain_of_rework``.

    Returns
    -------
    DataFrame
        ``year``, ``occasion``, ``jobs``, ``loss removed a year``, ``crew-hours`` and
        ``removed a crew-hour``, of jobs whose hours are written down; the newest first.
    """
    known = gain.dropna(subset="loss_removed")
    occasion = known["after_failure"].map({True: "repair of a failure", False: "before a failure"})
    with_hours = known["crew_hours"] > 0
    said = pd.DataFrame(
        {
            "year": known["done_on"].dt.year,
            "occasion": occasion,
            "removed": known["loss_removed"],
            "hours": known["crew_hours"].where(with_hours),
            "removed_in_hours": known["loss_removed"].where(with_hours),
        }
    )
    sums = said.groupby(["year", "occasion"]).agg(
        jobs=("removed", "size"),
        removed=("removed", "sum"),
        hours=("hours", "sum"),
        in_hours=("removed_in_hours", "sum"),
    )
    table = sums.reset_index().sort_values(["year", "occasion"], ascending=[False, True])
    return pd.DataFrame(
        {
            "year": table["year"].astype("str"),
            "occasion": table["occasion"],
            "jobs": table["jobs"],
            "loss removed a year": table["removed"].round(),
            "crew-hours": table["hours"].round(1),
            "removed a crew-hour": (table["in_hours"] / table["hours"]).round(),
        }
    ).reset_index(drop=True)
