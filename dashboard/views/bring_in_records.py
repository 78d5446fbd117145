"""Bring in records: drop files, see what they are taken for, put right what is wrong, take them."""

import pandas as pd
from streamlit.delta_generator import DeltaGenerator

from dashboard import bringing, kept_in_store, session
from dashboard import spoken as st
from dashboard.bringing import Bringing, CheckedFleet, FaultyRows, Place
from dashboard.launch_settings import NothingToShowError, fleet_name, is_named
from dashboard.presenters import about
from dashboard.presenters import bring_words as present
from dashboard.presenters.words import plain
from dashboard.results_in_use import results_beside_the_pages
from dashboard.views.asking_who import ask_who
from dashboard.views.brought_sources import show_databases, show_plants
from dashboard.views.what_files_are_taken_for import show_tables, tell
from scoring.errors import FixableError
from scoring.files.dropped_files import KINDS
from scoring.files.write_table import table_bytes

RANKING = "views/what_to_fix_first.py"
HANDLED = "files that were dropped last"
ASKED_BY_A_CLICK = 5
"""So many choices are shown at once; more are in a list."""
FIELDS_BESIDE = 3
ALIKE_SHOWN = 30
"""So many faults are asked for by fields of their own, what stands alike in several rows once."""


def show() -> None:
    """Show the page."""
    st.title("Bring in records")
    now, answer = bringing.current(), st.container()
    checked: CheckedFleet | None = None
    try:
        take_what_was_dropped(now)
        if not now.is_there and not session.shows_own():
            begin_with_named(now)
        show_databases(now)
        if now.is_there:
            checked = show_how_it_stands(now, answer)
    except FixableError as error:
        st.error(plain(str(error)))
    if not now.is_there:
        with answer:
            show_nothing_yet()
        return
    if now.is_by_plan:
        show_plants(now)
        show_tables(now)
    if checked is not None:
        show_notes(now)
        show_faults(checked, now)
    show_files(now)


def show_how_it_stands(now: Bringing, answer: DeltaGenerator) -> CheckedFleet | None:
    """Say how the records stand; ask what is open, or let them be put right and taken."""
    if now.is_by_plan:
        show_questions(now)
    if not now.is_by_plan and now.databases:
        with answer:
            st.markdown("**Nothing is read yet: choose below what is asked of the database.**")
        return None
    checked = now.checked()
    with answer:
        said = present.how_it_stands(len(now.open_questions()), now.rows_read(), checked)
        st.markdown(f"**{plain(said)}**")
    if checked is not None:
        show_take(now, checked)
        for faulty in now.faulty():
            show_mending(now, faulty, checked.faults)
    return checked


def show_nothing_yet() -> None:
    """Say what can be dropped; who begins with nothing reads first what this is."""
    if not is_named() and not session.shows_own():
        st.markdown(plain(about.WHAT_THIS_IS))
    st.markdown(
        "Drop the records as your plant keeps them: the list of units, walkdowns, failures, "
        "re-work. A list of units alone is enough to begin."
    )
    st.caption(
        "Own headings, words and units of measure are understood where they can be; what cannot be "
        "told is asked. Nothing is taken before you say so. Files stay in this session."
    )
    if kept_in_store.is_kept_in_store():
        st.caption("What is taken goes into the store of these pages, in your name.")
    if not is_named():
        st.caption("To look round an invented plant first, start: mount-risk demo")


def take_what_was_dropped(now: Bringing) -> None:
    """Ask for files, and take those that are new."""
    dropped = st.file_uploader(
        "Files: CSV, XLSX, ODS, Parquet, a database of SQLite; a reading plan (.toml) that was "
        "saved here",
        type=[one.removeprefix(".") for one in KINDS],
        accept_multiple_files=True,
    )
    before = st.session_state.get(HANDLED, {})
    names = bringing.names_apart([one.name for one in dropped])
    there = {one.file_id: name for one, name in zip(dropped, names, strict=True)}
    if not dropped or there == before:
        return
    kept = {name: data for name, data in now.files.items() if name not in before.values()}
    bringing.refuse_too_many([(one.name, one.size) for one in dropped])
    with st.spinner("Reading the files"):
        now.drop(kept | {there[one.file_id]: one.getvalue() for one in dropped})
    st.session_state[HANDLED] = there


def begin_with_named(now: Bringing) -> None:
    """Take up the records that the command line named, where they cannot be shown."""
    try:
        session.open_fleet()
    except NothingToShowError:
        bringing.take_up_named(now)


def show_questions(now: Bringing) -> None:
    """Ask what cannot be told from the files."""
    asked = now.open_questions()
    if not asked:
        return
    st.header("What only you can tell")
    for question in asked:
        key = f"answer {question.key} {now.turn}"
        if len(question.choices) <= ASKED_BY_A_CLICK and not question.free:
            said = st.radio(
                present.as_label(present.question_said(question.asks)),
                question.choices,
                index=None,
                key=key,
                format_func=present.choice_said,
            )
        else:
            said = st.selectbox(
                present.as_label(present.question_said(question.asks)),
                question.choices,
                index=None,
                key=key,
                accept_new_options=question.free,
                format_func=present.choice_said,
                placeholder="choose, or write a name" if question.free else "choose",
            )
        if said:
            tell(now, question.key, str(said))


def show_take(now: Bringing, checked: CheckedFleet) -> None:
    """Offer to take the rows that are good."""
    into_store = kept_in_store.is_kept_in_store()
    if not present.can_be_taken(checked, into_store=into_store):
        return
    is_faulty = checked.how_many_faults > 0
    with st.form("take"):
        st.caption(
            "Into the store of these pages."
            if into_store
            else "For this session: nothing is written to a file or a store."
        )
        person = ask_who("who takes them") if into_store else ""
        wanted = st.form_submit_button(
            "Take the good rows, leave out the faulty ones" if is_faulty else "Take these records",
            type="secondary" if is_faulty else "primary",
        )
    if not wanted:
        return
    if into_store:
        now.load(person, keep_good=is_faulty)
        with st.spinner("Working out the ranking"):
            results_beside_the_pages()
    else:
        left = (f"{checked.how_many_faults} faults; their rows are left out",) if is_faulty else ()
        name = fleet_name() if is_named() and not now.files else present.name_of(now.files)
        session.show_own(name, checked.fleet, (*now.notes(), *left))
    st.switch_page(RANKING)


def show_faults(checked: CheckedFleet, now: Bringing) -> None:
    """Show every fault: where, what was found, what would be right."""
    if not checked.how_many_faults:
        return
    st.header("Every fault")
    st.html(present.faults_list(checked.faults))
    shown = min(len(checked.faults), present.FAULTS_SHOWN)
    if shown < checked.how_many_faults:
        st.caption(f"The first {shown} of {checked.how_many_faults} faults.")
    with st.container(horizontal=True):
        st.download_button(
            "Save the list of faults as CSV",
            lambda: table_bytes(checked.faults, ".csv", sheet="faults"),
            file_name="faults.csv",
            mime="text/csv",
            on_click="ignore",
        )
        if checked.rejected:
            st.download_button(
                "Save the faulty rows as files",
                now.rejects,
                file_name="rejected.zip",
                mime="application/zip",
                on_click="ignore",
            )


def show_mending(now: Bringing, faulty: FaultyRows, faults: pd.DataFrame) -> None:
    """Lay out the faulty rows of one table to be put right."""
    said = present.TABLE_WORDS[faulty.table]
    st.header(plain(f"Put right: {said}"))
    alike = present.found_alike(faulty, faults)
    with st.form(f"mend {faulty.table} {now.turn}", border=False):
        mends: dict[Place, dict[str, str]] = {}
        fields = st.columns(FIELDS_BESIDE) if alike else []
        for at, ((name, text), places) in enumerate(list(alike.items())[:ALIKE_SHOWN]):
            label = present.as_label(present.instead_of(name, text, places))
            key = f"alike {faulty.table} {name} {text} {now.turn}"
            allowed = present.allowed_for(faulty.table, name)
            with fields[at % FIELDS_BESIDE]:
                new = (
                    st.selectbox(label, allowed, index=None, key=key, placeholder="choose")
                    if allowed
                    else st.text_input(label, key=key)
                )
            if new:
                for place in places:
                    mends.setdefault(place, {})[name] = str(new)
        rows = present.rows_to_mend(faulty, faults)
        after = st.data_editor(
            rows,
            hide_index=True,
            disabled=["row", "what is wrong", "would be right"],
            key=f"rows {faulty.table} {now.turn}",
            column_config={str(name): st.column_config.TextColumn() for name in faulty.cells},
        )
        wanted = st.form_submit_button("Check again with what I wrote", type="primary")
    if len(rows) < len(faulty.cells):
        st.caption(f"The first {len(rows)} of {len(faulty.cells)} rows; more follow.")
    if wanted:
        for place, cells in present.mends_of(faulty, pd.DataFrame(after)).items():
            mends.setdefault(place, {}).update(cells)
        now.put_right(faulty.table, mends)
        st.rerun()


def show_notes(now: Bringing) -> None:
    """Say what was left aside."""
    notes = now.notes()
    if notes:
        with st.expander("What was left aside"):
            for note in notes:
                st.text(note)


def show_files(now: Bringing) -> None:
    """Offer the plan as a file, and to begin anew."""
    with st.container(horizontal=True):
        if now.is_by_plan:
            st.download_button(
                "Save the reading plan",
                now.plan_text,
                file_name="reading-plan.toml",
                mime="application/toml",
                on_click="ignore",
            )
        if st.button("Begin anew"):
            bringing.forget()
            st.session_state.pop(HANDLED, None)
            st.rerun()
    if now.is_by_plan:
        st.caption(
            "Drop the plan beside next month's files, or keep it beside them as reading-plan.toml: "
            "then nothing is asked again but what is new."
        )


show()
