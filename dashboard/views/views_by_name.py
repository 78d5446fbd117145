"""Views of a page that people keep by name: open one, keep one, remove one."""

from collections.abc import Mapping, Sequence

from dashboard import day_in_address, kept_by_name
from dashboard import spoken as st
from dashboard.presenters import kept_view_words as say
from dashboard.presenters.page_links import page_link
from dashboard.presenters.words import plain
from dashboard.views.asking_who import FIELD_PX, ask_who
from dashboard.views.with_links import show_html
from scoring.entering.kept_views import KeptView
from scoring.errors import FixableError


def with_the_day(chosen: Mapping[str, Sequence[str]]) -> dict[str, list[str]]:
    """Return what is chosen with what the address says of the day."""
    said = {name: [text] for name, text in day_in_address.in_the_address().items()}
    return {**{name: list(texts) for name, texts in chosen.items()}, **said}


def show_views(page: str, chosen: Mapping[str, Sequence[str]]) -> None:
    """Show the kept views of a page, and offer to keep what is chosen.

    Parameters
    ----------
    page : str
        Its name in the address.
    chosen : mapping of str to sequence of str
        What is chosen, as ``in_a_link`` returns it.
    """
    link = page_link(page, with_the_day(chosen))
    if not kept_by_name.is_kept():
        st.markdown(
            f"[Link of this view]({link}): it holds all that is chosen. Views are kept by name "
            "where the records lie in a store."
        )
        return
    row, person = st.empty(), kept_by_name.person()
    folded, told = st.expander("Keep this view by name, or remove one"), st.container()
    with folded, st.form(f"keep view of {page}", border=False):
        asked = ask_to_keep(page)
    with told:  # in sight, whether or not the form is folded again
        keep_if_asked(asked, page, link)
    there = say.ones_own_first(kept_by_name.views(page), person)
    if there:
        with folded, st.form(f"remove view of {page}", border=False):
            unwanted = ask_to_remove(there)
        with told:
            remove_if_asked(unwanted)
        there = say.ones_own_first(kept_by_name.views(page), person)
    if there:
        with row:
            show_html(say.row_of_views(there, person))


def ask_to_keep(page: str) -> tuple[str, str] | None:
    """Ask for a name and for whose view it is; return both once they are given."""
    name = st.text_input("name of the view", key=f"name of the view of {page}", width=FIELD_PX)
    by = ask_who(f"who keeps a view of {page}")
    return (name, by) if st.form_submit_button("Keep this view") else None


def keep_if_asked(asked: tuple[str, str] | None, page: str, link: str) -> None:
    """Keep the view if somebody asked for it, and say so."""
    if asked is None:
        return
    name, by = asked
    try:
        kept = kept_by_name.keep_view(by, name, page, link)
    except FixableError as error:
        st.error(plain(str(error)))
        return
    st.success(f"Kept as {plain(kept.name)}.")


def ask_to_remove(there: Sequence[KeptView]) -> tuple[KeptView, str] | None:
    """Ask which view goes and who removes it; return both once they are given."""
    page, person = there[0].page, kept_by_name.person()
    view = st.selectbox(
        "a view to remove",
        there,
        index=None,
        placeholder="none",
        format_func=lambda one: say.view_said(one, person),
        key=f"view of {page} to remove",
        width=FIELD_PX,
    )
    by = ask_who(f"who removes a view of {page}")
    return (view, by) if st.form_submit_button("Remove it") and view is not None else None


def remove_if_asked(unwanted: tuple[KeptView, str] | None) -> None:
    """Remove a view if somebody asked for it, and say so."""
    if unwanted is None:
        return
    view, by = unwanted
    try:
        kept_by_name.remove_view(by, view.view_id)
    except FixableError as error:
        st.error(plain(str(error)))
        return
    st.success(f"Removed {plain(view.name)}.")
