"""The cookie by which a device keeps the name of who holds it."""

from collections.abc import Mapping
from urllib.parse import unquote

from scoring.store.whole_text import LONGEST_NAME, not_whole

PERSON = "person"


def person_of(cookies: Mapping[str, str]) -> str:
    """Return the name that a device goes by; nothing where it is none.

    Examples
    --------
    >>> person_of({"person": "Ann%20Bell"}), person_of({}), person_of({"person": "a%00b"})
    ('Ann Bell', '', '')
    """
    name = unquote(cookies.get(PERSON, ""))
    return "" if not_whole(name, LONGEST_NAME) else name
