"""Walkdowns: begin one, go on with one, see what was signed, and take a route without a network."""

import pandas as pd

from dashboard import choices_in_address as kept
from dashboard import kept_in_store, session
from dashboard import spoken as st
from dashboard.presenters import walkdown_tables as present
from dashboard.presenters.route_units import route_choices, route_name
from dashboard.presenters.words import plain
from dashboard.views.asking_who import ask_who
from dashboard.views.with_links import show_table
from scoring.access.acts import Act
from scoring.access.who_asks import who_asks
from scoring.contract.amounts_in_words import thousands
from scoring.entering.drafts import Draft
from scoring.errors import FixableError
from scoring.language.reading import current_reading
from scoring.printing.as_pdf import as_pdf
from scoring.printing.paper import usual_paper
from scoring.sheets.blank_walkdown import blank_walkdowns
from scoring.walkdown_form.units_in_service import units_in_service
from scoring.walkdown_form.without_network import MOST_UNITS, route_page

USUAL_ROUTE: dict[str, object] = {"route_sites": [], "route_lines": []}
"""Whose sheets and form are offered where nobody has chosen, by the key of each widget."""


def show() -> None:
    """Show the page."""
    st.title("Walkdowns")
    today = {"Today: what I began, and what is due": "/today"}
    if kept_in_store.is_kept_in_store():
        drafts, signed = kept_in_store.drafts_and_signed()
        st.markdown(f"**{present.how_it_stands(len(drafts), len(signed))}**")
        begin = {"Begin a walkdown": "/walkdown"} if who_asks().may(Act.WALK) else {}
        st.html(present.links({**today, **begin}))
        show_begin(drafts)
        show_signed(signed)
    else:
        st.html(present.links(today))
        st.info(
            "These pages show files, into which nothing is written. To enter walkdowns, ask who "
            "started these pages to load the records into a store, and to show that."
        )
    show_without_network()


def show_begin(drafts: list[Draft]) -> None:
    """Offer to go on with a walkdown."""
    st.caption("A page of its own, light enough for a phone; each answer is kept at once.")
    st.header("Begun and not signed yet")
    if not drafts:
        st.text("None.")
        return
    show_table(present.drafts_table(drafts, who_asks()), links=present.WORDS_OF_LINKS)


def show_signed(signed: pd.DataFrame) -> None:
    """Show what was signed lately."""
    st.header("Signed lately")
    if signed.empty:
        st.text("None.")
        return
    show_table(present.walkdowns_table(signed, who_asks()), links=present.WORDS_OF_LINKS)


def show_without_network() -> None:
    """Offer a route as one file for where there is no network, and take it back."""
    st.header("Without a network")
    st.text(
        "Choose the units of a route. The file opens in a phone's browser and needs nothing else; "
        "what it saves is taken back here."
    )
    units = session.open_fleet().assessor.fleet.units
    sites, lines = route_choices(units)
    kept.start(
        USUAL_ROUTE, {"route_sites": kept.some_of(sites), "route_lines": kept.some_of(lines)}
    )
    chosen_sites = st.multiselect(
        "site", sites, placeholder="all", key="route_sites", persist_state="session"
    )
    chosen_lines = st.multiselect(
        "line", lines, placeholder="all", key="route_lines", persist_state="session"
    )
    day = session.real_day()
    try:
        route = units_in_service(units, day, sites=chosen_sites, lines=chosen_lines)
    except FixableError as error:
        st.info(plain(str(error)))
        route = []
    if len(route) > MOST_UNITS:
        st.text(
            f"{thousands(len(route))} units; a route has at most {MOST_UNITS}. Choose sites or "
            "lines."
        )
    elif route:
        st.download_button(
            f"Save the walkdown sheets of {len(route)} units (PDF)",
            lambda: sheets_of_route(units, route),
            file_name="walkdowns.pdf",
            mime="application/pdf",
            on_click="ignore",
        )
        st.download_button(
            f"Save the route of {len(route)} units",
            lambda: route_page(units, route, route_name(chosen_sites, chosen_lines)),
            file_name="route.html",
            mime="text/html",
            on_click="ignore",
        )
    if kept_in_store.is_kept_in_store() and who_asks().may(Act.WALK):
        take_back()


def sheets_of_route(units: pd.DataFrame, route: list[str]) -> bytes:
    """Return blank sheets of a route, to be filled in with a pen."""
    reading = current_reading()
    return as_pdf(
        blank_walkdowns(units, route, measures=reading.measures), usual_paper(reading.measures)
    )


def take_back() -> None:
    """Take back what was filled in without a network."""
    with st.form("take back", clear_on_submit=True):
        files = st.file_uploader(
            "copies saved by the form without a network",
            type="json",
            accept_multiple_files=True,
        )
        person = ask_who("who takes them back")
        wanted = st.form_submit_button("Take them in")
    if not wanted:
        return
    if not files:
        st.info("Choose the copies first.")
    for file in files:
        try:
            for words in kept_in_store.take_back(file.name, file.getvalue(), person):
                st.success(plain(words))
        except FixableError as error:
            st.error(plain(f"{file.name}: {error}"))


show()
