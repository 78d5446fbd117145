"""How numbers and months are written in charts, for who looks at them."""

from functools import cache
from typing import Any

from babel.dates import get_day_names, get_month_names

from scoring.contract.amounts_in_words import NARROW_SPACE
from scoring.language.reading import NUMBER_FORMATS, Reading

_DAYS = (6, 0, 1, 2, 3, 4, 5)
"""Weeks of a chart begin on Sunday, those of babel on Monday."""


@cache
def chart_locale(reading: Reading) -> dict[str, Any]:
    """Return how a chart writes numbers and months, as a Vega locale.

    Parameters
    ----------
    reading : Reading
        How the person reads.

    Examples
    --------
    >>> german = chart_locale(Reading("de", "point_comma"))
    >>> german["number"]["thousands"], german["time"]["shortMonths"][2]
    ('.', 'M\u00e4rz')
    """
    thousands, decimal = NUMBER_FORMATS[reading.numbers]
    months = {
        width: list(get_month_names(width, locale=reading.language).values())
        for width in ("wide", "abbreviated")
    }
    days = {
        width: [get_day_names(width, locale=reading.language)[day] for day in _DAYS]
        for width in ("wide", "abbreviated")
    }
    return {
        "number": {
            "decimal": decimal,
            "thousands": thousands,
            "grouping": [3],
            "currency": ["", ""],
            "percent": f"{NARROW_SPACE}%",
        },
        "time": {
            "dateTime": "%Y-%m-%d %H:%M",
            "date": "%Y-%m-%d",
            "time": "%H:%M",
            "periods": ["AM", "PM"],
            "days": days["wide"],
            "shortDays": days["abbreviated"],
            "months": months["wide"],
            "shortMonths": months["abbreviated"],
        },
    }
