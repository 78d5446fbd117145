"""Where to look next: the checks and units where seeing is worth most, in the hours there are."""

from functools import partial

import pandas as pd
import streamlit as st

from dashboard import kept_in_store, session
from dashboard.presenters import look_tables as present
from dashboard.presenters.route_units import route_name
from dashboard.presenters.words import plain
from scoring.files.write_table import table_bytes
from scoring.looking.look_plan import LookPlan, plan_looks
from scoring.walkdown_form.without_network import MOST_UNITS, route_page

USUAL_HOURS = 8.0
LISTED = 20
SHOWN_HEIGHT = 420


def show() -> None:
    """Show the page."""
    fleet = session.open_fleet()
    st.title("Where to look next")
    sites = sorted(session.assessment().ranking["site"].unique())
    if not sites:
        st.info("No unit was in service on that day. Give another day with --as-of.")
        return
    st.text(
        f"The looks that are worth most, of what was not seen, or not seen since, on "
        f"{fleet.as_of.date()}; losses within {session.HORIZON_DAYS} days"
    )
    with st.container(horizontal=True, vertical_alignment="bottom"):
        hours = st.number_input(
            "inspector-hours at each site",
            min_value=0.5,
            value=USUAL_HOURS,
            step=1.0,
            key="look_hours",
        )
        state = st.radio(
            "state of the machines",
            list(present.STATE_WORDS),
            index=list(present.STATE_WORDS).index("stopped"),
            horizontal=True,
            key="look_state",
            format_func=lambda name: present.STATE_WORDS[name],
        )
    chosen = st.multiselect("sites", sites, placeholder="all", key="look_sites")
    there = present.hours_by_site(chosen or sites, hours, ask_own_hours(chosen or sites))
    route = plan_looks(session.looks(present.state_of(str(state))), there)
    show_route(route, chosen)


def ask_own_hours(sites: list[str]) -> dict[str, float]:
    """Ask for sites with hours of their own."""
    if len(sites) == 1:
        return {}
    with st.expander("Other hours at a site"):
        rows = st.data_editor(
            pd.DataFrame({"site": sites, "hours": pd.array([None] * len(sites), dtype="Float64")}),
            hide_index=True,
            disabled=["site"],
            placeholder="as above",
            key="look_own_hours " + ";".join(sites),
            column_config={
                "hours": st.column_config.NumberColumn(
                    min_value=0, help="blank: as above; 0: this site is left out"
                )
            },
        )
    return present.own_hours(pd.DataFrame(rows))


def show_route(route: LookPlan, chosen: list[str]) -> None:
    """Show a route: what it comes to, the visits, the sites."""
    if route.visits.empty:
        st.info(
            "No look fits that is worth anything: what could be seen in this state of the machines "
            "would change no re-work, or takes longer than there is."
        )
        return
    with st.container(horizontal=True):
        for label, value in present.sums(route).items():
            st.metric(label, value, border=True)
    st.header("The route")
    look = st.segmented_control(
        "shown as",
        ["table", "list"],
        default="table",
        key="look_look",
        label_visibility="collapsed",
    )
    visits = present.visits_shown(route.visits, with_links=kept_in_store.is_kept_in_store())
    if look == "list":
        show_list(visits.head(LISTED), len(visits))
    else:
        show_table(visits)
    offer_files(route, chosen)
    st.markdown("**Site by site**")
    st.dataframe(
        present.sites_shown(route.by_site),
        hide_index=True,
        column_config={
            name: st.column_config.NumberColumn(format="localized")
            for name in ("worth", "no route is worth more than")
        },
    )
    st.caption(
        "Worth: expected loss that is avoided by re-work chosen with what is seen, above what the "
        "best re-work chosen without looking avoids, each less its cost. Minutes are planning "
        "values of ours; mount-risk look --minutes takes your own."
    )


def show_table(visits: pd.DataFrame) -> None:
    """Show visits as a table."""
    picked = st.dataframe(
        visits,
        hide_index=True,
        height=min(SHOWN_HEIGHT, 38 + 35 * len(visits)),
        on_select="rerun",
        selection_mode="single-row",
        key="route",
        column_config={
            "no.": st.column_config.NumberColumn(width=50),
            "walkdown": st.column_config.LinkColumn(display_text="begin", width=80),
            "look at": st.column_config.TextColumn(width=280),
            "minutes": st.column_config.NumberColumn(width=75),
            "worth": st.column_config.NumberColumn(format="localized", width=75),
            "chance of a finding": st.column_config.NumberColumn(format="percent"),
            "chance of a hold": st.column_config.NumberColumn(format="percent"),
            "why": st.column_config.TextColumn(width=420),
        },
    )
    if picked["selection"]["rows"]:
        unit_id = str(visits["unit"].iloc[picked["selection"]["rows"][0]])
        st.switch_page("views/one_unit.py", query_params={"unit": unit_id})
    st.caption("Tick a row to open the unit.")


def show_list(visits: pd.DataFrame, there: int) -> None:
    """Show visits one below the other, as a narrow screen wants them."""
    for row in visits.to_dict("records"):
        with st.container(border=True):
            unit, site = plain(str(row["unit"])), plain(str(row["site"]))
            st.markdown(f"**{row['no.']}. {unit}**, {site}: {row['minutes']:.0f} min")
            st.text(row["why"])
            if "walkdown" in row:
                st.link_button("Begin a walkdown", row["walkdown"])
    if there > len(visits):
        st.caption(f"The list shows the first {len(visits)} of {there}; take the table for all.")


def offer_files(route: LookPlan, chosen: list[str]) -> None:
    """Offer the route as a table, and as the form without a network."""
    unit_ids = route.visits["unit_id"].tolist()
    units = session.open_fleet().assessor.fleet.units
    with st.container(horizontal=True):
        st.download_button(
            "Save the route as CSV",
            data=partial(table_bytes, route.visits, ".csv", sheet="route"),
            file_name="route.csv",
            mime="text/csv",
            on_click="ignore",
        )
        if len(unit_ids) <= MOST_UNITS:
            st.download_button(
                f"Save the form for these {len(unit_ids)} units, without a network",
                data=lambda: route_page(units, unit_ids, name_of_route(chosen)),
                file_name="route.html",
                mime="text/html",
                on_click="ignore",
            )
    if len(unit_ids) > MOST_UNITS:
        st.text(
            f"The form without a network takes at most {MOST_UNITS} units; choose fewer sites or "
            "hours."
        )


def name_of_route(sites: list[str]) -> str:
    """Return the name of the route, under which a browser keeps its answers."""
    return f"{route_name(sites, [])}, where to look on {session.open_fleet().as_of.date()}"


show()
