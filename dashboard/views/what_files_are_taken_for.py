"""What each file is taken for that is brought in, and each of its columns and words, to correct."""

from dashboard import spoken as st
from dashboard.bringing import Bringing, PlannedColumn, PlannedTable
from dashboard.presenters import bring_words as present
from dashboard.presenters.words import plain

FIELD_PX = 400
SIDE_BY_SIDE = 3


def show_tables(now: Bringing) -> None:
    """Show what each source and each of its columns is taken for, beside its first cells."""
    st.header("What the files are taken for")
    for place, part in enumerate(now.plan.tables):
        st.subheader(plain(", ".join(part.sources[:3])))
        taken_for = present.feeds_said(part)
        offered = {**present.tables_fed(), taken_for: ""}
        said = st.selectbox(
            "these are",
            list(offered),
            index=list(offered).index(taken_for),
            key=f"feeds {place} {now.turn}",
            width=FIELD_PX,
            help=part.because or None,
        )
        tell_feeds(now, part, offered, str(said))
        if part.feeds:
            st.html(present.columns_list(present.columns_table(part, now.grids)))
            correct_column(now, place, part)


def tell(now: Bringing, key: str, said: str) -> None:
    """Tell the plan something, and show the page anew."""
    now.tell(key, said)
    st.rerun()


def tell_feeds(now: Bringing, part: PlannedTable, offered: dict[str, str], said: str) -> None:
    """Tell the plan what a source is, where that was changed."""
    if offered.get(said):
        for source in part.sources:
            now.tell(f"feeds.{source}", offered[said])
        st.rerun()


def correct_column(now: Bringing, place: int, part: PlannedTable) -> None:
    """Let a person choose a column, and say what it and its words stand for."""
    by_heading = part.by_heading()
    fields = st.columns(SIDE_BY_SIDE)
    with fields[0]:
        chosen = st.selectbox(
            "correct a column",
            list(by_heading),
            index=None,
            key=f"correct {place} {'; '.join(part.sources)}",
            placeholder="choose its heading",
        )
    if chosen not in by_heading:
        return
    column = by_heading[str(chosen)]
    targets, taken_for = present.targets(part), present.taken_for(column)
    with fields[1]:
        said = st.selectbox(
            "it stands for",
            list(targets),
            index=list(targets).index(taken_for) if taken_for in targets else None,
            key=f"stands for {place} {chosen} {now.turn}",
        )
    if said and said != taken_for:
        tell(now, f"column.{chosen}", targets[str(said)])
    unit = present.unit_said(column)
    if present.is_measured(column):
        with fields[2]:
            measured = st.selectbox(
                "in",
                present.units_offered(unit),
                index=present.units_offered(unit).index(unit),
                key=f"unit {place} {chosen} {now.turn}",
                format_func=present.unit_choice,
            )
        if measured != unit:
            tell(now, f"unit.{chosen}", str(measured))
    show_words(now, column, f"{place} {chosen} {now.turn}")


def show_words(now: Bringing, column: PlannedColumn, key: str) -> None:
    """Let a person say what each word of a column stands for."""
    allowed = present.words_offered(column)
    if not allowed:
        return
    fields = st.columns(SIDE_BY_SIDE)
    for number, (word, meant) in enumerate(present.words_known(column).items()):
        with fields[number % SIDE_BY_SIDE]:
            said = st.selectbox(
                present.as_label(f"{word!r} stands for"),
                allowed,
                index=allowed.index(meant) if meant in allowed else None,
                key=f"word {key} {word}",
                format_func=present.choice_said,
            )
        if said and said != meant:
            tell(now, present.word_key(column, word), str(said))
