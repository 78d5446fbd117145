"""HTML with links to other pages, which show the same day and horizon."""

from dashboard import day_in_address
from dashboard import spoken as st
from dashboard.presenters.links_between_pages import carrying


def show_html(html: str) -> None:
    """Show HTML; its links to pages carry day and horizon on."""
    st.html(carrying(html, day_in_address.in_the_address()))
