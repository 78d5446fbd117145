"""The jobs of a plan with all that a work order says of each: actions, parts, looks, walk."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.assessment import Assessment
from scoring.contract.ranking import HOLD
from scoring.contract.rework import ACTION_BY_NAME
from scoring.looking.walking_order import walking_order
from scoring.planning.days_of_a_shutdown import USUAL_HOURS_A_DAY, Daywork, lay_out_by_days
from scoring.planning.plan import Plan
from scoring.what_if.action_arrays import ACTION_NAMES, Flags, actions_of
from scoring.what_if.candidates import Candidates
from scoring.what_if.looks_after_rework import LooksAfterRework, looks_after_rework
from scoring.what_if.parts_needed import parts_needed
from scoring.what_if.site_efforts import SiteEfforts

NOT_IN_THIS_PLAN = "it is not in this plan"
"""Why a hold stays that a kept plan does not lift."""


@dataclass(frozen=True)
class WorkToOrder:
    """A plan, ready to be written as a work order.

    Attributes
    ----------
    assessment : Assessment
        How the fleet stands.
    jobs : DataFrame, shape (n_jobs, ...)
        ``order``, ``window``, ``starts_on``, ``unit_id``, ``site``, ``line``, ``verdict``,
        ``verdict_after``, ``actions``, ``hours``, ``people``, ``crane``, ``lead_days``,
        ``loss_avoided``, ``currency``; all of units in service.
    windows : DataFrame, shape (n_windows, ...)
        ``window``, ``sites``, ``starts_on``, ``crew_hours`` (missing: not known) and ``people``.
    holds_left : DataFrame
        Units on hold that the plan does not lift: ``unit_id``, ``site``, ``why``.
    gone : tuple of str
        Units of the plan that are no longer in service.
    actions, parts : ndarray of bool, shape (n_jobs, n_actions)
        What is done, and which of it needs its parts.
    lead_days : ndarray of int, shape (n_jobs, n_actions)
        How long the parts of each action take to come. [d]
    looks : LooksAfterRework
        What is to be looked at afterwards, one row a job.
    hours_a_day : float
        Hours that people work on a day. [h]
    """

    assessment: Assessment
    jobs: pd.DataFrame
    windows: pd.DataFrame
    holds_left: pd.DataFrame
    gone: tuple[str, ...]
    actions: Flags
    parts: Flags
    lead_days: NDArray[np.int64]
    looks: LooksAfterRework
    hours_a_day: float

    def days_of(self, window: Mapping[Any, Any]) -> tuple[NDArray[np.int64], Daywork]:
        """Return the rows of the jobs of a window, and how they are laid out by days."""
        rows = np.flatnonzero((self.jobs["window"] == window["window"]).to_numpy())
        units = self.assessment.known.units
        walk = pd.Series(walking_order(units), index=units["unit_id"].to_numpy(object))
        jobs = self.jobs.iloc[rows].reset_index(drop=True)
        hours, people = window["crew_hours"], window["people"]
        return rows, lay_out_by_days(
            jobs,
            walk.reindex(jobs["unit_id"].to_numpy(object)).to_numpy(),
            crew_hours=None if pd.isna(hours) else float(hours),
            people=None if pd.isna(people) else int(people),
            hours_a_day=self.hours_a_day,
        )

    def actions_at(self, job: int) -> tuple[str, ...]:
        """Return the names of what is done in a job."""
        return tuple(np.array(ACTION_NAMES, dtype=object)[self.actions[job]])

    def parts_at(self, job: int) -> list[tuple[str, int]]:
        """Return the parts that a job needs, and how many days each takes to come."""
        return [
            (part, int(self.lead_days[job, place]))
            for place in np.flatnonzero(self.actions[job] & self.parts[job])
            for part in ACTION_BY_NAME[ACTION_NAMES[place]].effort.parts
        ]


def work_of_a_plan(
    plan: Plan,
    assessment: Assessment,
    efforts: SiteEfforts,
    hours_a_day: float = USUAL_HOURS_A_DAY,
) -> WorkToOrder:
    """Return a plan, ready to be written as a work order.

    Parameters
    ----------
    plan : Plan
        The plan.
    assessment : Assessment
        How the fleet stands; the plan was made from it.
    efforts : SiteEfforts
        What re-work takes at each site.
    hours_a_day : float
        Hours that people work on a day. [h]
    """
    return _work(plan.jobs, plan.windows, plan.holds_left, assessment, efforts, hours_a_day)


def work_of_kept_jobs(
    jobs: pd.DataFrame,
    assessment: Assessment,
    efforts: SiteEfforts,
    hours_a_day: float = USUAL_HOURS_A_DAY,
) -> WorkToOrder:
    """Return the jobs of a plan that was kept, ready to be written as a work order.

    Parameters
    ----------
    jobs : DataFrame, shape (n_jobs, ...)
        As they are kept; of people and hours of the shutdowns nothing is.
    assessment, efforts, hours_a_day : Assessment, SiteEfforts, float
        As ``work_of_a_plan`` takes them; how the fleet stands now.
    """
    windows = jobs.drop_duplicates("window")[["window", "starts_on"]].reset_index(drop=True)
    windows = windows.assign(sites=None, crew_hours=np.nan, people=np.nan)
    ranking = assessment.ranking
    lifted = jobs.loc[jobs["verdict_after"] != HOLD, "unit_id"]
    left = ranking[(ranking["verdict"] == HOLD) & ~ranking["unit_id"].isin(lifted)]
    left = left[["unit_id", "site"]].assign(why=NOT_IN_THIS_PLAN).reset_index(drop=True)
    return _work(jobs, windows, left, assessment, efforts, hours_a_day)


def _work(  # noqa: PLR0913, PLR0917 - what a work order rests on
    jobs: pd.DataFrame,
    windows: pd.DataFrame,
    holds_left: pd.DataFrame,
    assessment: Assessment,
    efforts: SiteEfforts,
    hours_a_day: float,
) -> WorkToOrder:
    known = assessment.known
    place = pd.Index(known.units["unit_id"].to_numpy(object)).get_indexer(
        jobs["unit_id"].to_numpy(object)
    )
    gone = tuple(jobs.loc[place < 0, "unit_id"])
    jobs, unit = jobs[place >= 0].reset_index(drop=True), place[place >= 0]
    actions = np.array([actions_of(names) for names in jobs["actions"]], dtype=bool)
    actions = actions.reshape(len(jobs), len(ACTION_NAMES))
    parts = parts_needed(known)[unit]
    effort = efforts.work(jobs["site"], actions, parts)
    jobs = jobs.assign(
        people=effort["people"],
        crane=np.where(effort["crane"], "yes", "no"),
        lead_days=effort["lead_days"],
    )
    return WorkToOrder(
        assessment,
        jobs,
        windows,
        holds_left,
        gone,
        actions,
        parts,
        _lead_days(jobs["site"], efforts),
        looks_after_rework(known, Candidates(unit, actions)),
        hours_a_day,
    )


def _lead_days(site: "pd.Series[str]", efforts: SiteEfforts) -> NDArray[np.int64]:
    """Return how long the parts of every action take to come, at the site of each job. [d]."""
    n_jobs, n_actions = len(site), len(ACTION_NAMES)
    each = np.tile(np.eye(n_actions, dtype=bool), (n_jobs, 1))
    effort = efforts.work(site.repeat(n_actions).reset_index(drop=True), each, each)
    days: NDArray[np.int64] = effort["lead_days"].to_numpy(np.int64).reshape(n_jobs, n_actions)
    return days
