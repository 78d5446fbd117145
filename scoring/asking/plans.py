"""Which re-work in which shutdown: what is asked of a plan, and the plan."""

from dataclasses import dataclass

import pandas as pd

from scoring.assessment import Assessment
from scoring.errors import FixableError
from scoring.planning.front import Front, front_of
from scoring.planning.plan import Plan, make_plan, plan_of
from scoring.planning.shutdowns import Shutdowns, one_shutdown
from scoring.planning.wishes import NO_WISHES, Wishes
from scoring.what_if.site_efforts import refuse_unknown_site


@dataclass(frozen=True)
class PlanAsked:
    """What is asked of a plan.

    Attributes
    ----------
    shutdowns : Shutdowns
        When work can be done.
    wishes : Wishes
        Units that must be in, or out.
    lift : int, optional
        Lift at least so many holds; of such plans take the one that avoids most loss.
    holds_first : bool
        Whether as many holds as can be are lifted first; else loss avoided alone counts.
    with_front : bool
        Ask for plans from most holds lifted to most loss avoided, too.
    """

    shutdowns: Shutdowns
    wishes: Wishes = NO_WISHES
    lift: int | None = None
    holds_first: bool = True
    with_front: bool = False


def planned(
    bundles: pd.DataFrame, assessment: Assessment, asked: PlanAsked
) -> tuple[Plan, Front | None]:
    """Plan re-work.

    Parameters
    ----------
    bundles : DataFrame
        From ``weigh_bundles``.
    assessment : Assessment
        How the fleet stands.
    asked : PlanAsked
        What is asked of the plan.

    Returns
    -------
    tuple of Plan and Front or None
        The plan; and plans from most holds lifted to most loss avoided, where they were needed.
    """
    shutdowns, wishes, ranking = asked.shutdowns, asked.wishes, assessment.ranking
    front = None
    if asked.with_front or asked.lift is not None:
        front = front_of(bundles, shutdowns, wishes, asked=asked.lift)
    if front is not None and asked.lift is not None:
        choice = front.lifting(asked.lift)
        return plan_of(choice, bundles, ranking, shutdowns, wishes), front
    holds_first = asked.holds_first
    return make_plan(bundles, ranking, shutdowns, wishes=wishes, holds_first=holds_first), front


def shutdown_at(  # noqa: PLR0913 - a shutdown has these
    day: pd.Timestamp,
    crew_hours: float,
    sites: "pd.Series[str]",
    *,
    site: str | None = None,
    people: int | None = None,
    starts_on: pd.Timestamp | None = None,
) -> Shutdowns:
    """Return one shutdown of a fleet; as ``one_shutdown``, and refuse what cannot be.

    Raises
    ------
    FixableError
        If no unit stands at the site, the shutdown begins before the day of what is known, or
        its hours or people are not above 0.
    """
    if site is not None:
        refuse_unknown_site(site, sites)
    if starts_on is not None and starts_on < day:
        raise FixableError(
            f"the shutdown starts on {starts_on.date()}, which is before {day.date()}, the day of "
            "what is known; give that day or a later one"
        )
    if not crew_hours > 0:
        raise FixableError(f"{crew_hours!r} crew-hours; right is a number above 0")
    if people is not None and people < 1:
        raise FixableError(f"{people!r} people; right is a whole number of at least 1")
    return one_shutdown(day, crew_hours, site=site, people=people, starts_on=starts_on)
