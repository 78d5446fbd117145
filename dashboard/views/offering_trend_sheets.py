"""Offer the manager's month and crews' pages as files, made when somebody asks for them."""

from functools import partial

import pandas as pd

from dashboard import kept_in_store, session
from dashboard import spoken as st
from dashboard.trend_sheets import pdf_of_crew, pdf_of_month
from dashboard.views.asking_who import FIELD_PX
from scoring.sheets.month_page import MONTHS
from scoring.sheets.month_results import MonthResults

PDF = "application/pdf"


def offer_month(units: pd.DataFrame, installations: pd.DataFrame) -> None:
    """Offer the month of the whole fleet, once all month's ends are worked out."""
    trend = session.trend_so_far()
    if len(trend.states) < trend.wanted:
        return
    fleet, assessment = session.open_fleet(), session.assessment()
    held = units.loc[units["held_now"] == 1, "unit_id"].tolist()
    results = MonthResults(
        fleet.assessor.fleet,
        assessment,
        units,
        installations,
        trend.states[:MONTHS],
        session.cost_of_rework(),
        len(session.overdue_looks()),
        None if session.is_earlier_day() else kept_in_store.units_told_of(held),
    )
    st.download_button(
        "Save the month on one page as PDF",
        data=partial(pdf_of_month, results, fleet.name),
        file_name="month.pdf",
        mime=PDF,
        on_click="ignore",
        help="Of the whole fleet, for people without this tool.",
    )


@st.fragment
def offer_crew_page(crews: list[str]) -> None:
    """Offer the page of one crew, which shows no other."""
    with st.expander("A page for one crew"):
        crew = st.selectbox("crew", crews, width=FIELD_PX)
        fleet = session.open_fleet()
        st.download_button(
            "Save the crew's page as PDF",
            data=partial(pdf_of_crew, fleet.assessor, session.assessment(), crew),
            file_name="crew_page.pdf",
            mime=PDF,
            on_click="ignore",
        )
        st.caption(
            "Which steps it gets wrong more often than luck explains, what that does, how it is "
            "right, what has improved. It shows this crew beside the whole fleet, and no other."
        )
