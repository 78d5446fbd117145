"""Is it getting better: the fleet as it was known at each month's end."""

import streamlit as st

from dashboard import session
from dashboard.charts.trend import expected_failures_chart, holds_chart, right_chart
from dashboard.presenters import trend_tables as present
from dashboard.views.what_rework_did import show_what_rework_did
from scoring.contract.events import MODE_WORDS
from scoring.trends import recurring_findings, right_first_time
from scoring.trends.month_ends import AGE_LABELS

FEWEST_MONTHS = 2

fleet = session.open_fleet()
st.title("Is it getting better?")
st.text(
    "The fleet ranked at each month's end with what was known of its units then, all months with "
    f"one yardstick: hazards as they are known today; basis: {session.learning().words}"
)


@st.fragment(run_every=None)
def show_trend() -> None:
    """Show what is worked out of the trend."""
    trend = session.trend_so_far()
    if len(trend.states) < FEWEST_MONTHS:
        st.info("Working out the month-ends; look again in some seconds.")
        st.button("Look again")
        return
    if len(trend.states) < trend.wanted:
        st.info(f"{len(trend.states)} of {trend.wanted} month-ends are worked out.")
        st.button("Look again")
    with st.container(horizontal=True):
        for failure, (now, before) in present.summary(trend.states).items():
            st.metric(
                f"{failure}s of 100 units",
                f"{now:.2f}",
                f"{now - before:+.2f} in a year",
                delta_color="inverse",
                border=True,
                help="Units expected to have it within a year, each counted once.",
            )
    by_site = present.by_site(trend.states)
    for failure in MODE_WORDS.values():
        st.subheader(f"Expected {failure}s by site")
        st.altair_chart(expected_failures_chart(by_site, failure), width="stretch")
    st.subheader("Open holds by age")
    st.altair_chart(holds_chart(present.holds_by_age(trend.states), AGE_LABELS), width="stretch")


show_trend()

st.subheader("Right the first time")
installations = right_first_time(fleet.assessor, fleet.as_of)
if installations["judged"].sum() == 0:
    st.info("No post-install walkdown saw every critical check, so none can be judged.")
else:
    st.text(
        f"{installations['judged'].sum()} of {installations['inspected'].sum()} inspected "
        "installations saw every critical check; only those are judged"
    )
    st.altair_chart(
        right_chart(present.right_first_time(installations, "quarter")), width="stretch"
    )
    for by, words in (("site", "By site"), ("installer", "By crew")):
        with st.expander(words):
            st.dataframe(
                present.right_first_time(installations, by),
                hide_index=True,
                column_config={"share": st.column_config.NumberColumn(format="percent")},
            )
    st.caption("Few installations prove little; a small crew may have had bad luck.")

st.subheader("Findings that come back")
back = present.recurring(recurring_findings(fleet.assessor, fleet.as_of))
if back.empty:
    st.text("No finding came back after it was reported cured.")
else:
    st.dataframe(back, hide_index=True)

show_what_rework_did()
