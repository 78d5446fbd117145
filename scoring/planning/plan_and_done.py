"""A plan that was kept, held against the re-work that was done since."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract.ranking import HOLD
from scoring.contract.rework import ACTION_BY_NAME, with_brought

DONE, IN_PART, NOT_DONE = "done", "done in part", "not done"
OUTCOMES = (DONE, IN_PART, NOT_DONE)
"""What may have become of a job."""

PLANNED = (
    "order",
    "window",
    "starts_on",
    "unit_id",
    "site",
    "line",
    "verdict",
    "verdict_after",
    "actions",
    "hours",
    "loss_avoided",
    "currency",
)
"""What is kept of each job: columns of the contract's table ``plan``."""

_ACTION_PLACE = {name: place for place, name in enumerate(ACTION_BY_NAME)}


@dataclass(frozen=True)
class PlanAndDone:
    """What became of a plan.

    Attributes
    ----------
    jobs : DataFrame, shape (n_jobs, ...)
        The jobs as planned, in their order, with ``outcome``; ``done_on``, the day of the last of
        the planned actions that were done; ``actions_done`` and ``actions_left``, names with ``;``
        between them; ``verdict_now``, blank where the unit is not in service; ``lifts_hold``
        (whether it was to lift one) and ``hold_lifted`` (of these, whether none stands now).
    not_planned : DataFrame
        Re-work on units of the plan that it does not name, by day: ``rework_id``, ``unit_id``,
        ``done_on``, ``actions`` (those not planned alone) and ``crew_hours``, blank where it is
        not written down. [h]
    hours_recorded : float
        Crew-hours on record of the re-work that did planned actions. [h]
    hours_not_recorded : int
        Records of such re-work that do not say how long it took.
    """

    jobs: pd.DataFrame
    not_planned: pd.DataFrame
    hours_recorded: float
    hours_not_recorded: int

    def count(self, outcome: str) -> int:
        """Return how many jobs came to an outcome."""
        return int((self.jobs["outcome"] == outcome).sum())

    def sum_of(self, column: str, outcome: str | None = None) -> float:
        """Return the sum of a column over the jobs of an outcome, or over all."""
        rows = self.jobs if outcome is None else self.jobs[self.jobs["outcome"] == outcome]
        return float(rows[column].sum())

    @property
    def holds_planned(self) -> int:
        """Holds that the plan was to lift."""
        return int(self.jobs["lifts_hold"].sum())

    @property
    def holds_lifted(self) -> int:
        """Of these, the ones that do not stand now."""
        return int(self.jobs["hold_lifted"].sum())


def lifts_hold(jobs: pd.DataFrame) -> "pd.Series[bool]":
    """Tell which jobs of a plan were to lift a hold.

    Examples
    --------
    >>> verdicts = {"verdict": ["hold", "hold"], "verdict_after": ["hold", "watch"]}
    >>> lifts_hold(pd.DataFrame(verdicts)).tolist()
    [False, True]
    """
    verdicts = jobs[["verdict", "verdict_after"]].astype(object)
    return (verdicts["verdict"] == HOLD) & (verdicts["verdict_after"] != HOLD)


def plan_and_done(
    planned: pd.DataFrame,
    rework: pd.DataFrame,
    verdict_now: "pd.Series[str]",
    *,
    kept_on: pd.Timestamp,
    as_of: pd.Timestamp,
) -> PlanAndDone:
    """Hold a plan against what was done from the day on which it was kept.

    Parameters
    ----------
    planned : DataFrame, shape (n_jobs, ...)
        The columns ``PLANNED``; a unit may stand in several jobs.
    rework : DataFrame, shape (n_rework, ...)
        The table ``rework`` of a fleet: ``rework_id``, ``unit_id``, ``done_on``, ``recorded_at``,
        ``actions``, ``hours`` and ``crew_size``.
    verdict_now : Series of str
        By unit, for the units in service.
    kept_on : Timestamp
        The day on which the plan was kept; what was done earlier does not count.
    as_of : Timestamp
        The day of what is known; what was done, or written down, later does not count.

    Returns
    -------
    PlanAndDone

    Notes
    -----
    A job is done once each of its actions is on record at its unit, on whichever days, an action
    that always comes with another one included; it is done in part once any is. Re-work at one of
    two output seals counts as that action. The loss that a job was to avoid is not parted among
    its actions, for what they avoid does not add up.

    Examples
    --------
    >>> plan = pd.DataFrame({"unit_id": ["A", "B"], "actions": "fit_guard;open_breather"})
    >>> plan = plan.assign(verdict="hold", verdict_after="watch", hours=2.0, loss_avoided=90.0)
    >>> day = pd.Timestamp("2026-07-04")
    >>> done = {"rework_id": "R-1", "unit_id": "A", "done_on": day, "recorded_at": pd.NaT}
    >>> done |= {"actions": "fit_guard", "hours": 1.0, "crew_size": 2}
    >>> became = plan_and_done(
    ...     plan, pd.DataFrame([done]), pd.Series({"A": "watch", "B": "hold"}),
    ...     kept_on=day, as_of=day,
    ... )
    >>> became.jobs["outcome"].tolist(), became.jobs["actions_left"].tolist()
    (['done in part', 'not done'], ['open_breather', 'open_breather;fit_guard'])
    >>> became.hours_recorded, became.holds_planned, became.holds_lifted
    (2.0, 2, 1)
    """
    jobs = planned.reset_index(drop=True)
    wanted = _one_action_a_row(jobs, "job")
    since = _done_since(rework, jobs["unit_id"], kept_on, as_of)
    did = _one_action_a_row(since, "row")
    first = _with_those_brought(did).groupby(["unit_id", "action"], sort=False)["day"].min()
    wanted = wanted.join(first, on=["unit_id", "action"])
    wanted["was_done"] = wanted["day"].notna()
    by_job = wanted.groupby("job", sort=False)
    count, done = by_job["was_done"].size(), by_job["was_done"].sum()
    outcome = np.select([done == count, done > 0], [DONE, IN_PART], NOT_DONE)
    lifts = lifts_hold(jobs).to_numpy(bool)
    now = jobs["unit_id"].astype(object).map(verdict_now).astype(object)
    stands_no_more = (now.notna() & (now != HOLD)).to_numpy(bool)
    listed = jobs.assign(
        outcome=pd.Series(outcome, index=count.index).reindex(jobs.index),
        done_on=by_job["day"].max().reindex(jobs.index),
        actions_done=_joined(wanted[wanted["was_done"]], "job", jobs.index),
        actions_left=_joined(wanted[~wanted["was_done"]], "job", jobs.index),
        verdict_now=now,
        lifts_hold=lifts,
        hold_lifted=lifts & stands_no_more,
    )
    was_planned = _stands_in(did, _with_those_brought(wanted))
    every = _with_those_brought(did)
    worked = since.loc[np.unique(every.loc[_stands_in(every, wanted), "row"]), "crew_hours"]
    others = _joined(did[~was_planned], "row", since.index)
    not_planned = since.assign(actions=others)[others != ""]
    return PlanAndDone(
        listed,
        not_planned[["rework_id", "unit_id", "done_on", "actions", "crew_hours"]].reset_index(
            drop=True
        ),
        float(worked.sum()),
        int(worked.isna().sum()),
    )


def _done_since(
    rework: pd.DataFrame, units: "pd.Series[str]", kept_on: pd.Timestamp, as_of: pd.Timestamp
) -> pd.DataFrame:
    """Return re-work at some units, done from one day and known by another, in its order."""
    day = rework["done_on"].dt.normalize()
    known_from = np.fmax(day, rework["recorded_at"].dt.normalize())
    counts = rework["unit_id"].isin(units) & (day >= kept_on.normalize())
    rows: pd.DataFrame = rework[counts & (known_from <= as_of.normalize())]
    rows = rows.assign(
        day=day[rows.index],
        crew_hours=(rows["hours"] * rows["crew_size"].fillna(1)).astype(np.float64),
    )
    return rows.sort_values(["done_on", "rework_id"], kind="stable", ignore_index=True)


def _one_action_a_row(table: pd.DataFrame, number: str) -> pd.DataFrame:
    """Return one row for each action of each row, with the number of that row."""
    names = table["actions"].astype(object).str.split(";")
    kept = ["unit_id", "day"] if "day" in table else ["unit_id"]
    rows = table[kept].assign(action=names)
    rows[number] = np.arange(len(table))
    return rows.explode("action", ignore_index=True)


def _with_those_brought(rows: pd.DataFrame) -> pd.DataFrame:
    """Add a row for each action that always comes with one that was named."""
    brought = {name: [one.name for one in with_brought(name)] for name in ACTION_BY_NAME}
    return rows.assign(action=rows["action"].map(brought)).explode("action", ignore_index=True)


def _stands_in(rows: pd.DataFrame, others: pd.DataFrame) -> NDArray[np.bool_]:
    """Tell which rows name a unit and action that others name, too."""
    pairs = [pd.MultiIndex.from_frame(one[["unit_id", "action"]]) for one in (rows, others)]
    found: NDArray[np.bool_] = pairs[0].isin(pairs[1])
    return found


def _joined(rows: pd.DataFrame, number: str, index: pd.Index) -> "pd.Series[str]":
    """Join the actions of each number, in the order of the contract; empty where there is none."""
    place = rows["action"].map(_ACTION_PLACE)
    sort = rows.assign(place=place).sort_values([number, "place"], kind="stable")
    joined: pd.Series[str] = sort.groupby(number)["action"].agg(";".join).astype(object)
    return joined.reindex(index, fill_value="")
