"""Where to look next: what every look is worth, and a route in the hours there are."""

from collections.abc import Mapping
from dataclasses import dataclass

import pandas as pd

from scoring.contract import Seen
from scoring.errors import FixableError
from scoring.looking.assessed_fleet import AssessedFleet
from scoring.looking.look_minutes import LookMinutes
from scoring.looking.look_plan import LookPlan, plan_looks
from scoring.looking.worth_of_looks import worth_of_looks
from scoring.what_if.site_efforts import refuse_unknown_site

STATES = {"stopped": Seen.STOPPED, "running": Seen.RUNNING, "hanging": Seen.HANGING}
"""States of a machine in which it can be looked at, as people write them."""


@dataclass(frozen=True)
class Looks:
    """Where to look.

    Attributes
    ----------
    route : LookPlan
        The route.
    looks : DataFrame
        What every look is worth by itself, the best first.
    """

    route: LookPlan
    looks: pd.DataFrame


def hours_of_sites(
    hours: float | Mapping[str, float], sites: tuple[str, ...], in_service: "pd.Series[str]"
) -> dict[str, float]:
    """Return the hours that an inspector has at each site.

    Parameters
    ----------
    hours : float or mapping of str to float
        The same at every site, or site by site. [h]
    sites : tuple of str
        Only these; empty: all.
    in_service : Series of str
        Where each unit in service stands.

    Returns
    -------
    dict of str to float
        In hours. [h]

    Raises
    ------
    FixableError
        If no unit stands at a site, or hours are not above 0.
    """
    named = hours if isinstance(hours, Mapping) else {}
    wanted = sites or tuple(named) or tuple(map(str, in_service.unique()))
    for site in wanted:
        refuse_unknown_site(site, in_service)
    given = {site: hours[site] if isinstance(hours, Mapping) else hours for site in wanted}
    for site, count in given.items():
        if not 0 < count <= 10_000:
            raise FixableError(f"{count!r} hours at {site}; right is above 0 and at most 10,000")
    return given


def weigh_looks(
    stands: AssessedFleet, hours: Mapping[str, float], minutes: LookMinutes, state: str
) -> Looks:
    """Weigh every look that can be taken, and choose a route.

    Parameters
    ----------
    stands : AssessedFleet
        How the fleet stands.
    hours : mapping of str to float
        From ``hours_of_sites``. [h]
    minutes : LookMinutes
        How long looking takes.
    state : str
        One of ``STATES``.

    Returns
    -------
    Looks

    Raises
    ------
    FixableError
        If there is no such state.
    """
    if state not in STATES:
        raise FixableError(f"state is {state!r}; right is one of {', '.join(STATES)}")
    looks = worth_of_looks(stands, minutes, STATES[state])
    return Looks(plan_looks(looks, hours), looks.drop(columns=["unit", "walk_place"]))
