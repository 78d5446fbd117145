"""The ranking: which units must not run, and which to correct first."""

from functools import partial

import streamlit as st

from dashboard import session
from dashboard.charts.chances import chances_chart
from dashboard.presenters import ranking_table as present
from dashboard.presenters.words import VERDICT_MEANS, VERDICT_WORDS, money, plain
from scoring.contract.ranking import RANKING
from scoring.files.write_table import table_bytes

CHARTED = 10
LISTED = 20
HOLDS_HEIGHT = 213

fleet = session.open_fleet()
ranked = present.ranked_units(session.assessment())

st.title("What to fix first")
st.text(
    f"{len(ranked)} units in service on {fleet.as_of.date()}; chances within "
    f"{session.HORIZON_DAYS} days; basis: handbook"
)
if ranked.empty:
    st.info("No unit was in service on that day. Give another day with --as-of.")
    st.stop()

with st.container(horizontal=True):
    for verdict, count in present.counts(ranked).items():
        st.metric(VERDICT_WORDS[verdict], f"{count:,}", border=True, help=VERDICT_MEANS[verdict])
    loss = money(ranked["expected_loss"].sum(), ranked["currency"].dropna().max())
    st.metric("expected loss", loss, border=True, help="chance times cost, summed over the fleet")


def open_unit(unit_id: str) -> None:
    """Go to the page of a unit."""
    st.switch_page("views/one_unit.py", query_params={"unit": unit_id})


held = present.holds(ranked)
st.subheader(f"■ Must not run: {len(held)}")
if held.empty:
    st.text("No unit is held.")
else:
    chosen = st.dataframe(
        held,
        hide_index=True,
        height=min(HOLDS_HEIGHT, 38 + 35 * len(held)),
        on_select="rerun",
        selection_mode="single-row",
        key="holds",
    )
    if chosen["selection"]["rows"]:
        open_unit(str(held["unit"].iloc[chosen["selection"]["rows"][0]]))

st.subheader("The ranking")
there = present.choices(ranked)
with st.expander("Search and filter", expanded=True), st.container(horizontal=True):
    text = st.text_input(
        "search", placeholder="unit, line, reason", key="search", bind="query-params"
    )
    sites = st.multiselect("site", there.sites, placeholder="all", key="site")
    mountings = st.multiselect("mounting", there.mountings, placeholder="all", key="mounting")
    installers = st.multiselect("hung by", there.installers, placeholder="all", key="crew")
    verdicts = st.multiselect(
        "verdict",
        there.verdicts,
        placeholder="all",
        key="verdict",
        format_func=lambda verdict: VERDICT_WORDS[verdict],
    )
rows = present.filtered(
    ranked,
    present.Filters(text, tuple(sites), tuple(mountings), tuple(installers), tuple(verdicts)),
)
if rows.empty:
    st.info("No unit fits. Clear the search or a filter.")
    st.stop()

pages = -(-len(rows) // present.ROWS_A_PAGE)
page = 1
if pages > 1:
    page = st.selectbox(
        "rows",
        range(1, pages + 1),
        format_func=lambda p: (
            f"{(p - 1) * present.ROWS_A_PAGE + 1} to {min(p * present.ROWS_A_PAGE, len(rows))}"
            f" of {len(rows)}"
        ),
        key="page",
        width=220,
    )
on_page = rows.iloc[(page - 1) * present.ROWS_A_PAGE : page * present.ROWS_A_PAGE]
table = present.shown(on_page)
look = st.segmented_control(
    "shown as", ["table", "list"], default="table", key="look", label_visibility="collapsed"
)


def show_list() -> None:
    """Show units one below the other, as a narrow screen wants them."""
    for row in table.head(LISTED).to_dict("records"):
        with st.container(border=True):
            st.markdown(
                f"**{row['rank']}. {plain(str(row['unit']))}**, {plain(str(row['site']))}: "
                f"{row['verdict']}"
            )
            for label in ("why, the worst first", "what to do first"):
                if isinstance(row[label], str):
                    st.text(row[label])
            st.text(f"bearing {row['bearing failure']}; seal {row['seal leak']}")
            if st.button(f"Open {plain(str(row['unit']))}", key=f"open:{row['unit']}"):
                open_unit(str(row["unit"]))
    if len(table) > LISTED:
        st.caption(f"The list shows the first {LISTED}; search, filter, or take the table.")


if look == "list":
    show_list()
    st.stop()
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
        "bearing failure": st.column_config.TextColumn(help="chance within a year (90 % interval)"),
        "seal leak": st.column_config.TextColumn(help="chance within a year (90 % interval)"),
    },
)
if chosen["selection"]["rows"]:
    open_unit(str(table["unit"].iloc[chosen["selection"]["rows"][0]]))
st.caption("Tick a row to open the unit.")

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

st.subheader(f"Chances of the first {min(CHARTED, len(on_page))} shown")
st.altair_chart(chances_chart(on_page.head(CHARTED)), width="stretch")
