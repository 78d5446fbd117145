"""A part of a page that is folded away, and made when it is opened."""

from collections.abc import Callable

from dashboard import spoken as st


def show_when_opened(words: str, show: Callable[[], None], key: str | None = None) -> None:
    """Fold a part away under some words; it is made while it is open, so that the page is quick.

    To be used in a fragment of the page, which alone runs again when a person opens it.

    Parameters
    ----------
    words : str
        Under which it is folded.
    show : callable
        Makes it.
    key : str, optional
        Tells it from others of the same words.
    """
    part = st.expander(words, key=key or words, on_change="rerun")
    if part.open:
        with part:
            show()
