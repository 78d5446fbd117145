"""The find box above every page: any part of a unit's id opens it, or lists those that fit."""

from dashboard import day_in_address, session
from dashboard import spoken as st
from dashboard.presenters import finding_units as present
from dashboard.views.with_links import show_html

BOX, ASKED = "find", "units asked for"


def ask_for_unit() -> None:
    """Ask for a unit; the only one that fits is opened at once."""
    st.text_input(
        "find a unit",
        key=BOX,
        placeholder="find a unit: any part of its id",
        label_visibility="collapsed",
        width=300,
        on_change=_take,
    )
    asked = st.session_state.pop(ASKED, "")
    if not asked:
        return
    fits = present.units_with(asked, session.ranked_so_far().units["unit_id"].tolist())
    if len(fits) == 1:
        st.switch_page(
            "views/one_unit.py", query_params={"unit": fits[0], **day_in_address.in_the_address()}
        )
    show_html(present.found_units(asked, fits))


def _take() -> None:
    st.session_state[ASKED] = st.session_state[BOX]
    st.session_state[BOX] = ""
