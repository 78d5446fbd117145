"""The plan: which work in which shutdown, in which order, why, and what just missed the cut."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract.ranking import HOLD
from scoring.contract.windows import PLAN
from scoring.planning.choose import GAP, NODES, Choice, choose
from scoring.planning.curve import curve_of_hours
from scoring.planning.shutdowns import Shutdowns
from scoring.planning.why_words import why_chosen, why_not
from scoring.planning.wishes import LEFT_OUT, NO_WISHES, Wishes

MISSED = 10
"""How many units that just missed the cut are listed. Ours."""

NO_HOURS = "not enough hours left for all holds"
OTHERS_AVOID_MORE = "loss alone decides, and in these hours other work avoids more"
ENOUGH_LIFTED = "as many holds are lifted as were asked for, and other work avoids more"
"""Why a hold stays that re-work could lift."""

COLUMNS = [column.name for column in PLAN.columns]


@dataclass(frozen=True)
class Plan:
    """What to do in which shutdown.

    Attributes
    ----------
    jobs : DataFrame, shape (n_jobs, ...)
        The contract's table ``plan``: by window, then site and line, holds first.
    weighed : DataFrame, shape (n_bundles, ...)
        Everything weighed, in the same columns; ``window`` blank where it was not chosen.
    choice : Choice
        How good the plan is.
    windows : DataFrame, shape (n_windows, ...)
        The windows, with ``used`` hours, ``jobs``, and ``loss_avoided``.
    missed : DataFrame
        Units left out whose work would avoid most an hour: the columns of ``jobs``.
    holds_left : DataFrame
        Units on hold that the plan does not lift: ``unit_id``, ``site``, ``why``.
    curve : DataFrame
        Loss avoided against hours, from ``curve_of_hours``.
    """

    jobs: pd.DataFrame
    weighed: pd.DataFrame
    choice: Choice
    windows: pd.DataFrame
    missed: pd.DataFrame
    holds_left: pd.DataFrame
    curve: pd.DataFrame


def make_plan(  # noqa: PLR0913 - what is asked of a plan
    bundles: pd.DataFrame,
    ranking: pd.DataFrame,
    shutdowns: Shutdowns,
    *,
    wishes: Wishes = NO_WISHES,
    holds_first: bool = True,
    gap: float = GAP,
    nodes: int = NODES,
) -> Plan:
    """Plan re-work.

    Parameters
    ----------
    bundles : DataFrame, shape (n_bundles, ...)
        From ``weigh_bundles``.
    ranking : DataFrame, shape (n_units, ...)
        Of the same assessment.
    shutdowns : Shutdowns
        When work can be done.
    wishes : Wishes
        Units that must be in, or out.
    holds_first : bool
        Whether as many holds as can be are lifted first; else loss avoided alone counts.
    gap : float
        Share by which the plan may fall short of the best. [-]
    nodes : int
        How many branches a search looks at, at the most.

    Returns
    -------
    Plan
    """
    choice = choose(
        bundles, shutdowns, wishes=wishes, holds_first=holds_first, gap=gap, nodes=nodes
    )
    return plan_of(choice, bundles, ranking, shutdowns, wishes)


def plan_of(
    choice: Choice,
    bundles: pd.DataFrame,
    ranking: pd.DataFrame,
    shutdowns: Shutdowns,
    wishes: Wishes = NO_WISHES,
) -> Plan:
    """Lay out what was chosen: as ``make_plan`` does, whose parameters these are.

    Returns
    -------
    Plan
    """
    _, unfit = wishes.fits(bundles, shutdowns)
    chosen = choice.window >= 0
    planned = np.isin(bundles["unit"].to_numpy(), bundles["unit"].to_numpy()[chosen])
    windows = shutdowns.table
    listed = bundles.assign(
        window=_taken_from(windows["window"], choice),
        starts_on=_taken_from(windows["starts_on"], choice),
        place=np.where(chosen, choice.window, len(windows)),
        crane=_yes_no(bundles["crane"]),
        line_stops=_yes_no(bundles["line_stops"]),
    )
    of_units = ranking.set_index("unit_id")
    reasons, first = (_of_units(bundles, of_units[n]) for n in ("main_reasons", "first_action"))
    least = _least_an_hour(bundles, chosen)
    listed["why"] = np.where(
        chosen, why_chosen(bundles, reasons, first), why_not(bundles, unfit, planned, least)
    )
    listed = listed.sort_values(
        ["place", "site", "line", "clears_hold", "unit_id", "hours"],
        ascending=[True, True, True, False, True, True],
        kind="stable",
    )
    jobs = listed[listed["place"] < len(windows)]
    jobs = jobs.assign(order=np.arange(1, len(jobs) + 1))
    weighed = listed.assign(order=jobs["order"].reindex(listed.index))
    left = weighed[~planned[weighed.index] & (unfit[weighed.index] != LEFT_OUT)]
    by_hour = (left["loss_avoided"] / left["hours"]).sort_values(ascending=False, kind="stable")
    missed = left.loc[by_hour.index].drop_duplicates("unit").head(MISSED)
    return Plan(
        jobs[COLUMNS].reset_index(drop=True),
        weighed[COLUMNS].reset_index(drop=True),
        choice,
        _used(windows, jobs),
        missed[COLUMNS].reset_index(drop=True),
        _holds_left(bundles, ranking, choice, unfit),
        curve_of_hours(bundles),
    )


def _taken_from(column: "pd.Series[str]", choice: Choice) -> "pd.Series[str]":
    """Return a column of each bundle's window, missing where it was not chosen."""
    return pd.Series(pd.api.extensions.take(column.array, choice.window, allow_fill=True))


def _yes_no(flags: "pd.Series[bool]") -> NDArray[np.object_]:
    return np.where(flags.to_numpy(dtype=bool), "yes", "no").astype(object)


def _of_units(bundles: pd.DataFrame, said: "pd.Series[str]") -> NDArray[np.object_]:
    """Return what the ranking says of the unit of each bundle."""
    words: NDArray[np.object_] = said.reindex(bundles["unit_id"]).fillna("").to_numpy(object)
    return words


def _least_an_hour(bundles: pd.DataFrame, chosen: NDArray[np.bool_]) -> float:
    """Return the least loss avoided an hour of what was chosen, holds aside. [currency/h]."""
    counted = bundles[chosen & ~bundles["clears_hold"].to_numpy(dtype=bool)]
    return float((counted["loss_avoided"] / counted["hours"]).min()) if len(counted) else np.nan


def _used(windows: pd.DataFrame, jobs: pd.DataFrame) -> pd.DataFrame:
    sums = jobs.groupby("place").agg(
        used=("hours", "sum"), jobs=("unit", "size"), loss_avoided=("loss_avoided", "sum")
    )
    sums = sums.reindex(np.arange(len(windows)), fill_value=0)
    kept = windows[["window", "sites", "starts_on", "crew_hours", "people", "crane"]]
    return pd.concat([kept.reset_index(drop=True), sums], axis=1)


def _holds_left(
    bundles: pd.DataFrame,
    ranking: pd.DataFrame,
    choice: Choice,
    unfit: NDArray[np.object_],
) -> pd.DataFrame:
    """Return the units on hold that stay so, and why."""
    lifts, chosen = bundles["clears_hold"].to_numpy(dtype=bool), choice.window >= 0
    held = ranking.loc[ranking["verdict"] == HOLD, ["unit_id", "site"]]
    held = held[~held["unit_id"].isin(bundles.loc[chosen & lifts, "unit_id"])]
    can = bundles.loc[lifts, "unit_id"]
    fits = bundles.loc[lifts & (unfit == ""), "unit_id"]
    first = pd.Series(unfit[lifts], index=can.to_numpy(object)).groupby(level=0).first()
    waits = ENOUGH_LIFTED if choice.at_least else OTHERS_AVOID_MORE
    why = np.where(
        held["unit_id"].isin(fits),
        NO_HOURS if choice.holds_first else waits,
        held["unit_id"]
        .map(first)
        .astype(object)
        .fillna("no re-work on record lifts it: look at it"),
    )
    return held.assign(why=why).reset_index(drop=True)
