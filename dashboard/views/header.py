"""The header of every page: links that carry day, horizon and what was chosen on each page."""

from collections.abc import Sequence

from dashboard import choices_in_address as kept
from dashboard import day_in_address
from dashboard import spoken as st
from dashboard.presenters import about

Links = list[dict[str, list[str] | str]]


class Header:
    """Links to the pages: in a row, and in a list for a screen that is held in a hand.

    Parameters
    ----------
    pages : sequence of Page
        In their order.
    """

    def __init__(self, pages: Sequence["st.Page"]) -> None:
        self._pages = pages
        self._links: Links | None = None
        with st.container(key="pages_in_a_row"):
            self._row = st.empty()
        with st.popover("Pages", key="pages_in_a_list"):
            self._list = st.empty()

    def show(self) -> None:
        """Show the links; once more after a page, for what was chosen on it meanwhile.

        The first time is before the page, so that one can leave a page that takes long.
        """
        carried = day_in_address.in_the_address()
        links: Links = [{**kept.link_to(page.url_path), **carried} for page in self._pages]
        if links == self._links:
            return
        self._links = links
        with self._row.container(horizontal=True):
            self._show_each()
        with self._list.container():
            self._show_each()
            show_reading_link()

    def _show_each(self) -> None:
        for page, said in zip(self._pages, self._links or [], strict=True):
            st.page_link(page, query_params=said)


def show_reading_link() -> None:
    """Show the link to where language, numbers and measures are chosen."""
    st.html(about.reading_link(st.context.url, st.query_params.to_dict()), width="content")
