"""Ask which shutdowns there are, and which units must be in a plan or out of it."""

from typing import Any

import pandas as pd

from dashboard import choices_in_address as kept
from dashboard import session
from dashboard import spoken as st
from dashboard.presenters import shutdown_windows as asked
from scoring.planning.wishes import Wishes

ONE, SEVERAL = "one shutdown", "several"

USUAL_HOURS = 40.0
USUAL: dict[str, object] = {"how_many": ONE}
USUAL_SHUTDOWN: dict[str, object] = {
    "crew_hours": USUAL_HOURS,
    "people": None,
    "starts_on": None,
    "sites": [],
    "crane": True,
}
USUAL_WISHES: dict[str, object] = {"must_in": [], "must_out": []}
"""What is planned where nobody has chosen anything, by the key of each widget."""


def start(sites: "pd.Series[str]", unit_ids: "pd.Series[str]") -> bool:
    """Start what is asked here; return whether there may be several shutdowns."""
    kept.start(USUAL, {"how_many": kept.one_of([ONE, SEVERAL])})
    kept.start(
        USUAL_SHUTDOWN,
        {
            "crew_hours": kept.number(float, 0.5),
            "people": kept.number(int, 1),
            "starts_on": kept.day_from(session.open_fleet().as_of.date()),
            "sites": kept.some_of(sites.unique()),
            "crane": kept.one_of([True, False]),
        },
    )
    kept.start(USUAL_WISHES, {name: kept.some_of(unit_ids) for name in USUAL_WISHES})
    return bool(st.session_state["how_many"] == SEVERAL)


def chosen() -> dict[str, Any]:
    """Return what is chosen, by the key of each widget."""
    return {key: st.session_state[key] for key in (*USUAL_SHUTDOWN, *USUAL_WISHES)}


def ask_shutdowns(sites: "pd.Series[str]") -> pd.DataFrame:
    """Ask for shutdowns."""
    how_many = st.segmented_control(
        "shutdowns", [ONE, SEVERAL], required=True, key="how_many", persist_state="session"
    )
    return ask_several(sites) if how_many == SEVERAL else ask_one(sites)


def ask_wishes(with_work: "pd.Series[str]") -> Wishes:
    """Ask which units must be in a plan, and which are left out, of those with work to be done."""
    asked_for = {*st.session_state["must_in"], *st.session_state["must_out"]}
    offered = sorted({*with_work, *asked_for})
    with st.container(horizontal=True):
        must_in = st.multiselect(
            "must be in",
            offered,
            placeholder="none",
            key="must_in",
            persist_state="session",
            help="Before holds and loss are looked at.",
        )
        must_out = st.multiselect(
            "left out", offered, placeholder="none", key="must_out", persist_state="session"
        )
    return Wishes(frozenset(must_in), frozenset(must_out))


def ask_one(sites: "pd.Series[str]") -> pd.DataFrame:
    """Ask for one shutdown."""
    as_of = session.open_fleet().as_of.date()
    with st.container(horizontal=True, vertical_alignment="bottom"):
        hours = st.number_input(
            "crew-hours",
            min_value=0.5,
            step=8.0,
            key="crew_hours",
            persist_state="session",
            help="Hours that all its people have together: five people for eight hours are 40.",
        )
        people = st.number_input(
            "people at once",
            min_value=1,
            value=None,
            key="people",
            persist_state="session",
            placeholder="any number",
        )
        starts_on = st.date_input(
            "begins on",
            value=None,
            min_value=as_of,
            key="starts_on",
            persist_state="session",
            format="YYYY-MM-DD",
            help="Work whose parts come later is left out. Blank: parts are there in time.",
        )
        open_at = st.multiselect(
            "sites",
            sorted(sites.unique()),
            placeholder="all",
            key="sites",
            persist_state="session",
        )
        crane = st.toggle("with a crane", key="crane", persist_state="session")
    return asked.one_row(
        crew_hours=hours, sites=open_at, people=people, starts_on=starts_on, crane=crane
    )


def ask_several(sites: "pd.Series[str]") -> pd.DataFrame:
    """Ask for several shutdowns: a file, or a table to be filled in."""
    file = st.file_uploader(
        "shutdowns as CSV, or fill in the table below",
        type="csv",
        key="windows_file",
        help="window, sites (; between them), starts_on, crew_hours, people, crane (yes, no)",
    )
    if file is None:
        begun, key = asked.one_row(crew_hours=USUAL_HOURS, name="shutdown 1"), "windows"
    else:
        as_of = session.open_fleet().as_of
        begun = asked.windows_in_file(file.name, file.getvalue(), sites, as_of)
        key = f"windows {file.file_id}"
    means = asked.MEANINGS
    rows = st.data_editor(
        begun,
        num_rows="dynamic",
        placeholder="",
        hide_index=True,
        key=key,
        column_config={
            "window": st.column_config.TextColumn("called", help=means["window"], required=True),
            "sites": st.column_config.TextColumn("sites", help=means["sites"]),
            "starts_on": st.column_config.DateColumn("begins on", help=means["starts_on"]),
            "crew_hours": st.column_config.NumberColumn(
                "crew-hours", help=means["crew_hours"], min_value=0, required=True
            ),
            "people": st.column_config.NumberColumn("people", help=means["people"], min_value=1),
            "crane": st.column_config.SelectboxColumn(
                "crane", help=means["crane"], options=["yes", "no"]
            ),
        },
    )
    return pd.DataFrame(rows)
