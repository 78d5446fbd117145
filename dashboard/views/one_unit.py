"""One unit: what is known, what drives its risk, and where every number comes from."""

import streamlit as st

from dashboard import session
from dashboard.charts.effects import effects_chart
from dashboard.charts.history import events_chart, looks_chart
from dashboard.presenters import unit_sheet as present
from dashboard.presenters.words import (
    MODE_WORDS,
    VERDICT_MEANS,
    VERDICT_WORDS,
    chance,
    how_likely,
    money,
    plain,
)
from scoring.explanation import explain
from scoring.explanation.history import unit_events, unit_looks

fleet = session.open_fleet()
assessment = session.assessment()
ids = assessment.ranking["unit_id"].tolist()

st.title("One unit")
asked = st.query_params.get("unit", "")
unit_id = st.selectbox(
    "unit",
    ids,
    index=ids.index(asked) if asked in ids else None,
    placeholder="type an id, or choose: the worst come first",
)
if unit_id is None:
    if asked:
        st.warning(plain(f"No unit {asked} was in service on {fleet.as_of.date()}."))
    st.info("Choose a unit, or tick one on the page What to fix first.")
    st.stop()
st.query_params["unit"] = unit_id

explanation = explain(assessment, unit_id)
ranked = explanation.ranked
verdict = str(ranked["verdict"])
st.header(plain(f"{unit_id}, {ranked['site']}"))
st.subheader(f"{VERDICT_WORDS[verdict]}: {VERDICT_MEANS[verdict]}")
for label, column in (
    ("What to do first", "first_action"),
    ("Not seen", "not_seen"),
    ("Assumed", "assumed"),
):
    if isinstance(ranked[column], str):
        st.markdown(f"**{label}:** {plain(ranked[column])}")

with st.container(horizontal=True):
    for row in present.probabilities(explanation).to_dict("records"):
        st.metric(
            row["failure"],
            chance(row["chance"], row["low"], row["high"]),
            how_likely(row["chance"]),
            delta_color="off",
            delta_arrow="off",
            border=True,
            help="within a year, with its 90 % interval",
        )
    st.metric(
        "expected loss", money(float(ranked["expected_loss"]), ranked["currency"]), border=True
    )
    st.metric("rank", f"{ranked['rank']} of {len(ids)}", border=True)

st.subheader("Findings")
found = present.findings(explanation)
if found.empty:
    st.text("No finding. Never a permission to run.")
else:
    st.dataframe(found, hide_index=True, column_config={"seen on": st.column_config.DateColumn()})

st.subheader("What drives each risk")
effects = present.effects(explanation)
for words in MODE_WORDS.values():
    st.markdown(f"**{words}**")
    st.altair_chart(effects_chart(effects, words), width="stretch")
st.caption(
    "● seen, ▲ reported cured, ✚ not seen: counts as the average. Right of 1 an effect raises the "
    "hazard; the line is its 90 % interval. Every mark opens with what it rests on."
)

st.subheader("Over time")
st.altair_chart(events_chart(unit_events(fleet.assessor, unit_id, fleet.as_of)), width="stretch")
looks = unit_looks(fleet.assessor, unit_id, fleet.as_of)
if not looks.empty:
    with st.expander("What each look found"):
        st.altair_chart(looks_chart(looks), width="stretch")

st.subheader("Where every number comes from")
for topic, numbers in present.topics(explanation).items():
    with st.expander(topic):
        for number in numbers:
            st.markdown(f"**{plain(number.name)}: {plain(number.value_words)}**")
            st.text(f"= {number.formula}")
            parts = present.inputs(number)
            if not parts.empty:
                st.dataframe(parts, hide_index=True)
            st.caption(plain(f"Source: {number.source}"))

with st.expander("Every check and what is known of it"):
    st.dataframe(
        present.checks_now(assessment, unit_id),
        hide_index=True,
        column_config={"seen on": st.column_config.DateColumn()},
    )
with st.expander("Nameplate"):
    st.dataframe(present.nameplate(assessment, unit_id), hide_index=True)
