"""What who looks at a page can put right is said on it; it is no fault of ours."""

from collections.abc import Iterator
from contextlib import contextmanager

import streamlit

from dashboard.presenters.words import plain
from scoring.access.who_asks import NotSignedInError
from scoring.errors import FixableError
from scoring.language.markup import told_markdown


@contextmanager
def said_in_words() -> Iterator[None]:
    """Say what can be put right, in place of what cannot be shown, and show no more of it.

    Who signed out, or whose browser is gone, is nobody any more, in the middle of a page as well.
    """
    try:
        yield
    except NotSignedInError:
        streamlit.error(told_markdown("You are signed out."))
        streamlit.link_button(told_markdown("Sign in"), "/sign-in")
        streamlit.stop()
    except FixableError as error:
        streamlit.error(told_markdown(plain(str(error))))
        streamlit.stop()
