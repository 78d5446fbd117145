"""Where to look next: the checks and units where seeing is worth most, in the hours there are."""

from functools import partial

import pandas as pd

from dashboard import choices_in_address as kept
from dashboard import kept_in_store, session
from dashboard import spoken as st
from dashboard.charts.worth_by_hours import worth_chart
from dashboard.presenters import look_tables as present
from dashboard.presenters.route_units import route_name
from dashboard.presenters.words import plain
from dashboard.views.views_by_name import show_views
from dashboard.views.with_links import show_html, show_table
from scoring.access.acts import Act
from scoring.access.who_asks import who_asks
from scoring.contract.amounts_in_words import span_said
from scoring.files.write_table import table_bytes
from scoring.looking.look_plan import LookPlan, plan_looks
from scoring.walkdown_form.without_network import MOST_UNITS, route_page

USUAL: dict[str, object] = {"look_hours": 8.0, "look_state": "stopped", "look_sites": []}
"""What is shown where nobody has chosen anything, by the key of each widget."""

LISTED = 50
"""A route may be long; its file has all visits."""


def show() -> None:
    """Show the page."""
    st.title("Where to look next")
    sites = sorted(session.assessment().ranking["site"].unique())
    if not sites:
        st.info("No unit was in service on that day. Choose another day above.")
        return
    kept.start(
        USUAL,
        {
            "look_hours": kept.number(float, 0.5),
            "look_state": kept.one_of(present.STATE_WORDS),
            "look_sites": kept.some_of(sites),
        },
    )
    answer = st.container()
    chosen, there = ask(sites)
    state = present.state_of(str(st.session_state["look_state"]))
    route = plan_looks(session.looks(state), there)
    with answer:
        show_answer(route)
    show_views("look", kept.in_a_link(USUAL))
    if not route.visits.empty:
        show_route(route, chosen)


def ask(sites: list[str]) -> tuple[list[str], dict[str, float]]:
    """Ask for hours, state of the machines and sites; return the sites, and the hours of each."""
    said = present.settings_said(
        float(st.session_state["look_hours"]),
        str(st.session_state["look_state"]),
        st.session_state["look_sites"],
    )
    with st.expander(plain(said), key="look_settings"):
        with st.container(horizontal=True, vertical_alignment="bottom"):
            hours = st.number_input(
                "inspector-hours at each site",
                min_value=0.5,
                step=1.0,
                key="look_hours",
                persist_state="session",
            )
            st.radio(
                "state of the machines",
                list(present.STATE_WORDS),
                horizontal=True,
                key="look_state",
                persist_state="session",
                format_func=lambda name: present.STATE_WORDS[name],
            )
        chosen = st.multiselect(
            "sites", sites, placeholder="all", key="look_sites", persist_state="session"
        )
        own = ask_own_hours(chosen or sites)
    return chosen, present.hours_by_site(chosen or sites, hours, own)


def ask_own_hours(sites: list[str]) -> dict[str, float]:
    """Ask for sites with hours of their own."""
    if len(sites) == 1:
        return {}
    st.markdown("Other hours at a site (not kept in the link)")
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


def show_answer(route: LookPlan) -> None:
    """Say what the hours may save, and show over which of them."""
    if route.visits.empty:
        st.info(
            "No look fits that is worth anything: what could be seen in this state of the machines "
            "would change no re-work, or takes longer than there is."
        )
        return
    said, drawn = st.columns([2, 3], gap="medium")
    table, fleet = present.worth_over_hours(route.visits), session.open_fleet()
    with said:
        st.markdown(f"**{plain(present.sentence(route))}**")
        st.text(present.sums(route))
        st.text(
            "Of what was never seen, or not for too long; losses within "
            f"{span_said(fleet.horizon_days)}."
        )
    with drawn:
        title, currency = present.half_found(table), route.visits["currency"].dropna().max()
        st.altair_chart(worth_chart(table, title, currency), width="stretch")


def show_route(route: LookPlan, chosen: list[str]) -> None:
    """Show a route: the visits, and the sites."""
    st.header("The route")
    visits = route.visits.head(LISTED)
    can_begin = kept_in_store.is_kept_in_store() and who_asks().may(Act.WALK)
    show_html(present.visits_list(visits, with_links=can_begin))
    if len(route.visits) > len(visits):
        st.caption(f"The first {len(visits)} of {len(route.visits)}; the file has all.")
    offer_files(route, chosen)
    with st.expander("Site by site"):
        show_table(present.sites_shown(route.by_site))
    st.caption(
        "Worth: expected loss that is avoided by re-work chosen with what is seen, above what the "
        "best re-work chosen without looking avoids, each less its cost. Minutes are planning "
        "values of ours."
    )


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
