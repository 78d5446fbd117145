"""The ranking: which units must not run, and which to correct first."""

from functools import partial

import pandas as pd
import streamlit as st

from dashboard import choices_in_address as kept
from dashboard import session
from dashboard.charts.chances import chances_chart
from dashboard.presenters import ranking_table as present
from dashboard.presenters.words import VERDICT_MEANS, VERDICT_WORDS, money, plain
from scoring.contract.ranking import RANKING
from scoring.files.write_table import table_bytes

CHARTED = 10
LISTED = 20
HOLDS_HEIGHT = 213

TABLE, LIST = "table", "list"
USUAL: dict[str, object] = {
    "search": "",
    "site": [],
    "mounting": [],
    "crew": [],
    "verdict": [],
    "by": present.AS_RANKED,
    "look": TABLE,
}
"""What the page shows where nobody has chosen anything, by the key of each widget."""


def show() -> None:
    """Show the page."""
    fleet = session.open_fleet()
    ranked = present.ranked_units(session.assessment())
    st.title("What to fix first")
    st.text(
        f"{len(ranked)} units in service on {fleet.as_of.date()}; chances within "
        f"{session.HORIZON_DAYS} days; basis: {session.learning().words}"
    )
    if ranked.empty:
        st.info("No unit was in service on that day. Give another day with --as-of.")
        return
    show_counts(ranked)
    st.caption("; ".join(f"{VERDICT_WORDS[one]}: {means}" for one, means in VERDICT_MEANS.items()))
    show_holds(present.holds(ranked))
    st.subheader("The ranking")
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
            "look": kept.one_of([TABLE, LIST]),
        },
    )
    rows = present.filtered(ranked, ask_filters(there))
    kept.write_down(USUAL)
    if rows.empty:
        st.info("No unit fits. Clear the search or a filter.")
        return
    with st.container(horizontal=True, vertical_alignment="bottom"):
        order = st.selectbox(
            "in the order of",
            list(present.ORDERS),
            key="by",
            persist_state="session",
            width=280,
            help="Orders the whole ranking; a click on a heading orders the rows that are shown.",
        )
        on_page = ask_page(present.ordered(rows, order))
        look = st.segmented_control(
            "shown as", [TABLE, LIST], required=True, key="look", persist_state="session"
        )
    if look == LIST:
        show_list(present.shown(on_page.head(LISTED)), len(on_page))
    else:
        show_table(present.shown(on_page))
    offer_files(rows)
    st.subheader(f"Chances of the first {min(CHARTED, len(on_page))} shown")
    st.altair_chart(chances_chart(on_page.head(CHARTED)), width="stretch")


def open_unit(unit_id: str) -> None:
    """Go to the page of a unit."""
    st.switch_page("views/one_unit.py", query_params={"unit": unit_id})


def show_counts(ranked: pd.DataFrame) -> None:
    """Show how many units have each verdict, and the expected loss."""
    with st.container(horizontal=True):
        for verdict, count in present.counts(ranked).items():
            words = VERDICT_WORDS[verdict]
            st.metric(words, f"{count:,}", border=True, help=VERDICT_MEANS[verdict])
        loss = money(float(ranked["expected_loss"].sum()), ranked["currency"].dropna().max())
        st.metric(
            "expected loss", loss, border=True, help="chance times cost, summed over the fleet"
        )


def show_holds(held: pd.DataFrame) -> None:
    """Show the units that must not run, whatever is filtered below."""
    st.subheader(f"■ Must not run: {len(held)}")
    if held.empty:
        st.text("No unit is held.")
        return
    chosen = st.dataframe(
        held,
        hide_index=True,
        height=min(HOLDS_HEIGHT, 38 + 35 * len(held)),
        on_select="rerun",
        selection_mode="single-row",
        key="holds",
    )
    open_if_ticked(chosen, held)


def open_if_ticked(chosen: object, table: pd.DataFrame) -> None:
    """Go to the unit whose row was ticked."""
    rows = chosen["selection"]["rows"]  # type: ignore[index]
    if rows:
        open_unit(str(table["unit"].iloc[rows[0]]))


def ask_filters(there: present.Choices) -> present.Filters:
    """Ask what to see."""
    with st.expander("Search and filter", expanded=True), st.container(horizontal=True):
        text = st.text_input(
            "search", placeholder="unit, line, reason", key="search", persist_state="session"
        )
        sites = st.multiselect(
            "site", there.sites, placeholder="all", key="site", persist_state="session"
        )
        mountings = st.multiselect(
            "mounting",
            there.mountings,
            placeholder="all",
            key="mounting",
            persist_state="session",
            format_func=lambda mounting: mounting.replace("_", " "),
        )
        crews = st.multiselect(
            "hung by", there.crews, placeholder="all", key="crew", persist_state="session"
        )
        verdicts = st.multiselect(
            "verdict",
            there.verdicts,
            placeholder="all",
            key="verdict",
            persist_state="session",
            format_func=lambda verdict: VERDICT_WORDS[verdict],
        )
    return present.Filters(text, tuple(sites), tuple(mountings), tuple(crews), tuple(verdicts))


def ask_page(rows: pd.DataFrame) -> pd.DataFrame:
    """Ask which rows to show, where there are many; a browser never gets the whole fleet."""
    size = present.ROWS_A_PAGE
    pages = -(-len(rows) // size)
    page, there = 1, range(1, pages + 1)
    if pages > 1:
        kept.start({"page": 1}, {"page": kept.one_of(there)})
        if st.session_state["page"] not in there:  # fewer are left after a search
            st.session_state["page"] = 1
        page = st.selectbox(
            "rows",
            there,
            format_func=lambda p: (
                f"{(p - 1) * size + 1} to {min(p * size, len(rows))} of {len(rows)}"
            ),
            key="page",
            persist_state="session",
            width=220,
        )
        kept.write_down({"page": 1})
    return rows.iloc[(page - 1) * size : page * size]


def show_table(table: pd.DataFrame) -> None:
    """Show units as a table."""
    chosen = st.dataframe(
        table,
        hide_index=True,
        height=420,
        on_select="rerun",
        selection_mode="single-row",
        key="ranking",
        column_config={
            "rank": st.column_config.NumberColumn(width=50),
            "expected loss": st.column_config.NumberColumn(format="localized", width=100),
            "why, the worst first": st.column_config.TextColumn(width=340),
            "what to do first": st.column_config.TextColumn(width=300),
            **{
                words: st.column_config.NumberColumn(
                    format="%.1f %%", width=105, help="chance within a year"
                )
                for words in present.SHORT_WORDS.values()
            },
        },
    )
    open_if_ticked(chosen, table)
    st.caption("Tick a row to open the unit.")


def show_list(table: pd.DataFrame, there: int) -> None:
    """Show units one below the other, as a narrow screen wants them."""
    for row in table.to_dict("records"):
        with st.container(border=True):
            unit, site = plain(str(row["unit"])), plain(str(row["site"]))
            st.markdown(f"**{row['rank']}. {unit}**, {site}: {row['verdict']}")
            for label in ("why, the worst first", "what to do first"):
                if isinstance(row[label], str):
                    st.text(row[label])
            st.text(
                "\n".join(
                    f"{words}: {row[present.with_interval(words)]}"
                    for words in present.SHORT_WORDS.values()
                )
            )
            if st.button(f"Open {unit}", key=f"open:{row['unit']}"):
                open_unit(str(row["unit"]))
    if there > len(table):
        st.caption(f"The list shows the first {len(table)}; search, filter, or take the table.")


def offer_files(rows: pd.DataFrame) -> None:
    """Offer the rows that are filtered as files, safe to open in a spreadsheet."""
    columns = [column.name for column in RANKING.columns]
    with st.container(horizontal=True):
        for suffix, kind in ((".csv", "text/csv"), (".xlsx", "application/octet-stream")):
            st.download_button(
                f"Save these {len(rows)} rows as {suffix[1:].upper()}",
                data=partial(table_bytes, rows[columns], suffix),
                file_name=f"ranking{suffix}",
                mime=kind,
                on_click="ignore",
            )


show()
