"""A section of the page of the trend: what became of re-work."""

from dashboard import session
from dashboard import spoken as st
from dashboard.charts.rework_success_by_action import rework_success_chart
from dashboard.presenters import better_tables as lay_out
from dashboard.presenters import rework_tables as present
from dashboard.presenters.words import plain
from dashboard.views.folded import show_when_opened
from dashboard.views.with_links import show_first_of_table, show_table
from scoring.contract.amounts_in_words import thousands
from scoring.trends import came_back
from scoring.trends.after_rework import LOOK_AFTER_REWORK_DAYS
from scoring.trends.better_sentences import rework_sentence

LISTED = 100
"""Rows that a browser gets of a long list."""

LAST_YEAR = 2
"""Rows of the newest year: before a failure, and repair of one."""


@st.fragment
def show_what_rework_did() -> None:
    """Show whether re-work succeeded, what nobody looked at, what came back, and what it gained.

    What stands in an expander is made when it is opened, so that the page stays quick.
    """
    st.header("What re-work cost, and what it bought")
    seen = session.after_rework()
    if seen.empty:
        st.text("No re-work is on record.")
        return
    show_cost()
    st.text(session.shown_once("fates_said", lambda: present.fates_said(seen)))
    show_overdue()
    for words, show in (
        ("How often re-work succeeds", show_rework_success),
        ("Succeeded or not, check by check", show_by_check),
        ("Found again after the cure had been seen good", show_came_back),
        ("Loss removed, year by year, and by a crew-hour", show_gain),
    ):
        show_when_opened(words, show)


def show_cost() -> None:
    """Show what re-work cost beside the loss that it removed."""
    costs = session.cost_of_rework()
    currency = session.assessment().risk.costs.currency or None
    sentence = session.shown_once(
        "re_work_said", lambda: rework_sentence(costs, session.open_fleet().as_of, currency)
    )
    if sentence is not None:
        st.markdown(f"**{plain(sentence.verdict)}:** {plain(sentence.rest)}")
    table = session.shown_once("cost_by_year", lambda: lay_out.cost_by_year(costs))
    show_first_of_table(table, first=LAST_YEAR)


def show_rework_success() -> None:
    """Show how often each action succeeds."""
    success = session.shown_once(
        "success_of_re_work",
        lambda: present.rework_success_shown(session.assessed_fleet().success),
    )
    if success.empty:
        st.text("No walkdown after re-work has looked at what had been found wrong.")
        return
    chart = session.chart("success_of_re_work", lambda: rework_success_chart(success))
    st.altair_chart(chart, width="stretch")
    st.caption(
        "From the walkdowns after re-work; the fewer of them, the nearer to the usual chance, a "
        "planning value of ours."
    )


def show_by_check() -> None:
    """Show what became of cures, check by check."""
    show_table(
        session.shown_once("by_check", lambda: present.by_check(session.after_rework())),
        shares=["share that succeeded"],
    )


def show_overdue() -> None:
    """Show re-work that nobody has looked at in time."""
    overdue = session.overdue_looks()
    said = f"Not looked at within {LOOK_AFTER_REWORK_DAYS} days of re-work: {len(overdue)}"
    if overdue.empty:
        st.text(f"{said}.")
        return
    with st.expander(said):
        show_table(
            session.shown_once("overdue", lambda: present.overdue_shown(overdue.head(LISTED)))
        )
        if len(overdue) > LISTED:
            st.caption(f"The oldest {LISTED} of {thousands(len(overdue))}.")


def show_came_back() -> None:
    """Show findings that were found again after their cure had been seen."""
    back = session.shown_once("came_back", lambda: came_back(session.after_rework()))
    if back.empty:
        st.text("None.")
        return
    show_table(present.back_shown(back.head(LISTED)))
    if len(back) > LISTED:
        st.caption(f"The newest {LISTED} of {thousands(len(back))}.")


def show_gain() -> None:
    """Show what re-work gained, year by year."""
    show_table(
        session.shown_once("gain_by_year", lambda: present.gain_by_year(session.gain_of_rework()))
    )
    st.caption(
        "Expected loss of a year as the unit was known the day before, less that of the day after, "
        "with hazards as they are known today. What was seen on these days counts too, so that a "
        "job can seem to have raised it. A crew-hour: of jobs whose hours are written down."
    )
