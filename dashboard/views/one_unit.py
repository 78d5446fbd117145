"""One unit: what is known, what drives its risk, and where every number comes from."""

import streamlit as st

from dashboard import kept_in_store, session
from dashboard.charts.effects import effects_chart
from dashboard.charts.unit_history import events_chart, looks_chart
from dashboard.presenters import unit_sheet as present
from dashboard.presenters import walkdown_tables as kept
from dashboard.presenters.unit_pictures import ShownPicture, opens_with, shown_pictures
from dashboard.presenters.words import (
    chance,
    first_action_said,
    how_likely,
    money,
    plain,
    verdict_shown,
)
from dashboard.views.rework_of_unit import show_what_rework_would_change
from scoring.contract.events import MODE_WORDS
from scoring.explanation import Explanation, explain
from scoring.explanation.history import unit_events, unit_looks

PAGE_WIDTH = 1240
"""What a usual screen leaves a page; narrower ones put things below each other. [px]"""


def show() -> None:
    """Show the page."""
    st.title("One unit")
    unit_id = ask_unit()
    if unit_id is None:
        return
    explanation = explain(session.assessment(), unit_id)
    show_verdict(explanation)
    show_entering(unit_id)
    show_chances(explanation)
    show_findings(explanation)
    show_pictures(unit_id)
    show_what_rework_would_change(unit_id)
    show_effects(explanation)
    show_history(unit_id)
    show_entered(unit_id)
    show_numbers(explanation)
    show_records(unit_id)


def ask_unit() -> str | None:
    """Ask for a unit; a link may name one."""
    ids = session.assessment().ranking["unit_id"].tolist()
    written = {str(unit_id).casefold(): unit_id for unit_id in ids}
    asked = st.query_params.get("unit", "").strip()
    asked = written.get(asked.casefold(), asked)
    unit_id = st.selectbox(
        "unit",
        ids,
        index=ids.index(asked) if asked in ids else None,
        placeholder="type an id, or choose: the worst come first",
    )
    if unit_id is None:
        if asked:
            day = session.open_fleet().as_of.date()
            st.warning(plain(f"No unit {asked} was in service on {day}."))
        st.info("Choose a unit, or tick one on the page What to fix first.")
        return None
    st.query_params["unit"] = unit_id
    return str(unit_id)


def show_verdict(explanation: Explanation) -> None:
    """Show where the unit is, the verdict and why, what to do, what was not seen or assumed."""
    ranked = explanation.ranked
    st.header(plain(f"{ranked['unit_id']}, {ranked['site']}"))
    st.text(present.where_and_what(session.assessment().known.units, str(ranked["unit_id"])))
    st.subheader(verdict_shown(str(ranked["verdict"])))
    if isinstance(ranked["main_reasons"], str):
        st.markdown(f"**Why:** {plain(ranked['main_reasons'])}")
    if words := first_action_said(ranked["first_action"]):
        st.markdown(f"**What to do first:** {plain(words)}")
    if isinstance(ranked["not_seen"], str):
        st.markdown(f"**Not seen:** {plain(ranked['not_seen'])}")
    if isinstance(ranked["assumed"], str):
        with st.expander("What was assumed"):
            st.markdown(plain(ranked["assumed"]))


def show_entering(unit_id: str) -> None:
    """Offer what can be entered of the unit."""
    if kept_in_store.is_kept_in_store():
        st.html(kept.links(kept.links_of_unit(unit_id)))


def show_entered(unit_id: str) -> None:
    """Show what was entered of the unit, who signed it, and its releases to start."""
    found = kept_in_store.entered_of_unit(unit_id)
    if found is None:
        return
    st.subheader("Walkdowns and releases")
    if found.drafts:
        st.dataframe(
            kept.drafts_table(found.drafts),
            hide_index=True,
            column_config={"go on": st.column_config.LinkColumn(display_text="go on")},
        )
    if not found.walkdowns.empty:
        st.dataframe(
            kept.walkdowns_table(found.walkdowns),
            hide_index=True,
            column_config={
                "seen on": st.column_config.DateColumn(),
                "correct": st.column_config.LinkColumn(display_text="correct"),
            },
        )
    if found.releases:
        st.markdown("**Releases to start**")
        st.dataframe(kept.releases_table(found.releases), hide_index=True)
    show_versions(found)
    show_photos(found)


def show_versions(found: kept_in_store.EnteredOfUnit) -> None:
    """Show the versions of walkdowns that were corrected."""
    corrected = found.walkdowns[found.walkdowns["version"] > 1]
    for walkdown in corrected.itertuples(index=False):
        with st.expander(plain(f"Versions of the walkdown of {walkdown.inspected_on}")):
            table = kept.versions_table(kept_in_store.versions(str(walkdown.walkdown_id)))
            st.dataframe(table, hide_index=True)


def show_photos(found: kept_in_store.EnteredOfUnit) -> None:
    """Show the photos of the unit, each with its check."""
    with_photos = found.walkdowns[found.walkdowns["photos"] > 0]
    if with_photos.empty:
        return
    with st.expander("Photos"):
        days = with_photos.set_index("walkdown_id")["inspected_on"].astype("str")
        for walkdown_id, check, jpeg in kept_in_store.photos(with_photos["walkdown_id"].tolist()):
            words = f"{kept.check_label(check)}, {days[walkdown_id]}"
            st.image(jpeg, caption=plain(words), alt=words)


def show_chances(explanation: Explanation) -> None:
    """Show the chances with their intervals, the loss and the rank."""
    ranked = explanation.ranked
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
        loss = money(float(ranked["expected_loss"]), ranked["currency"])
        st.metric("expected loss", loss, border=True)
        units = len(session.assessment().ranking)
        st.metric("rank", f"{ranked['rank']} of {units}", border=True)


def show_findings(explanation: Explanation) -> None:
    """Show what the rules found."""
    st.subheader("Findings")
    found = present.findings(explanation)
    if found.empty:
        st.text("No finding. Never a permission to run.")
        return
    st.dataframe(found, hide_index=True, column_config={"seen on": st.column_config.DateColumn()})


def show_pictures(unit_id: str) -> None:
    """Show the pictures of the unit, each in its tab; open where the worst finding is marked."""
    theme = "dark" if st.context.theme.type == "dark" else "light"
    pictures = shown_pictures(session.assessment(), unit_id, theme)
    tabs = st.tabs([p.name for p in pictures], default=opens_with(pictures))
    for tab, picture in zip(tabs, pictures, strict=True):
        with tab:
            show_picture(picture)


def show_picture(picture: ShownPicture) -> None:
    """Show a picture, the findings it marks, what it shows in words, and its notes."""
    drawn, said = st.columns([picture.width, max(PAGE_WIDTH - picture.width, PAGE_WIDTH // 4)])
    drawn.html(picture.as_image)  # st.image would shrink it beyond reading on a phone
    with said:
        st.markdown("**Findings marked here**")
        for finding in picture.marked:
            st.text(finding)
        if not picture.marked:
            st.text("none")
        if picture.elsewhere:
            st.caption(f"Marked in other pictures only: {picture.elsewhere}.")
        st.caption("\n".join(f"- {plain(note)}" for note in picture.notes))
        with st.expander("What the picture shows"):
            st.write(plain(picture.description))
        st.download_button(
            "Save for print (SVG)",
            picture.for_print,
            file_name=picture.file_name,
            mime="image/svg+xml",
            on_click="ignore",
        )


def show_effects(explanation: Explanation) -> None:
    """Show what drives each risk, effect by effect."""
    st.subheader("What drives each risk")
    effects = present.effects(explanation)
    for words in MODE_WORDS.values():
        st.markdown(f"**{words}**")
        if (effects["failure"] == words).any():
            st.altair_chart(effects_chart(effects, words), width="stretch")
        else:
            st.caption("Nothing at this unit moves it from the rate of its kind.")
    st.caption(
        "● seen, ▲ reported cured, ✚ not seen: counts as the average. Right of 1 an effect raises "
        "the hazard; the line is its 90 % interval. Every mark opens with what it rests on."
    )


def show_history(unit_id: str) -> None:
    """Show what happened, and what each look found."""
    fleet = session.open_fleet()
    st.subheader("Over time")
    events = unit_events(fleet.assessor, unit_id, fleet.as_of)
    st.altair_chart(events_chart(events), width="stretch")
    looks = unit_looks(fleet.assessor, unit_id, fleet.as_of)
    if not looks.empty:
        with st.expander("What each look found"):
            st.altair_chart(looks_chart(looks), width="stretch")


def show_numbers(explanation: Explanation) -> None:
    """Show for every number its formula, inputs and source."""
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


def show_records(unit_id: str) -> None:
    """Show every check and the nameplate."""
    assessment = session.assessment()
    with st.expander("Every check and what is known of it"):
        st.dataframe(
            present.checks_now(assessment, unit_id),
            hide_index=True,
            column_config={"seen on": st.column_config.DateColumn()},
        )
    with st.expander("Nameplate"):
        st.dataframe(present.nameplate(assessment, unit_id), hide_index=True)


show()
