"""Names for new things: long enough that two never meet, short enough to be read out."""

import secrets
from datetime import datetime

_LETTERS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Without those that look alike."""

_PREFIX = {
    "walkdowns": "W",
    "events": "E",
    "rework": "R",
    "accepted": "A",
    "releases": "S",
    "kept_plans": "P",
    "kept_views": "V",
}


def new_key(table: str) -> str:
    """Return a key for a new record: the plant's own time to the millisecond, then letters.

    Of two records of one day without a time the later key counts as the later record.

    Examples
    --------
    >>> key = new_key("walkdowns")
    >>> key[:4], len(key)
    ('W-20', 30)
    """
    begun = datetime.now().astimezone().strftime("%Y%m%d%H%M%S%f")[:17]
    return f"{_PREFIX[table]}-{begun}-{''.join(secrets.choice(_LETTERS) for _ in range(10))}"


def new_draft_id() -> str:
    """Return a name for a draft that nobody can guess: who knows it may write in it."""
    return secrets.token_urlsafe(18)
