"""A day as a caller writes it."""

import datetime as dt

import pandas as pd

from scoring.errors import FixableError

Day = str | dt.date | pd.Timestamp
"""As 2026-06-30, or a date."""


def day_of(given: Day | None, name: str) -> pd.Timestamp:
    """Return a day; today where none is given.

    Raises
    ------
    FixableError
        If it is no day.

    Examples
    --------
    >>> day_of("2026-06-30", "as_of")
    Timestamp('2026-06-30 00:00:00')
    """
    if given is None:
        return pd.Timestamp.today().normalize()
    try:
        day: pd.Timestamp | None = pd.Timestamp(
            dt.date.fromisoformat(given) if isinstance(given, str) else given
        )
    except (TypeError, ValueError):
        day = None
    if day is None or pd.isna(day) or not 1900 <= day.year < 2200:
        raise FixableError(
            f"{name} is {given!r}; right is a day as 2026-03-31 or a date, from 1900 to 2199"
        )
    return day.tz_localize(None).normalize()
