"""Numbers, days and measures inside a text, written as a person reads them."""

import math
import re
from functools import cache

from babel.dates import get_month_names

from scoring.contract.quantities import CONVERSIONS, INCH, Conversion
from scoring.language.reading import ENGLISH, GERMAN, NUMBER_FORMATS

_MINUS = r"\-\u2212"
_NUMBER = rf"[{_MINUS}]?(?:\d{{1,3}}(?:[,\u202f]\d{{3}})+|\d+)(?:\.\d+)?(?:e[-+]?\d+)?"
_NUMBERS = re.compile(rf"(?<![\w.,{_MINUS}]){_NUMBER}(?!\w|[.,]\d)")

_MARKED = ("_mm", "_nm", "_n", "_kg", "_kw", "_c", "_mm_s")
_IN_INCH: dict[str, Conversion] = dict(
    zip(
        ("mm", "N·m", "N", "kg", "kW", "°C", "mm/s"),
        (CONVERSIONS[suffix][-1 if suffix == "_mm_s" else 0] for suffix in _MARKED),
        strict=True,
    )
) | {
    "kN": Conversion("", "lbf", CONVERSIONS["_n"][0].factor / 1000),
    "K": Conversion("", "°F", CONVERSIONS["_c"][0].factor),
}
"""A unit of the contract, and what stands for it in inches and pounds; a difference has no zero."""

_BETWEEN = "of|to|and|or|von|bis|und|oder|above|über"
_MEASURES = re.compile(
    rf"(?<![\w.,{_MINUS}])(?P<values>{_NUMBER}(?: (?:{_BETWEEN}) {_NUMBER})*)[ \u00a0]"
    rf"(?P<unit>{'|'.join(map(re.escape, sorted(_IN_INCH, key=len, reverse=True)))})(?![\w/·²³°])"
)
DIGITS = 3
"""Digits of a measure that was converted; ours."""


AFTER_DAY = {GERMAN: "."}
"""What follows the number of a day in each language."""


def numbers_told(text: str, numbers: str) -> str:
    """Write the numbers in a text with the marks of a format.

    Examples
    --------
    >>> numbers_told("1,234.5 of 20.25 mm on 2026-06-30", "point_comma")
    '1.234,5 of 20,25 mm on 2026-06-30'
    """
    marks = NUMBER_FORMATS[numbers]

    def written(found: re.Match[str]) -> str:
        whole, point, rest = re.sub("[,\u202f]", "\0", found[0]).partition(".")
        return whole.replace("\0", marks[0]) + (marks[1] if point else "") + rest

    return _NUMBERS.sub(written, text)


def measures_told(text: str, measures: str) -> str:
    """Write the measures in a text in the units that a person reads.

    Examples
    --------
    >>> measures_told("124 of 198 mm, 80 °C", "inch")
    '4.88 of 7.8 in, 176 °F'
    >>> measures_told("124 of 198 mm", "metric")
    '124 of 198 mm'
    """
    if measures != INCH:
        return text

    def written(found: re.Match[str]) -> str:
        to = _IN_INCH[found["unit"]]
        values = re.sub(_NUMBER, lambda number: _converted(number[0], to), found["values"])
        return f"{values} {to.unit}"

    return _MEASURES.sub(written, text)


def _converted(number: str, to: Conversion) -> str:
    value = float(re.sub("[,\u202f]", "", number).replace("\u2212", "-")) / to.factor + to.offset
    if value == 0:
        return "0"
    places = DIGITS - 1 - math.floor(math.log10(abs(value)))
    near = f"{round(value, places):.{max(places, 0)}f}"
    return near.rstrip("0").rstrip(".") if "." in near else near


def dates_told(text: str, language: str) -> str:
    """Write the days in a text, such as 30 June 2026, in a language.

    Examples
    --------
    >>> dates_told("on 30 June 2026; since March 2024", "de")
    'on 30. Juni 2026; since März 2024'
    """
    names = _months(language)
    if not any(month in text for month in names):
        return text
    days = re.compile(rf"(?:(\d{{1,2}}) )?\b({'|'.join(names)})\b(?: (\d{{4}}))?")

    def written(found: re.Match[str]) -> str:
        day, month, year = found.groups()
        if day is None and year is None:
            return found[0]
        return " ".join(
            part for part in (day and day + AFTER_DAY[language], names[month], year) if part
        )

    return days.sub(written, text)


@cache
def _months(language: str) -> dict[str, str]:
    """Return the months of a language by their names in English."""
    theirs = get_month_names("wide", locale=language)
    return {name: theirs[month] for month, name in get_month_names("wide", locale=ENGLISH).items()}
