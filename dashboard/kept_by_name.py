"""Plans and views that people keep by name in the store, for the pages.

What they need of the store takes half a second to import: over files nobody waits for it.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import pandas as pd
import streamlit as st

from dashboard import launch_settings
from dashboard.fleet_results import OpenFleet
from dashboard.person_cookie import person_of
from scoring.access.who_asks import who_asks
from scoring.errors import FixableError

if TYPE_CHECKING:
    from scoring.entering.kept_plans import KeptPlan
    from scoring.entering.kept_views import KeptView
    from scoring.store.open_store import Store

LISTED = 50
"""So many kept plans are listed. Ours."""


@dataclass(frozen=True)
class PlansKept:
    """The plans kept last, the last first, their jobs, and how many plans there are in all."""

    plans: "list[KeptPlan]"
    jobs: pd.DataFrame
    count: int


def is_kept() -> bool:
    """Tell whether anything can be kept by name."""
    return launch_settings.store() is not None


def person() -> str:
    """Return who is signed in, or holds the device; nothing where nobody has said so."""
    return who_asks().name or person_of(st.context.cookies)


def keep_plan(by: str, name: str, jobs: pd.DataFrame, fleet: OpenFleet, link: str) -> "KeptPlan":
    """Keep a plan as it stands on a page.

    Raises
    ------
    FixableError
        If it cannot be kept, in words.
    """
    from scoring.entering import kept_plans  # noqa: PLC0415 - see above

    with _store().writing(by) as writing:
        return kept_plans.keep_plan(
            writing,
            name,
            jobs,
            as_of=fleet.as_of,
            horizon_days=fleet.horizon_days,
            link=link,
        )


def withdraw_plan(by: str, plan_id: str) -> None:
    """Take a plan off the list."""
    from scoring.entering import kept_plans  # noqa: PLC0415 - see above

    with _store().writing(by) as writing:
        kept_plans.withdraw_plan(writing, plan_id)


def plans() -> PlansKept:
    """Return the plans that are listed."""
    from scoring.entering import kept_plans  # noqa: PLC0415 - see above

    with _store().reading() as connection:
        found = kept_plans.kept_plans(connection)
        jobs = kept_plans.jobs_of_plans(connection, [one.plan_id for one in found[:LISTED]])
    return PlansKept(found[:LISTED], jobs, len(found))


def plan(plan_id: str) -> "tuple[KeptPlan, pd.DataFrame]":
    """Return a plan and its jobs, be it withdrawn.

    Raises
    ------
    FixableError
        If there is none of that key.
    """
    from scoring.entering import kept_plans  # noqa: PLC0415 - see above

    with _store().reading() as connection:
        found = kept_plans.kept_plan(connection, plan_id)
        return found, kept_plans.jobs_of_plans(connection, [plan_id])


def keep_view(by: str, name: str, page: str, link: str) -> "KeptView":
    """Keep what is chosen on a page.

    Raises
    ------
    FixableError
        If it cannot be kept, in words.
    """
    from scoring.entering import kept_views  # noqa: PLC0415 - see above

    with _store().writing(by) as writing:
        return kept_views.keep_view(writing, name, page, link)


def remove_view(by: str, view_id: str) -> None:
    """Remove a view."""
    from scoring.entering import kept_views  # noqa: PLC0415 - see above

    with _store().writing(by) as writing:
        kept_views.remove_view(writing, view_id)


def views(page: str) -> "list[KeptView]":
    """Return the views of a page."""
    from scoring.entering import kept_views  # noqa: PLC0415 - see above

    with _store().reading() as connection:
        return kept_views.kept_views(connection, page)


def _store() -> "Store":
    store = launch_settings.store()
    if store is None:
        raise FixableError(OVER_FILES)
    return store


OVER_FILES = (
    "these pages show files, into which nothing is written; ask who started these pages to load "
    "the records into a store, and to show that"
)
