"""Names for new things: long enough that two never meet, short enough to be read out."""

import secrets

_LETTERS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Without those that look alike."""

_PREFIX = {"walkdowns": "W", "events": "E", "rework": "R", "accepted": "A", "releases": "S"}


def new_key(table: str) -> str:
    """Return a key for a new record.

    Examples
    --------
    >>> key = new_key("walkdowns")
    >>> key[:2], len(key)
    ('W-', 22)
    """
    return f"{_PREFIX[table]}-{''.join(secrets.choice(_LETTERS) for _ in range(20))}"


def new_draft_id() -> str:
    """Return a name for a draft that nobody can guess: who knows it may write in it."""
    return secrets.token_urlsafe(18)
