"""In the band of every page: which plant, as of which day, how far ahead, and how to change it."""

import pandas as pd

from dashboard import day_in_address, session
from dashboard import spoken as st
from dashboard.day_in_address import Asked
from dashboard.fleet_results import OpenFleet
from dashboard.presenters import about
from dashboard.presenters.day_words import ahead_said, earlier_day_said
from dashboard.presenters.words import day_said, plain

DAY, AHEAD = "day to speak of", "days to look ahead"


def show_day() -> None:
    """Say of which plant and day the pages speak, and offer another day and horizon."""
    fleet = session.open_fleet()
    said = about.band(fleet.name, fleet.as_of, fleet.horizon_days)
    with st.container(horizontal=True, vertical_alignment="center", gap="small", key="day"):
        st.caption(plain(said), width="content")
        with st.popover("change", type="tertiary", help="Another day, or further ahead"):
            ask_day(fleet)


def ask_day(fleet: OpenFleet) -> None:
    """Ask for the day and the horizon; both go into the address."""
    last = day_in_address.usual().as_of.date()
    st.session_state[DAY] = fleet.as_of.date()
    st.session_state[AHEAD] = fleet.horizon_days
    st.date_input(
        "as of the end of",
        min_value=fleet.first_day,
        max_value=last,
        format="YYYY-MM-DD",
        key=DAY,
        on_change=_take,
        help=f"From {fleet.first_day}, when the first unit was hung, to {last}.",
    )
    st.radio(
        "chances and losses within",
        day_in_address.HORIZONS_DAYS,
        format_func=lambda days: ahead_said(days).removesuffix(" ahead"),
        key=AHEAD,
        on_change=_take,
    )
    st.caption("The form, and what is due today, speak of the real day.")


def show_which_day() -> None:
    """Say so where a page speaks of an earlier day, or the address asks for what cannot be."""
    fleet = session.open_fleet()
    wrong = day_in_address.refused(fleet.first_day)
    if wrong:
        st.warning(plain(f"{wrong} This page speaks of {day_said(fleet.as_of)}."))
    if not session.is_earlier_day():
        return
    last = day_in_address.usual()
    with st.container(horizontal=True, vertical_alignment="center", key="earlier_day"):
        st.text(earlier_day_said(fleet.as_of, last.as_of), width="content")
        st.button(
            f"Back to {day_said(last.as_of)}",
            on_click=day_in_address.choose,
            args=(Asked(last.as_of, fleet.horizon_days),),
        )


def _take() -> None:
    chosen = st.session_state[DAY]
    if chosen is not None:  # a day that was taken out and not typed yet
        day_in_address.choose(Asked(pd.Timestamp(chosen), int(st.session_state[AHEAD])))
