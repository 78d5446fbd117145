"""What to do in a shutdown: which re-work, holds first, then what avoids most loss."""

from functools import partial

import pandas as pd
import streamlit as st

from dashboard import choices_in_address as kept
from dashboard import session
from dashboard.charts.hours import hours_chart
from dashboard.presenters import plan_tables as present
from dashboard.presenters import shutdown_windows as asked
from dashboard.presenters.words import plain, plain_lines
from scoring.errors import FixableError
from scoring.files.write_table import table_bytes
from scoring.planning.plan import Plan
from scoring.what_if.what_is_credited import CREDITED

USUAL_HOURS = 40.0
LISTED = 20
SHOWN_HEIGHT = 420

ONE, SEVERAL = "one shutdown", "several"
HOLDS_FIRST, BY_LOSS = "holds first", "by loss alone"
TABLE, LIST = "table", "list"

USUAL: dict[str, object] = {"how_many": ONE, "order": HOLDS_FIRST, "plan_look": TABLE}
USUAL_SHUTDOWN: dict[str, object] = {
    "crew_hours": USUAL_HOURS,
    "people": None,
    "starts_on": None,
    "sites": [],
    "crane": True,
}
"""What is planned where nobody has chosen anything, by the key of each widget."""


def show() -> None:
    """Show the page."""
    fleet = session.open_fleet()
    ranking = session.assessment().ranking
    st.title("What to do in a shutdown")
    if ranking.empty:
        st.info("No unit was in service on that day. Give another day with --as-of.")
        return
    st.text(
        f"Re-work chosen for the hours there are, of what was known on {fleet.as_of.date()}; "
        f"losses within {session.HORIZON_DAYS} days; basis: {session.learning().words}"
    )
    kept.start(
        USUAL,
        {
            "how_many": kept.one_of([ONE, SEVERAL]),
            "order": kept.one_of([HOLDS_FIRST, BY_LOSS]),
            "plan_look": kept.one_of([TABLE, LIST]),
        },
    )
    with st.container(horizontal=True):
        how_many = st.segmented_control(
            "shutdowns", [ONE, SEVERAL], required=True, key="how_many", persist_state="session"
        )
        order = st.segmented_control(
            "what counts",
            [HOLDS_FIRST, BY_LOSS],
            required=True,
            key="order",
            persist_state="session",
            help="Holds first: as many units that must not run are freed as can be, and what hours "
            "are left avoid most loss. By loss alone holds may wait.",
        )
    kept.write_down(USUAL)
    sites = ranking["site"]
    try:
        rows = ask_several(sites) if how_many == SEVERAL else ask_one(sites)
        windows = asked.shutdowns_of(rows, sites, fleet.as_of)
        plan = session.plan(windows, holds_first=order == HOLDS_FIRST)
    except FixableError as error:
        st.error(plain_lines(str(error)))
        return
    show_plan(plan, holds_first=order == HOLDS_FIRST)


def ask_one(sites: "pd.Series[str]") -> pd.DataFrame:
    """Ask for one shutdown."""
    as_of = session.open_fleet().as_of.date()
    kept.start(
        USUAL_SHUTDOWN,
        {
            "crew_hours": kept.number(float, 0.5),
            "people": kept.number(int, 1),
            "starts_on": kept.day_from(as_of),
            "sites": kept.some_of(sites.unique()),
            "crane": kept.one_of([True, False]),
        },
    )
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
        chosen = st.multiselect(
            "sites",
            sorted(sites.unique()),
            placeholder="all",
            key="sites",
            persist_state="session",
        )
        crane = st.toggle("with a crane", key="crane", persist_state="session")
    kept.write_down(USUAL_SHUTDOWN)
    return asked.one_row(
        crew_hours=hours, sites=chosen, people=people, starts_on=starts_on, crane=crane
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


def show_plan(plan: Plan, *, holds_first: bool) -> None:
    """Show a plan: holds that stay first, then what it comes to, the jobs, and what missed."""
    several = len(plan.windows) > 1
    show_holds_left(plan)
    sums = present.sums(plan)
    with st.container(horizontal=True):
        for label, value in (
            ("jobs", sums.jobs),
            ("crew-hours used", sums.hours),
            ("loss avoided", sums.avoided),
            ("avoided a crew-hour", sums.an_hour),
            ("holds lifted", sums.holds),
        ):
            st.metric(label, value, border=True)
    st.text(present.how_good(plan.choice, holds_first=holds_first))
    st.subheader("The plan")
    show_jobs(plan, several=several)
    if several:
        st.markdown("**Windows**")
        st.dataframe(
            present.windows_shown(plan.windows),
            hide_index=True,
            column_config={
                "begins on": st.column_config.DateColumn(),
                "loss avoided": st.column_config.NumberColumn(format="localized"),
            },
        )
    show_curve(plan)
    show_missed(plan)
    st.caption(
        "Hours, people, crane, parts and costs of re-work are planning values of ours, every "
        "set-up at a unit counted once; mount-risk plan --actions takes your own. Loss avoided is "
        "averaged over whether re-work succeeds, which is learned from the walkdowns after it. "
        + CREDITED
    )


def show_holds_left(plan: Plan) -> None:
    """Show the units that must not run and that the plan does not free."""
    left = plan.holds_left
    if left.empty:
        return
    st.subheader(f"■ Must not run, and not freed by this plan: {len(left)}")
    table = present.holds_left_shown(left)
    st.dataframe(
        table,
        hide_index=True,
        height=min(213, 38 + 35 * len(table)),
        column_config={"why it stays": st.column_config.TextColumn(width=340)},
    )


def show_jobs(plan: Plan, *, several: bool) -> None:
    """Show the jobs as a table or a list, and offer them as files."""
    if plan.jobs.empty:
        st.info("Nothing that avoids a loss, or lifts a hold, fits. Give more hours or people.")
        return
    table = present.jobs_shown(plan.jobs, several=several)
    look = st.segmented_control(
        "shown as",
        [TABLE, LIST],
        required=True,
        key="plan_look",
        persist_state="session",
        label_visibility="collapsed",
    )
    if look == LIST:
        show_list(table.head(LISTED), len(table))
    else:
        chosen = st.dataframe(
            table,
            hide_index=True,
            height=min(SHOWN_HEIGHT, 38 + 35 * len(table)),
            on_select="rerun",
            selection_mode="single-row",
            key="plan",
            column_config={
                "no.": st.column_config.NumberColumn(width=50),
                "what to do": st.column_config.TextColumn(width=280),
                "crew-hours": st.column_config.NumberColumn(width=90),
                "people": st.column_config.NumberColumn(width=70),
                "crane": st.column_config.TextColumn(width=60),
                "loss avoided": st.column_config.NumberColumn(format="localized", width=100),
                "an hour": st.column_config.NumberColumn(format="localized", width=75),
                "cost": st.column_config.NumberColumn(format="localized"),
                "why": st.column_config.TextColumn(width=500),
            },
        )
        open_if_ticked(chosen, table)
        st.caption("Tick a row to open the unit.")
    offer_files(plan)


def open_if_ticked(chosen: object, table: pd.DataFrame) -> None:
    """Go to the unit whose row was ticked."""
    rows = chosen["selection"]["rows"]  # type: ignore[index]
    if rows:
        unit_id = str(table["unit"].iloc[rows[0]])
        st.switch_page("views/one_unit.py", query_params={"unit": unit_id})


def show_list(table: pd.DataFrame, there: int) -> None:
    """Show jobs one below the other, as a narrow screen wants them."""
    for row in table.to_dict("records"):
        with st.container(border=True):
            unit, site = plain(str(row["unit"])), plain(str(row["site"]))
            st.markdown(f"**{row['no.']}. {unit}**, {site}: {row['verdict']}")
            st.text(row["what to do"])
            crane = ", crane" if row["crane"] == "yes" else ""
            if "window" in row:
                st.text(f"in {row['window']}")
            st.text(f"{row['crew-hours']:g} crew-hours, people at once: {row['people']}{crane}")
            st.caption(plain(str(row["why"])))
    if there > len(table):
        st.caption(f"The list shows the first {len(table)} of {there}; take the table for all.")


def offer_files(plan: Plan) -> None:
    """Offer the plan, and all that was weighed, as files safe to open in a spreadsheet."""
    with st.container(horizontal=True):
        for words, rows, suffix in (
            ("Save the plan as CSV", plan.jobs, ".csv"),
            ("Save the plan as XLSX", plan.jobs, ".xlsx"),
            ("Save all that was weighed as CSV", plan.weighed, ".csv"),
        ):
            st.download_button(
                words,
                data=partial(table_bytes, rows, suffix, sheet="plan"),
                file_name=("plan" if rows is plan.jobs else "weighed") + suffix,
                mime="text/csv" if suffix == ".csv" else "application/octet-stream",
                on_click="ignore",
            )


def show_curve(plan: Plan) -> None:
    """Show the loss avoided against hours."""
    hours = float(plan.windows["crew_hours"].sum())
    st.subheader("What more hours would avoid")
    st.altair_chart(
        hours_chart(
            present.curve_shown(plan.curve, hours),
            hours,
            float(plan.jobs["hours"].sum()),
            plan.choice.avoided,
        ),
        width="stretch",
    )
    st.caption(
        "Line: the most that so many crew-hours could avoid, were all in one shutdown of all "
        "sites, with people, crane and parts for anything, and no hold to be lifted first; dashed: "
        f"the hours there are. {present.all_weighed(plan)}"
    )


def show_missed(plan: Plan) -> None:
    """Show the work that just missed the cut."""
    if plan.missed.empty:
        return
    st.subheader("What just missed the cut")
    st.dataframe(
        present.missed_shown(plan.missed),
        hide_index=True,
        column_config={
            "what to do": st.column_config.TextColumn(width=280),
            "loss avoided": st.column_config.NumberColumn(format="localized"),
            "an hour": st.column_config.NumberColumn(format="localized"),
            "why": st.column_config.TextColumn(width=500),
        },
    )


show()
