"""How the day the pages speak of, and how far they look ahead, are said."""

import datetime as dt

from dashboard.presenters.words import day_said
from scoring.contract.amounts_in_words import span_said


def ahead_said(days: int) -> str:
    """Say how far the pages look ahead.

    Examples
    --------
    >>> ahead_said(365), ahead_said(180)
    ('one year ahead', '180 days ahead')
    """
    return f"{span_said(days).replace('a year', 'one year')} ahead"


def earlier_day_said(shown: dt.date, last: dt.date) -> str:
    """Say that a page speaks of an earlier day.

    Examples
    --------
    >>> earlier_day_said(dt.date(2026, 3, 31), dt.date(2026, 6, 30))
    'An earlier day: all below is as it was known on 31 March 2026. What was recorded from then to 30 June 2026 is left out.'
    """  # noqa: E501 - one line is shown
    return (
        f"An earlier day: all below is as it was known on {day_said(shown)}. What was recorded "
        f"from then to {day_said(last)} is left out."
    )
