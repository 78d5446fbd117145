"""Offer a work order as a file, made when somebody asks for it."""

from collections.abc import Callable

from dashboard import spoken as st
from dashboard.views.asking_who import FIELD_PX
from scoring.planning.days_of_a_shutdown import USUAL_HOURS_A_DAY


@st.fragment
def offer_work_order(make: Callable[[float], bytes], name: str) -> None:
    """Offer a work order.

    Parameters
    ----------
    make : callable
        From the hours of a day to the file; called when it is asked for.
    name : str
        Of the file.
    """
    with st.expander("Work order for the crew"):
        hours = st.number_input(
            "hours people work on a day",
            min_value=0.5,
            max_value=24.0,
            value=USUAL_HOURS_A_DAY,
            step=0.5,
            width=FIELD_PX,
        )
        st.download_button(
            "Save the work order as PDF",
            data=lambda: make(float(hours)),
            file_name=name,
            mime="application/pdf",
            on_click="ignore",
        )
        st.caption(
            "Who does what on which day, the parts, then for each unit why, its picture, the steps "
            "with boxes to tick, torques as entered, and what to look at afterwards."
        )
