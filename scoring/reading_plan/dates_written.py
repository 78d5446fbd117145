"""Dates as people write them, and the order of day, month and year."""

import datetime as dt
import re
from collections.abc import Iterable
from functools import cache

from scoring.contract.words_of_languages import LANGUAGES, language_words
from scoring.reading_plan.tidy_text import tidy

DAY_FIRST, MONTH_FIRST = "day month year", "month day year"

_TIME = r"(?:[ T,]+(?P<time>\d{1,2}:\d{2}(?::\d{2}(?:\.\d+)?)?)\s*(?P<half>[aApP]\.?[mM]\.?)?)?"
_ISO = re.compile(r"(?P<y>\d{4})-(?P<m>\d{1,2})-(?P<d>\d{1,2})" + _TIME)
_YEAR_FIRST = re.compile(r"(?P<y>\d{4})[./](?P<m>\d{1,2})[./](?P<d>\d{1,2})\.?" + _TIME)
_THREE = re.compile(
    r"(?P<a>\d{1,2})(?P<mark>[./-]) ?(?P<b>\d{1,2})[./-] ?(?P<y>\d{4}|\d{2})" + _TIME
)
_NAMED = re.compile(
    r"(?:[^\W\d]+,? +)??(?:(?P<d>\d{1,2})(?:st|nd|rd|th|er|\.|º|°)?[ .-]*(?:de +)?"
    r"(?P<name>[^\W\d_]{3,})\.?"
    r"|(?P<name2>[^\W\d_]{3,})\.? +(?P<d2>\d{1,2})(?:st|nd|rd|th)?,?)"
    r"[ .,/-]*(?:de +)?(?P<y>\d{4}|\d{2})" + _TIME
)
_TOGETHER = re.compile(r"(?P<y>(?:19|20|21)\d{2})(?P<m>\d{2})(?P<d>\d{2})")
_SERIAL = re.compile(r"(?P<days>[2-7]\d{4})(?P<part>\.\d+)?")
_ZERO_DAY = dt.datetime(1899, 12, 30)  # noqa: DTZ001 - plant-local, as every date of ours


@cache
def _months() -> dict[str, int]:
    return {
        tidy(name): number
        for language in LANGUAGES
        for names in language_words(language).months
        for number, name in enumerate(names, 1)
    }


def as_iso(text: str, order: str) -> str | None:  # noqa: PLR0911 - one for each way to write
    """Write a date as ISO 8601; None where it is none, or its order is not known.

    Parameters
    ----------
    text : str
        As found.
    order : str
        ``day month year`` or ``month day year``; empty: not known, so only what is clear is read.

    Examples
    --------
    >>> as_iso("3/7/2025", "day month year"), as_iso("3/7/2025", "month day year")
    ('2025-07-03', '2025-03-07')
    >>> as_iso("3/7/2025", ""), as_iso("7. März 2025", ""), as_iso("45723", "")
    (None, '2025-03-07', '2025-03-07')
    >>> as_iso("07.03.25 14:30", "day month year"), as_iso("2025-03-07 00:00:00", "")
    ('2025-03-07T14:30', '2025-03-07')
    """
    found = _ISO.fullmatch(text) or _YEAR_FIRST.fullmatch(text)
    if found:
        return _written(found["y"], found["m"], found["d"], found)
    found = _THREE.fullmatch(text)
    if found:
        if order not in (DAY_FIRST, MONTH_FIRST):
            return None
        day, month = (found["a"], found["b"]) if order == DAY_FIRST else (found["b"], found["a"])
        return _written(found["y"], month, day, found)
    found = _NAMED.fullmatch(text)
    if found:
        month_number = _months().get(tidy(found["name"] or found["name2"]))
        if month_number:
            return _written(found["y"], str(month_number), found["d"] or found["d2"], found)
        return None
    found = _TOGETHER.fullmatch(text)
    if found:
        return _written(found["y"], found["m"], found["d"], None)
    found = _SERIAL.fullmatch(text)
    if found:
        seconds = round(float(found["part"] or 0) * 86400)
        at = _ZERO_DAY + dt.timedelta(days=int(found["days"]), seconds=seconds)
        return at.isoformat(timespec="minutes") if seconds else at.date().isoformat()
    return None


def _written(year: str, month: str, day: str, found: "re.Match[str] | None") -> str | None:
    full = int(year) + (2000 if int(year) < 70 else 1900) if len(year) == 2 else int(year)
    try:
        date = dt.date(full, int(month), int(day)).isoformat()
    except ValueError:
        return None
    time = found["time"] if found else None
    if not time:
        return date
    hour, _, rest = time.partition(":")
    if found and found["half"]:
        hour = str(int(hour) % 12 + (12 if found["half"].lower().startswith("p") else 0))
    rest = rest.removesuffix(":00") if rest.count(":") else rest
    told = f"{int(hour):02d}:{rest}"
    return date if told == "00:00" else f"{date}T{told}"


def looks_like_date(text: str, *, numbers: bool = False) -> bool:
    """Tell whether a text may be a date, in whatever order.

    Examples
    --------
    >>> [looks_like_date(t) for t in ("3/7/2025", "31.02.25", "45723", "12")]
    [True, True, False, False]
    >>> looks_like_date("45723", numbers=True)
    True
    """
    if _THREE.fullmatch(text) or _ISO.fullmatch(text):
        return True
    if not numbers and (_SERIAL.fullmatch(text) or _TOGETHER.fullmatch(text)):
        return False
    return as_iso(text, "") is not None


def order_of(texts: Iterable[str]) -> tuple[str, str]:  # noqa: C901 - four kinds of evidence
    """Tell in which order dates are written.

    Returns
    -------
    order : str
        ``day month year`` or ``month day year``; ``?`` where it cannot be told, ``mixed`` where
        they contradict each other, empty where no date needs one.
    because : str
        An example.

    Examples
    --------
    >>> order_of(["3/7/2025", "25/7/2025"]), order_of(["3/7/2025"]), order_of(["2025-07-03"])
    (('day month year', 'dates as 25/7/2025'), ('?', 'dates as 3/7/2025'), ('', ''))
    """
    day_first = month_first = open_one = dotted = ""
    for text in texts:
        found = _THREE.fullmatch(text)
        if not found:
            continue
        first, second = int(found["a"]), int(found["b"])
        if first > 12 >= second:
            day_first = day_first or text
        elif second > 12 >= first:
            month_first = month_first or text
        elif first == second:
            continue
        elif found["mark"] == ".":
            dotted = dotted or text
        else:
            open_one = open_one or text
    if day_first and month_first:
        return "mixed", f"{day_first} and {month_first}"
    if day_first:
        return DAY_FIRST, f"dates as {day_first}"
    if month_first:
        return MONTH_FIRST, f"dates as {month_first}"
    if open_one:
        return "?", f"dates as {open_one}"
    if dotted:
        return DAY_FIRST, f"dates with points, as {dotted}, put the day first"
    return "", ""
