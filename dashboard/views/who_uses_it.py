"""Who uses the pages, at the foot of each."""

from dashboard import launch_settings
from dashboard import spoken as st
from dashboard.cut_fleet import WITHOUT_MONEY
from dashboard.presenters.who_is_here import what_they_are, who_is_here
from dashboard.presenters.words import plain
from scoring.access.acts import Act
from scoring.access.who_asks import Asker


def show_who(asker: Asker) -> None:
    """Say who is signed in, or that nobody knows who signs."""
    st.caption(plain(who_is_here(asker, over_a_network=launch_settings.answers_to_a_network())))
    if asker.is_signed_in:
        st.caption(plain(what_they_are(asker)))
        if not asker.may(Act.SEE_MONEY):
            st.caption(WITHOUT_MONEY)
        st.link_button("Sign out", "/sign-out", type="tertiary")
