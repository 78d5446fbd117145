"""Files that were made when somebody asked for them, and for whom: known by what is in them.

The framework keeps such a file under no session, so that its address would serve anybody.
"""

import threading
from hashlib import sha256

from dashboard.last_few import LastFew

KEPT = 2000
"""So many files are known; who wants an older one clicks again. Ours."""

_LOCK = threading.Lock()
_MADE_FOR: LastFew[set[str]] = LastFew(KEPT)


def note_file(subject: str, made: object) -> None:
    """Note that a file was made for somebody."""
    content = made.encode() if isinstance(made, str) else made
    if isinstance(content, bytes):
        with _LOCK:
            _MADE_FOR.get(_key(content), set).add(subject)


def is_made_for(subject: str, content: bytes) -> bool:
    """Tell whether a file was made for somebody.

    Examples
    --------
    >>> note_file("1001", "a;b")
    >>> is_made_for("1001", b"a;b"), is_made_for("1002", b"a;b"), is_made_for("1001", b"a;c")
    (True, False, False)
    """
    with _LOCK:
        return subject in _MADE_FOR.get(_key(content), set)


def _key(content: bytes) -> str:
    return sha256(content).hexdigest()
