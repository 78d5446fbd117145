"""The ranking: which units must not run, and which to correct first."""

from functools import partial
from itertools import count

import pandas as pd

from dashboard import choices_in_address as kept
from dashboard import kept_by_name, session
from dashboard import spoken as st
from dashboard.charts.loss_over_units import loss_chart
from dashboard.presenters import ranked_list as as_list
from dashboard.presenters import ranking_table as present
from dashboard.presenters.unit_mark import KEY as MARK_KEY
from dashboard.presenters.words import VERDICT_WORDS, plain
from dashboard.views.views_by_name import show_views
from dashboard.views.with_links import show_html
from scoring.asking.export import everything_bytes
from scoring.contract.amounts_in_words import span_said, thousands
from scoring.contract.ranking import HOLD, RANKING
from scoring.contract.verdict_words import VERDICT_MEANS
from scoring.files.write_table import table_bytes
from scoring.records import Fleet
from scoring.walkdown_form.visit_questions import MOUNTING_WORDS

BYTES = "application/octet-stream"

LOOK_AGAIN_S = 0.5
"""How often the page looks whether the rest of the ranking is there. [s]"""

RANKED_COLUMNS = [column.name for column in RANKING.columns]

USUAL: dict[str, object] = {
    "search": "",
    "site": [],
    "mounting": [],
    "crew": [],
    "verdict": [],
    "by": present.AS_RANKED,
}
"""What the page shows where nobody has chosen anything, by the key of each widget."""

FILTERS = {name: usual for name, usual in USUAL.items() if name != "by"}

USUAL_ROWS: dict[str, object] = {"page": 1}
"""The same for which rows: whoever keeps a view keeps what is asked for, not how far one read."""


def show() -> None:
    """Show the page."""
    fleet = session.open_fleet()
    so_far = session.ranked_so_far()
    ranked = so_far.units
    st.title("What to fix first")
    if ranked.empty:
        st.info("No unit was in service on that day. Choose another day above.")
        return
    currency, span = ranked["currency"].dropna().max(), span_said(fleet.horizon_days)
    said, shown = st.columns([2, 3], gap="medium")
    with said:
        st.markdown(f"**{plain(as_list.how_it_stands(ranked, span=span))}**")
        show_where_chances_come_from(len(ranked), is_learned=so_far.is_learned)
        show_holds(ranked)
    with shown:
        half = as_list.half_lies(ranked)
        if half:
            st.markdown(f"**{plain(half)}**")
        over_units = session.chart(
            "loss_over_units",
            lambda: loss_chart(as_list.loss_over_units(ranked), currency, span),
            so_far.state,
        )
        st.altair_chart(over_units, width="stretch")
    show_ranking(ranked, currency, span)
    with st.expander("Compare sites and lines"):
        st.html(as_list.places(ranked, span))
    if so_far.is_learned:
        offer_all_tables(fleet.assessor.fleet, session.assessment().ranking)
        return
    offer_all_tables(fleet.assessor.fleet, ranked[RANKED_COLUMNS])
    come_in_when_learned()


def show_where_chances_come_from(units: int, *, is_learned: bool) -> None:
    """Say what chances and losses rest on; where more is still to come in, so that it is seen."""
    if is_learned:
        st.text(
            f"{thousands(units)} units in service. Chances and losses rest on: "
            f"{session.learning().words}."
        )
        return
    st.info(
        f"{thousands(units)} units in service. Verdicts stay as they are. Chances and losses still "
        "rest on the handbook alone: what this plant's own failures said by that day is being "
        "worked out, and comes in here by itself."
    )


def come_in_when_learned() -> None:
    """Show the page again once the ranking rests on what failures say.

    To learn begins when the page was sent: until then it has the processor to itself.
    """
    looks = count()

    def look() -> None:
        if next(looks) and session.is_ranked_to_the_end():
            st.rerun()

    st.fragment(look, run_every=LOOK_AGAIN_S)()


def show_ranking(ranked: pd.DataFrame, currency: object, span: str) -> None:
    """Show the units that were asked for, one page of them."""
    st.header("The ranking")
    there = present.choices(ranked)
    kept.start(
        USUAL,
        {
            "search": kept.text,
            "site": kept.some_of(there.sites),
            "mounting": kept.some_of(there.mountings),
            "crew": kept.some_of(there.crews),
            "verdict": kept.some_of(there.verdicts),
            "by": kept.one_of(present.ORDERS),
        },
    )
    kept.start(USUAL_ROWS, {"page": kept.number(int, 1)})
    filters = ask_filters(there)
    rows = present.filtered(ranked, filters)
    if kept_by_name.is_kept():
        show_views("fix", kept.in_a_link(USUAL))
    if rows.empty:
        show_that_none_fits(filters, len(ranked))
        return
    with st.container(horizontal=True, vertical_alignment="bottom"):
        order = st.selectbox(
            "in the order of",
            list(present.ORDERS),
            key="by",
            persist_state="session",
            on_change=to_first_rows,
            width=360,
            help="Orders the whole ranking, not only the rows that are shown.",
        )
        on_page = ask_page(present.ordered(rows, order))
    show_html(as_list.ranked_list(on_page, present.ORDERS[order], currency, span))
    st.caption(
        f"{'; '.join(f'{VERDICT_WORDS[one]}: {means}' for one, means in VERDICT_MEANS.items())}. "
        "A line spans the 90 % interval of a chance, its mark the chance, all on one logarithmic "
        f"axis from 0.01 to 100 %; a dotted line begins below it. {MARK_KEY}"
    )
    offer_files(rows)
    if not kept_by_name.is_kept():
        show_views("fix", kept.in_a_link(USUAL))


def show_that_none_fits(filters: present.Filters, units: int) -> None:
    """Say what was asked for where no unit fits it, and offer all units again."""
    show_html(as_list.none_fits(filters))
    st.button(f"Show all {thousands(units)} units", type="tertiary", on_click=to_all_units)


def to_all_units() -> None:
    """Ask for all units again, in the order they were asked for in."""
    st.session_state.update(FILTERS)
    to_first_rows()


def show_holds(ranked: pd.DataFrame) -> None:
    """Show the units that must not run, whatever is filtered below."""
    held = present.counts(ranked)[HOLD]
    if not held:
        st.text("No unit is held.")
        return
    with st.expander(f"■ Must not run: {held}", key="held"):
        show_html(as_list.list_of_holds(ranked))


def ask_filters(there: present.Choices) -> present.Filters:
    """Ask what to see."""
    is_open = not is_held_in_a_hand() or bool(kept.in_a_link(FILTERS))
    folded = st.expander("Search and filter", expanded=is_open, key="filters")
    with folded, st.container(horizontal=True):
        text = st.text_input(
            "search",
            placeholder="unit, line, reason",
            key="search",
            persist_state="session",
            on_change=to_first_rows,
        )
        sites = st.multiselect(
            "site",
            there.sites,
            placeholder="all",
            key="site",
            persist_state="session",
            on_change=to_first_rows,
        )
        mountings = st.multiselect(
            "mounting",
            there.mountings,
            placeholder="all",
            key="mounting",
            persist_state="session",
            on_change=to_first_rows,
            format_func=MOUNTING_WORDS.__getitem__,
        )
        crews = st.multiselect(
            "hung by",
            there.crews,
            placeholder="all",
            key="crew",
            persist_state="session",
            on_change=to_first_rows,
        )
        verdicts = st.multiselect(
            "verdict",
            there.verdicts,
            placeholder="all",
            key="verdict",
            persist_state="session",
            on_change=to_first_rows,
            format_func=lambda verdict: VERDICT_WORDS[verdict],
        )
    return present.Filters(text, tuple(sites), tuple(mountings), tuple(crews), tuple(verdicts))


def is_held_in_a_hand() -> bool:
    """Tell whether the browser says that it is a phone's."""
    return "Mobi" in st.context.headers.get("User-Agent", "")


def to_first_rows() -> None:
    """Go to the first rows: of other rows or another order the old place means nothing."""
    st.session_state["page"] = 1


def ask_page(rows: pd.DataFrame) -> pd.DataFrame:
    """Ask which rows to show, where there are many; a browser never gets the whole fleet."""
    size = present.ROWS_A_PAGE
    pages = -(-len(rows) // size)
    page, there = 1, range(1, pages + 1)
    if st.session_state["page"] not in there:  # of other records, or of an address
        to_first_rows()
    if pages > 1:
        page = st.selectbox(
            "rows",
            there,
            format_func=lambda p: (
                f"{thousands((p - 1) * size + 1)} to {thousands(min(p * size, len(rows)))} of "
                f"{thousands(len(rows))}"
            ),
            key="page",
            persist_state="session",
            width=220,
        )
    return rows.iloc[(page - 1) * size : page * size]


def offer_files(rows: pd.DataFrame) -> None:
    """Offer the rows that are filtered as files, safe to open in a spreadsheet."""
    with st.container(horizontal=True):
        for suffix, kind in (
            (".csv", "text/csv"),
            (".xlsx", BYTES),
            (".parquet", BYTES),
        ):
            st.download_button(
                f"Save these {thousands(len(rows))} rows as {suffix[1:].upper()}",
                data=partial(table_bytes, rows[RANKED_COLUMNS], suffix),
                file_name=f"ranking{suffix}",
                mime=kind,
                on_click="ignore",
            )


def offer_all_tables(fleet: Fleet, ranking: pd.DataFrame) -> None:
    """Offer all records with the whole ranking, in one file each way."""
    with st.expander("All tables as files"):
        st.text(
            "Every record of this fleet and the whole ranking, with what every column means. "
            "The records can be brought in again, value for value."
        )
        with st.container(horizontal=True):
            for kind, label, name in (
                ("xlsx", "Save all tables as a workbook", "fleet.xlsx"),
                ("csv", "Save all tables as CSV", "fleet_csv.zip"),
                ("parquet", "Save all tables as Parquet", "fleet_parquet.zip"),
            ):
                st.download_button(
                    label,
                    data=partial(everything_bytes, fleet, kind, ranking),
                    file_name=name,
                    mime=BYTES,
                    on_click="ignore",
                )


show()
