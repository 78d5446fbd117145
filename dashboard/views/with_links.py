"""HTML with links to other pages, which show the same day and horizon."""

from collections.abc import Collection, Mapping

import pandas as pd

from dashboard import day_in_address
from dashboard import spoken as st
from dashboard.presenters.frame_as_table import frame_as_table
from dashboard.presenters.links_between_pages import carrying
from scoring.contract.amounts_in_words import thousands

FIRST = 3
"""So many rows of a list stand on the page; the others are behind one line."""


def show_html(html: str) -> None:
    """Show HTML; its links to pages carry day and horizon on."""
    st.html(carrying(html, day_in_address.in_the_address()))


def show_table(
    frame: pd.DataFrame, shares: Collection[str] = (), links: Mapping[str, str] | None = None
) -> None:
    """Show a table of a few columns, which a finger, a printer and a screen reader can use.

    Parameters
    ----------
    frame, shares, links
        As ``frame_as_table`` takes them.
    """
    show_html(frame_as_table(frame, shares, links))


def show_first_of_table(
    frame: pd.DataFrame,
    shares: Collection[str] = (),
    links: Mapping[str, str] | None = None,
    first: int = FIRST,
) -> None:
    """Show the first rows of a table, and the others where a person asks for them.

    Parameters
    ----------
    frame, shares, links
        As ``frame_as_table`` takes them; what matters most stands first.
    first : int
        How many rows are shown at once.
    """
    show_table(frame.head(first), shares, links)
    more = len(frame) - first
    if more > 0:
        with st.expander(f"{thousands(more)} more rows"):
            show_table(frame.iloc[first:], shares, links)
