"""Say in words why a text cannot be read as a column's value."""

import re

from scoring.contract import Column, Kind
from scoring.intake.cells import NO_TEXT, SPREADSHEET_ERROR
from scoring.intake.look_alike_texts import looks_like, named, unseen_in

_NOT_KNOWN = {"na", "n/a", "n.a.", "none", "null", "nan", "nil", "-", "--", "?"}
_DAY = r"[0-9]{4}-[0-9]{2}-[0-9]{2}"
_WITH_ZONE = re.compile(_DAY + r"[T ][0-9:.]+ *(Z|[+-][0-9]{2}:?[0-9]{2})$")
_SHAPED_AS_DATE = re.compile(_DAY + r"([T ][0-9]{2}:[0-9]{2}(:[0-9]{2}(\.[0-9]{1,9})?)?)?$")
_FRACTION = re.compile(r"[0-9]+( +|-)?([0-9]+/[0-9]+)?$")
_DECIMAL = r"[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?"
_BESIDE = re.compile(_DECIMAL + r"\s*[^0-9.,+\-/].*$", re.DOTALL)
_SPACED = re.compile(r"[+-]?[0-9]{1,3}([ '\u2019\u00a0\u202f][0-9]{3})+(\.[0-9]*)?$")


def what_is_wrong(text: str, column: Column) -> str:
    """Say in words why a text cannot be read as a column's value.

    Parameters
    ----------
    text : str
        A text that is not allowed, without surrounding spaces.
    column : Column
        The column it stands in.

    Returns
    -------
    str
        What is wrong, to follow the text itself.

    Examples
    --------
    >>> from scoring.contract import UNITS
    >>> what_is_wrong("1,5", UNITS["unit_mass_kg"])
    'has a comma; write a decimal point, and no mark between thousands'
    """
    if re.search(NO_TEXT, text):
        return "holds a character that is none of a text (NUL)"
    if re.match(SPREADSHEET_ERROR, text):
        return "is an error value of a spreadsheet"
    if column.kind is Kind.IDENTIFIER:
        return _why_no_identifier(text)
    if text.lower() in _NOT_KNOWN:
        return (
            "is text, and this column must be filled"
            if column.required
            else "is text; leave the cell empty for not known or not seen"
        )
    if column.is_numeric:
        return _why_no_number(text)
    return _why_no_date(text) if column.kind is Kind.DATE else "is not on the list"


def _why_no_identifier(text: str) -> str:
    if unseen := unseen_in(text):
        return (
            f"holds a character that nobody sees, {named(unseen)}, and so is another id than "
            f"{looks_like(text)!r}; type it anew"
        )
    return f"is too long: it has {len(text)} characters"


def _why_no_number(text: str) -> str:
    if "," in text:
        return "has a comma; write a decimal point, and no mark between thousands"
    if re.fullmatch(_DECIMAL, text):
        return "is too large for a number"
    if _SPACED.match(text):
        return "has a mark between thousands; write the digits without it"
    if "/" in text and _FRACTION.match(text):
        return "is a fraction; fractions are read only under a heading that ends in _in"
    if _BESIDE.match(text):
        return "has something beside the number; write the number alone, the heading has its unit"
    return "is not a number"


def _why_no_date(text: str) -> str:
    if _WITH_ZONE.match(text):
        return "has a time zone; write the plant's local time"
    if not _SHAPED_AS_DATE.match(text):
        return "is not a date"
    if not 1900 <= int(text[:4]) < 2200:
        return "is a date before 1900 or after 2199"
    return "is not a day of the calendar or not a time of day"
