"""Is it getting better: sentences with their uncertainty, then pictures, then tables."""

from collections.abc import Callable
from functools import partial

import pandas as pd

from dashboard import kept_in_store, session
from dashboard import spoken as st
from dashboard.charts.trend import (
    expected_failures_chart,
    funnel_chart,
    holds_chart,
    right_chart,
)
from dashboard.presenters import better_tables as lay_out
from dashboard.presenters import trend_tables as present
from dashboard.presenters.better_workings import WORKINGS
from dashboard.presenters.words import plain
from dashboard.views.asking_what_of_the_trend import Chosen, ask
from dashboard.views.offering_trend_sheets import offer_crew_page, offer_month
from dashboard.views.what_rework_did import show_what_rework_did
from dashboard.views.with_links import show_first_of_table, show_html, show_table
from scoring.contract.amounts_in_words import span_said, thousands
from scoring.contract.events import MODE_WORDS
from scoring.trends import better_sentences as say
from scoring.trends import holds_by_age, never_looked_at, recurring_findings
from scoring.trends.month_ends import AGE_LABELS
from scoring.trends.sites_and_crews import funnels_of

FEWEST_MONTHS = 2
LOOK_AGAIN_S = 2.0
"""How often the page looks for month-ends that are still being worked out. [s]"""


def show() -> None:
    """Show the page."""
    st.title("Is it getting better?")
    units = session.then_and_now()
    if units["loss_now"].notna().sum() == 0:
        st.info("No unit was in service on that day. Choose another day above.")
        return
    sites = sorted(units["site"].dropna().unique())
    answer = st.container()
    chosen = ask(sites)
    installations = session.first_time_right()
    funnels = session.shown_once("funnels", lambda: funnels_of(installations))
    with answer:
        said, drawn = st.columns([2, 3], gap="medium")
        with said:
            show_answer(units, installations, funnels, chosen)
        with drawn:
            show_holds(chosen)
        _until_worked_out(lambda: offer_month(units, installations))
    with st.expander("How this is worked out"):
        for about, words in WORKINGS.items():
            st.markdown(f"**{about}**")
            st.text(words)
    show_first_time_right(chosen.of(installations), chosen)
    show_groups(units, funnels)
    crews = sorted(installations["installer"].dropna().unique())
    if crews:
        offer_crew_page(crews)
    show_failures(chosen)
    show_what_nobody_sees()
    show_what_rework_did()
    show_what_comes_back()


def show_sentence(sentence: say.Sentence | None) -> None:
    """Show a sentence; one that has nothing to say is not shown."""
    if sentence is not None:
        st.markdown(f"**{plain(sentence.verdict)}:** {plain(sentence.rest)}")


def show_answer(
    all_units: pd.DataFrame,
    all_installations: pd.DataFrame,
    funnels: dict[str, pd.DataFrame],
    chosen: Chosen,
) -> None:
    """Show the answer in at most four sentences."""
    units, sites = chosen.of(all_units), chosen.sites

    def sentences() -> None:
        trend = session.trend_so_far()
        finished = len(trend.states) == trend.wanted
        held = units.loc[units["held_now"] == 1, "unit_id"].tolist()
        # Who has been told since then is no answer for an earlier day.
        told = None if session.is_earlier_day() else kept_in_store.units_told_of(held)
        currency = session.assessment().risk.costs.currency or None
        span = span_said(session.open_fleet().horizon_days)
        show_sentence(
            session.shown_once(
                "money_said", lambda: say.money_sentence(units, currency, span), sites
            )
        )
        show_sentence(
            session.shown_once(
                "holds_said",
                lambda: say.holds_sentence(
                    units, chosen.at_month_ends(trend) if finished else (), told
                ),
                told,
                finished,
                sites,
            )
        )
        show_sentence(
            session.shown_once(
                "first_time_right_said",
                lambda: say.first_time_right_sentence(
                    chosen.of(all_installations), session.open_fleet().as_of
                ),
                sites,
            )
        )
        if not sites:
            show_sentence(
                session.shown_once(
                    "groups_said",
                    lambda: say.groups_sentence(funnels["site"], funnels["installer"]),
                )
            )
        if not finished:
            st.text(
                f"{len(trend.states)} of {trend.wanted} month-ends are worked out; how old holds "
                "are follows."
            )

    _until_worked_out(sentences)


def show_holds(chosen: Chosen) -> None:
    """Show open holds by age, month by month."""

    def holds() -> None:
        trend = session.trend_so_far()
        if len(trend.states) < trend.wanted:
            st.text("Working out the month-ends; this page may be left meanwhile.")
            return
        by_age = session.shown_once(
            "holds_by_age",
            lambda: lay_out.last_months(holds_by_age(chosen.at_month_ends(trend)), chosen.months),
            chosen,
        )
        st.markdown(f"**{plain(say.holds_title(by_age))}**")
        chart = session.chart("holds_by_age", lambda: holds_chart(by_age, AGE_LABELS), chosen)
        st.altair_chart(chart, width="stretch")
        with st.expander("The numbers by month"):
            show_table(
                session.shown_once("holds_by_month", lambda: lay_out.holds_by_month(by_age), chosen)
            )

    _until_worked_out(holds)


def show_first_time_right(installations: pd.DataFrame, chosen: Chosen) -> None:
    """Show the share of installations that were right, half-year by half-year."""
    st.header("Installations without a critical fault at the first complete walkdown")
    if not installations["judged"].any():
        st.info("No post-install walkdown saw every critical check, so none can be judged.")
        return
    st.text(
        f"{thousands(installations['judged'].sum())} of {thousands(len(installations))} "
        "installations had every critical check seen before any re-work; only those are judged. "
        "Lines: 90 % intervals."
    )
    shares = session.shown_once(
        "half_years", lambda: lay_out.half_years(installations), chosen.sites
    )
    chart = session.chart("half_years", lambda: right_chart(shares), chosen.sites)
    st.altair_chart(chart, width="stretch")
    with st.expander("The numbers"):
        show_table(lay_out.half_years_shown(shares), shares=lay_out.SHARES)


def show_groups(units: pd.DataFrame, funnels: dict[str, pd.DataFrame]) -> None:
    """Show sites and crews against what luck alone makes of them."""
    st.header("Sites and crews, beside what luck alone makes")
    groups = session.shown_once("groups", lambda: groups_of(funnels))
    if len(groups):
        st.text(
            "Squares: sites; circles: crews. Bars: where 9 in 10 fleets lie in which all are "
            "alike; only who lies outside is named."
        )
        st.altair_chart(session.chart("groups", lambda: funnel_chart(groups)), width="stretch")
    show_html(
        session.shown_once(
            "sites_shown",
            lambda: lay_out.sites_shown(
                units, funnels["site"], session.assessment().risk.costs.currency or None
            ),
        )
    )
    show_crews(funnels["installer"])


def show_crews(crews: pd.DataFrame) -> None:
    """Show the crews that stand outside of luck; the others where a person asks for them."""
    outside, within = lay_out.beside_luck(crews)
    if len(outside):
        show_html(session.shown_once("crews_shown", lambda: lay_out.crews_shown(outside)))
    if len(within):
        with st.expander(f"Crews within luck: {len(within)}"):
            show_html(session.shown_once("crews_within", lambda: lay_out.crews_shown(within)))


def groups_of(funnels: dict[str, pd.DataFrame]) -> pd.DataFrame:
    """Return sites and crews in one table, as they are drawn."""
    kinds = (("site", "site"), ("installer", "crew"))
    return pd.concat(
        [funnels[by].rename_axis("name").reset_index().assign(kind=kind) for by, kind in kinds],
        ignore_index=True,
    )


def show_failures(chosen: Chosen) -> None:
    """Show expected failures by site, month by month."""
    st.header("Expected failures by site")

    def failures() -> None:
        trend = session.trend_so_far()
        if len(trend.states) < FEWEST_MONTHS:
            st.text("Working out the month-ends; this page may be left meanwhile.")
            return
        done = len(trend.states)
        by_site = session.shown_once(
            "by_site",
            lambda: lay_out.last_months(
                present.by_site(chosen.at_month_ends(trend)), chosen.months
            ),
            done,
            chosen,
        )
        first, *others = MODE_WORDS.values()
        show_expected(first, by_site, done, chosen)
        with st.expander("Expected seal leaks and joint slips"):
            for failure in others:
                show_expected(failure, by_site, done, chosen)

    _until_worked_out(failures)


def show_expected(failure: str, by_site: pd.DataFrame, done: int, chosen: Chosen) -> None:
    """Show one kind of failure by site, month by month."""
    st.markdown(f"**Expected {failure}s of 100 units within a year**")
    chart = session.chart(
        "by_site", partial(expected_failures_chart, by_site, failure), done, failure, chosen
    )
    st.altair_chart(chart, width="stretch")


def show_what_nobody_sees() -> None:
    """Show critical checks that nobody has seen, or not for too long."""
    st.header("What nobody looks at")
    checks = session.shown_once("unseen", lambda: never_looked_at(session.assessment()))
    if checks.empty:
        st.text("Every critical check of every unit was seen in time.")
        return
    show_sentence(say.unseen_sentence(checks))
    show_first_of_table(lay_out.unseen_shown(checks), shares=["share not seen"])


def show_what_comes_back() -> None:
    """Show findings that come back after a cure."""
    st.header("Findings that come back")
    fleet = session.open_fleet()
    back = session.shown_once(
        "what_comes_back",
        lambda: present.recurring(recurring_findings(fleet.assessor, fleet.as_of)),
    )
    if back.empty:
        st.text("No finding came back after it was reported cured.")
    else:
        show_first_of_table(back)


def _until_worked_out(part: Callable[[], None]) -> None:
    """Show a part of the page again and again until all month-ends are worked out."""
    trend = session.trend_so_far()
    if len(trend.states) == trend.wanted:
        part()
        return

    def again() -> None:
        if len(session.trend_so_far().states) == trend.wanted:
            st.rerun()
        part()

    st.fragment(again, run_every=LOOK_AGAIN_S)()


show()
