"""One unit: what is known, what drives its risk, and where every number comes from."""

from functools import partial

from dashboard import day_in_address, kept_in_store, session
from dashboard import spoken as st
from dashboard.calculation_file import pdf_of_unit
from dashboard.charts.effects import effects_chart
from dashboard.charts.unit_history import events_chart, looks_chart
from dashboard.presenters import unit_head as head
from dashboard.presenters import unit_sheet as present
from dashboard.presenters import walkdown_tables as kept
from dashboard.presenters import what_if_tables as what_if
from dashboard.presenters.unit_pictures import ShownPicture, opens_with, shown_pictures
from dashboard.presenters.words import plain
from dashboard.views.folded import show_when_opened
from dashboard.views.rework_of_unit import show_what_rework_would_change
from dashboard.views.with_links import show_first_of_table, show_table
from scoring.access.who_asks import who_asks
from scoring.contract.events import MODE_WORDS
from scoring.contract.ranking import HOLD
from scoring.errors import FixableError
from scoring.explanation import Explanation
from scoring.explanation.history import unit_events, unit_looks
from scoring.explanation.traced_number import TracedNumber
from scoring.looking.next_look import next_look


def show() -> None:
    """Show the page."""
    unit_id = asked_unit()
    if unit_id is None:
        st.title("One unit")
        ask_unit()
        return
    explanation = session.explanation(unit_id)
    st.title(plain(unit_id))
    with st.container(key="unit_sheet"):
        with st.container(key="unit_head"):
            show_head(explanation)
        with st.container(key="unit_drawing"):
            show_pictures(unit_id)
        with st.container(key="unit_chances"):
            units = len(session.assessment().ranking)
            st.html(head.chances_block(explanation, units))
    show_findings(explanation)
    show_what_rework_would_change(unit_id)
    show_history(unit_id)
    show_entered(unit_id)
    show_grounds(unit_id)
    offer_calculation(explanation)
    show_not_known(explanation)
    ask_unit(unit_id)


def asked_unit() -> str | None:
    """Return the unit that the address names, in any case of its letters; none where none is."""
    asked = st.query_params.get("unit", "").strip().casefold()
    ids = session.assessment().ranking["unit_id"]
    return next((str(one) for one in ids if str(one).casefold() == asked), None)


def ask_unit(shown: str | None = None) -> None:
    """Ask for a unit, or for another one."""
    ids = session.assessment().ranking["unit_id"].tolist()
    asked = st.query_params.get("unit", "").strip()
    if asked and shown is None:
        day = session.open_fleet().as_of.date()
        st.warning(plain(f"No unit {asked} was in service on {day}."))
    chosen = st.selectbox(
        "unit" if shown is None else "another unit",
        ids,
        index=None,
        placeholder="type an id, or choose: the worst come first",
    )
    if shown is None:
        st.info("Choose a unit, or tap one on the page What to fix first.")
    if chosen is not None and chosen != shown:
        st.switch_page(
            "views/one_unit.py", query_params={"unit": chosen, **day_in_address.in_the_address()}
        )


def show_head(explanation: Explanation) -> None:
    """Show where the unit is, whether it may run and why, and what to do first."""
    ranked = explanation.ranked
    unit_id = str(ranked["unit_id"])
    st.text(present.where_and_what(session.assessment().known.units, unit_id))
    entered = kept_in_store.entered_of_unit(unit_id)
    if ranked["verdict"] == HOLD:
        reasons = head.holds(explanation, session.open_fleet().assessor.fleet.walkdowns)
        day = session.open_fleet().as_of
        told = head.told_words(None if entered is None else head.seen_by(entered.walkdowns, day))
        st.html(head.must_not_run(reasons, told))
    else:
        st.html(head.verdict_block(str(ranked["verdict"]), ranked["main_reasons"]))
        known = session.assessment().known
        again = head.look_again_said(next_look(known, unit_id), known.as_of)
        if again:
            st.text(again)
    reasons_said = None if ranked["verdict"] == HOLD else ranked["main_reasons"]
    first = head.first_block(
        ranked["first_action"], what_first_work_buys(explanation), reasons_said
    )
    if first:
        st.html(first)
    show_entering(unit_id)


def what_first_work_buys(explanation: Explanation) -> what_if.Answer | None:
    """Return what the first work would change; none where there is none that fits the unit."""
    names = head.first_names(explanation)
    if not names:
        return None
    unit_id = str(explanation.ranked["unit_id"])
    try:
        asked = what_if.question(session.assessment(), unit_id, names, {})
    except FixableError:
        return None
    return session.what_if(asked).to_dict("records")[0]


def show_not_known(explanation: Explanation) -> None:
    """Show what nobody saw, and what was assumed."""
    ranked = explanation.ranked
    for name, words in (("Not seen", ranked["not_seen"]), ("Assumed", ranked["assumed"])):
        said = words.split("; ") if isinstance(words, str) else []
        with st.expander(f"{name} ({len(said)})"):
            for one in said:
                st.text(one)
            if not said:
                st.text("nothing")


def show_entering(unit_id: str) -> None:
    """Offer what can be entered of the unit, and its sheets."""
    walkdowns = session.open_fleet().assessor.fleet.walkdowns
    sheets = kept.sheets_of_unit(unit_id, was_seen=bool((walkdowns["unit_id"] == unit_id).any()))
    into_store = kept_in_store.is_kept_in_store()
    entered = kept.links_of_unit(unit_id, who_asks()) if into_store else {}
    st.html(kept.links({**entered, **sheets}))


def show_entered(unit_id: str) -> None:
    """Show what was entered of the unit, who signed it, and its releases to start."""
    found = kept_in_store.entered_of_unit(unit_id)
    if found is None:
        return
    st.header("Walkdowns and releases")
    if found.drafts:
        begun = kept.drafts_table(found.drafts, who_asks()).drop(columns="unit")
        show_table(begun, links=kept.WORDS_OF_LINKS)
    if not found.walkdowns.empty:
        of_unit = kept.walkdowns_table(found.walkdowns, who_asks()).drop(columns="unit")
        show_first_of_table(of_unit, links=kept.WORDS_OF_LINKS)
    if not found.drafts and found.walkdowns.empty:
        st.text("No walkdown is begun or signed.")
    if found.releases:
        st.markdown("**Releases to start**")
        show_table(kept.releases_table(found.releases))
    show_versions(found)
    show_photos(found)


def show_versions(found: kept_in_store.EnteredOfUnit) -> None:
    """Show the versions of walkdowns that were corrected."""
    corrected = found.walkdowns[found.walkdowns["version"] > 1]
    for walkdown in corrected.itertuples(index=False):
        with st.expander(plain(f"Versions of the walkdown of {walkdown.inspected_on}")):
            table = kept.versions_table(kept_in_store.versions(str(walkdown.walkdown_id)))
            show_table(table)


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


def show_findings(explanation: Explanation) -> None:
    """Show what the rules found."""
    st.header("Findings")
    found = present.findings(explanation)
    if found.empty:
        st.text(head.nothing_found(explanation.ranked["not_seen"]))
        return
    st.html(head.findings_table(found))
    with st.expander("What each rule rests on"):
        for row in found.to_dict("records"):
            st.text(f"{row['nr.']}  {row['rule rests on']}")


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
    st.html(picture.as_image)
    for finding in picture.marked:
        st.text(finding)
    if picture.elsewhere:
        numbers = ", ".join(map(str, picture.elsewhere))
        st.caption(f"Marked in other pictures: finding {numbers}.")
    with st.expander("What the picture shows"):
        st.write(plain(picture.description))
        st.caption("\n".join(f"- {plain(note)}" for note in picture.notes))
        st.download_button(
            "Save for print (SVG)",
            picture.for_print,
            file_name=picture.file_name,
            mime="image/svg+xml",
            on_click="ignore",
        )


@st.fragment
def show_history(unit_id: str) -> None:
    """Offer what happened, and what each look found."""
    show_when_opened(words="History", show=partial(show_events_and_looks, unit_id))


def show_events_and_looks(unit_id: str) -> None:
    """Show what happened, and what each look found."""
    fleet = session.open_fleet()
    events = unit_events(fleet.assessor, unit_id, fleet.as_of)
    st.altair_chart(events_chart(events), width="stretch")
    looks = unit_looks(fleet.assessor, unit_id, fleet.as_of)
    if not looks.empty:
        st.markdown("**What each look found**")
        st.altair_chart(looks_chart(looks), width="stretch")


@st.fragment
def show_grounds(unit_id: str) -> None:
    """Offer what drives each risk, every number, every check and the nameplate."""
    show_when_opened(words="What drives each risk", show=partial(show_effects, unit_id))
    show_when_opened(words="Where every number comes from", show=partial(show_numbers, unit_id))
    show_when_opened(
        words="Every check and what is known of it", show=partial(show_checks, unit_id)
    )
    show_when_opened(words="Nameplate", show=partial(show_nameplate, unit_id))


def offer_calculation(explanation: Explanation) -> None:
    """Offer every number on paper; it is worked out when it is asked for."""
    unit_id = str(explanation.ranked["unit_id"])
    shown = session.assessed_fleet()
    st.download_button(
        "Save the calculation sheet (PDF)",
        lambda: pdf_of_unit(explanation, shown),
        file_name=f"calculation_sheet_{unit_id}.pdf",
        mime="application/pdf",
        on_click="ignore",
    )


def show_effects(unit_id: str) -> None:
    """Show what drives each risk, effect by effect."""
    effects = present.effects(session.explanation(unit_id))
    for words in MODE_WORDS.values():
        st.markdown(f"**{words}**")
        if (effects["failure"] == words).any():
            st.altair_chart(effects_chart(effects, words), width="stretch")
        else:
            st.caption("Nothing at this unit moves it from the rate of its kind.")
    st.caption(
        "● seen, ▲ reported cured, ✚ not seen: counts as the average. Right of 1 an effect "
        "raises the hazard; the line is its 90 % interval. Every mark opens with what it rests "
        "on."
    )


def show_numbers(unit_id: str) -> None:
    """Show for every number its formula, inputs and source, topic by topic."""
    for topic, numbers in present.topics(session.explanation(unit_id)).items():
        show_when_opened(topic, partial(show_each, numbers), key=f"{unit_id} {topic}")


def show_each(numbers: list[TracedNumber]) -> None:
    """Show some numbers, each with its formula, inputs and source."""
    for number in numbers:
        show_number(number)


def show_number(number: TracedNumber) -> None:
    """Show one number with its formula, inputs and source."""
    st.markdown(f"**{plain(number.name)}: {plain(number.value_words)}**")
    st.text(f"= {number.formula_words}")
    parts = present.inputs(number)
    if not parts.empty:
        show_table(parts)
    st.caption(plain(f"Source: {number.source}"))


def show_checks(unit_id: str) -> None:
    """Show every check and what is known of it."""
    show_table(present.checks_now(session.assessment(), unit_id))


def show_nameplate(unit_id: str) -> None:
    """Show the nameplate."""
    show_table(present.nameplate(session.assessment(), unit_id))


show()
