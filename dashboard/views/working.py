"""Say what is worked out, at one place of the page that stays."""

from dashboard import spoken as st


class Working:
    """A place where it is said; elements that came and went would shift all below."""

    def __init__(self) -> None:
        self._place = st.empty()

    def say(self, words: str) -> None:
        """Say it; a page that has been left ends here."""
        with self._place:
            st.caption(words)

    def done(self) -> None:
        """Say no more."""
        self._place.empty()
