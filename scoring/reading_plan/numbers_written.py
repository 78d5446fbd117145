"""Numbers as people write them: decimal comma or point, marks between thousands, a unit beside."""

import re
from collections.abc import Iterable

from scoring.reading_plan.units_of_measure import reckoning, unit_called

COMMA, POINT = ",", "."
_WITH_COMMA = re.compile(r"[+-]?[\d.\s']*\d,\d+")
_BOTH_COMMA = re.compile(r"[+-]?\d{1,3}(\.\d{3})+,\d+")
_BOTH_POINT = re.compile(r"[+-]?\d{1,3}(,\d{3})+\.\d+")
_THREE = re.compile(r"[+-]?[1-9]\d{0,2},\d{3}")
_PLAIN = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d{1,3})?")
_FRACTION = re.compile(r"(\d+(?: +|-))?\d+/[1-9]\d*")
_BESIDE = re.compile(r"([+-]?[\d.,']+(?: ?\d+/\d+)?|\d+/\d+)\s*([^\d\s.,'+-][^\d]*)")
_SPACES = ("\u00a0", "\u202f", "\u2009", " ", "'", "’")


def decimal_of(texts: Iterable[str]) -> tuple[str, str, str]:  # noqa: C901 - kinds of evidence
    """Tell which decimal mark and which mark between thousands some texts are written with.

    Returns
    -------
    decimal, thousands : str
        ``?`` as decimal where it cannot be told; both empty where no number has a mark.
    because : str
        An example.

    Examples
    --------
    >>> decimal_of(["12,5", "7"])[:2], decimal_of(["1.234,5"])[:2], decimal_of(["1,250"])[:2]
    ((',', ''), (',', '.'), ('?', ''))
    >>> decimal_of(["1.5", "1,250.5"])[:2], decimal_of(["12"])[:2]
    (('.', ','), ('', ''))
    """
    open_one = ""
    point = ""
    for text in texts:
        if _BOTH_POINT.fullmatch(text):
            return POINT, COMMA, f"numbers as {text}"
        if _BOTH_COMMA.fullmatch(text):
            return COMMA, POINT, f"numbers as {text}"
    comma = ""
    for text in texts:
        if _WITH_COMMA.fullmatch(text):
            if _THREE.fullmatch(text):
                open_one = open_one or text
            else:
                comma = comma or text
        elif "." in text and _PLAIN.fullmatch(text):
            point = point or text
    if comma:
        return COMMA, "", f"numbers as {comma}"
    if open_one:
        if point:
            return POINT, COMMA, f"numbers as {point} and {open_one}"
        return "?", "", f"numbers as {open_one}"
    return (POINT, "", f"numbers as {point}") if point else ("", "", "")


def plain_number(text: str, decimal: str, thousands: str) -> str | None:
    """Write a number with a decimal point and no mark between thousands; None if it is none.

    Examples
    --------
    >>> plain_number("1.234,5", ",", "."), plain_number("12,5", ",", "")
    ('1234.5', '12.5')
    >>> plain_number("1 200", "", "")
    '1200'
    >>> plain_number("1,5", "", ""), plain_number("2 15/16", "", ""), plain_number("1.234", ",", "")
    (None, '2 15/16', None)
    """
    if _FRACTION.fullmatch(text):
        return text
    bare = text
    if any(mark in text for mark in _SPACES):
        bare = re.sub(r"(?<=\d)[\s'’](?=\d{3}(?!\d))", "", text)
    if thousands:
        bare = re.sub(rf"(?<=\d){re.escape(thousands)}(?=\d{{3}}(?!\d))", "", bare)
    if decimal == COMMA:
        if POINT in bare:
            return None
        bare = bare.replace(COMMA, POINT)
    return bare if _PLAIN.fullmatch(bare) else None


def number_in_cell(text: str, column: str, decimal: str, thousands: str) -> tuple[str, str]:
    """Return the number of a cell, and the unit that is written beside it, if it is one of ours.

    Examples
    --------
    >>> number_in_cell('3"', "shaft_diameter_mm", "", "")
    ('3', 'in')
    >>> number_in_cell("75 mm", "arm_misset_mm", "", "")
    ('75', 'mm')
    """
    found = _BESIDE.fullmatch(text)
    if not found:
        return text, ""
    unit = unit_called(found[2])
    number = plain_number(found[1].strip(), decimal, thousands)
    if unit and number is not None and reckoning(column, unit) is not None:
        return found[1].strip(), unit
    return text, ""


def looks_like_number(text: str) -> bool:
    """Tell whether a text may be a number, however it is written.

    Examples
    --------
    >>> [looks_like_number(t) for t in ("12,5", "1 200", '3 1/2"', "75 mm", "M10", "2025-01-01")]
    [True, True, True, True, False, False]
    """
    if re.fullmatch(r"[+-]?[\d.,'’\s]*\d", text) or _FRACTION.fullmatch(text):
        return bool(re.search(r"\d", text))
    if _PLAIN.fullmatch(text):
        return True
    found = _BESIDE.fullmatch(text)
    return bool(found and unit_called(found[2]))
