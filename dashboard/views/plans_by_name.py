"""Keep the plan that is shown by name, and list the plans that were kept."""

import pandas as pd

from dashboard import kept_by_name
from dashboard import spoken as st
from dashboard.fleet_results import OpenFleet
from dashboard.presenters.kept_plan_lists import list_of_plans
from dashboard.presenters.kept_plan_words import kept_link
from dashboard.presenters.words import plain
from dashboard.views.asking_who import FIELD_PX, ask_who
from dashboard.views.with_links import show_html
from scoring.access.acts import Act
from scoring.access.who_asks import who_asks
from scoring.errors import FixableError

NAME, BY = "name of the plan", "who keeps the plan"


def offer_to_keep(jobs: pd.DataFrame, fleet: OpenFleet, link: str) -> None:
    """Offer to keep a plan as it stands; over files say where it lives.

    Parameters
    ----------
    jobs : DataFrame
        ``Plan.jobs``.
    fleet : OpenFleet
        Says of which day the plan is, and how far ahead its losses reach.
    link : str
        What is chosen, as an address; empty where no address can say it.
    """
    if not kept_by_name.is_kept():
        st.caption(
            "Plans are kept by name where the records lie in a store; over files a plan lives in "
            "its link."
        )
        return
    if not jobs.empty and who_asks().may(Act.KEEP_PLAN):
        folded, told = st.expander("Keep this plan by name"), st.container()
        with folded, st.form("keep plan", border=False):
            asked = ask_to_keep()
        with told:  # in sight, whether or not the form is folded again
            keep_if_asked(asked, jobs, fleet, link)


def ask_to_keep() -> tuple[str, str] | None:
    """Ask for a name and for whose plan it is; return both once they are given."""
    name = st.text_input("name of the plan", key=NAME, width=FIELD_PX)
    by = ask_who(BY)
    st.caption(
        "Kept as it stands, with its jobs and what they promise: it can be compared with what "
        "was done, and withdrawn, but not changed."
    )
    return (name, by) if st.form_submit_button("Keep this plan") else None


def keep_if_asked(
    asked: tuple[str, str] | None, jobs: pd.DataFrame, fleet: OpenFleet, link: str
) -> None:
    """Keep the plan if somebody asked for it, and say so."""
    if asked is None:
        return
    name, by = asked
    try:
        kept = kept_by_name.keep_plan(by, name, jobs, fleet, link)
    except FixableError as error:
        st.error(plain(str(error)))
        return
    st.success(f"Kept as [{plain(kept.name)}]({kept_link(kept.plan_id)}).")


def list_kept() -> None:
    """List the plans that were kept."""
    if not kept_by_name.is_kept():
        return
    there = kept_by_name.plans()
    if not there.plans:
        return
    with st.expander(f"Kept plans: {there.count}"):
        show_html(list_of_plans(there.plans, there.jobs))
        if there.count > len(there.plans):
            st.caption(f"The last {len(there.plans)} of {there.count} plans.")
