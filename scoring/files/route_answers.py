"""Answers and photos of a walkdown that the form kept, each checked for what it must be."""

import base64
import binascii
import re
from collections import Counter
from dataclasses import dataclass

from scoring.contract import CHECK_BY_NAME, WALKDOWNS
from scoring.contract.not_seen import NOT_SEEN_REASONS
from scoring.contract.quantities import alternative_names
from scoring.errors import FixableError
from scoring.files.json_entries import Entries, refuse

OF_THE_FORM = ("machine_state", "units_of_measure")
"""What the form asks for itself; the table of walkdowns has no place for it."""

FIELDS = frozenset(
    {*WALKDOWNS.column_by_name, *OF_THE_FORM} - {"walkdown_id", "unit_id", "recorded_at"}
)
"""What may be answered."""

LONGEST_TEXT = 4000
"""Longer texts are refused; ours. [characters]"""

LARGEST_PHOTO = 8_000_000
"""Larger photos are refused: the form makes them far smaller. Ours. [byte]"""

_NOT_TEXT = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff]")
"""What no keyboard types into a text."""

_JPEG = b"\xff\xd8\xff"


@dataclass(frozen=True)
class Answer:
    """One answer, as it was given.

    Attributes
    ----------
    field : str
        A check, or what else the form asks for.
    heading : str
        The column, or the alternative of it, that it was written in.
    value : str
        As typed or tapped; empty where it was not seen.
    reason : str
        Why it was not seen; empty where it was.
    """

    field: str
    heading: str
    value: str
    reason: str


@dataclass(frozen=True)
class Photo:
    """One photo: bytes that begin as a JPEG does; more is not known of them.

    Attributes
    ----------
    check : str
        The check it was taken of.
    image : bytes
        The file.
    """

    check: str
    image: bytes


def plain_text(entries: Entries, name: str) -> str:
    """Return a text that a keyboard can have typed, perhaps of several lines.

    Raises
    ------
    FixableError
        If it is none, or too long.
    """
    found = entries[name]
    if not isinstance(found, str) or len(found) > LONGEST_TEXT or _NOT_TEXT.search(found):
        refuse(entries.at(name), found, f"a text of at most {LONGEST_TEXT} characters")
    return found


def read_answers(where: str, found: object) -> tuple[Answer, ...]:
    """Read the answers of a walkdown.

    Parameters
    ----------
    where : str
        Where they stand, as a person finds it.
    found : object
        What stands there.

    Returns
    -------
    tuple of Answer
        Each field at most once.

    Raises
    ------
    FixableError
        If there is anything else.

    Examples
    --------
    >>> one = {"field": "guard", "heading": "guard", "value": "fitted", "reason": ""}
    >>> read_answers("route.json", [one])
    (Answer(field='guard', heading='guard', value='fitted', reason=''),)
    """
    answers = tuple(_answer(f"{where}, {n}", one) for n, one in enumerate(_list(where, found), 1))
    twice = [field for field, n in Counter(one.field for one in answers).items() if n > 1]
    if twice:
        raise FixableError(f"{where}: {twice[0]} is answered twice")
    return answers


def _answer(where: str, found: object) -> Answer:
    entries = Entries(where, found, ("field", "heading", "value", "reason"))
    one = Answer(
        field=plain_text(entries, "field"),
        heading=plain_text(entries, "heading"),
        value=plain_text(entries, "value"),
        reason=plain_text(entries, "reason"),
    )
    if one.field not in FIELDS:
        refuse(entries.at("field"), one.field, f"one of {', '.join(sorted(FIELDS))}")
    headings = (one.field, *alternative_names(one.field))
    if one.heading not in headings:
        refuse(entries.at("heading"), one.heading, f"one of {', '.join(headings)}")
    reasons = ("", *NOT_SEEN_REASONS) if one.field in CHECK_BY_NAME else ("",)
    if one.reason not in reasons:
        refuse(entries.at("reason"), one.reason, f"one of {', '.join(map(repr, reasons))}")
    if one.value and one.reason:
        refuse(where, found, "a value, or a reason why it was not seen, not both")
    return one


def read_photos(where: str, found: object) -> tuple[Photo, ...]:
    """Read the photos of a walkdown.

    Parameters
    ----------
    where : str
        Where they stand, as a person finds it.
    found : object
        What stands there.

    Returns
    -------
    tuple of Photo

    Raises
    ------
    FixableError
        If there is anything else.
    """
    return tuple(_photo(f"{where}, {n}", one) for n, one in enumerate(_list(where, found), 1))


def _photo(where: str, found: object) -> Photo:
    entries = Entries(where, found, ("check", "image"))
    check, image = entries["check"], entries["image"]
    if not isinstance(check, str) or check not in CHECK_BY_NAME:
        refuse(entries.at("check"), check, "a check of the contract")
    if not isinstance(image, str) or len(image) > LARGEST_PHOTO * 4 // 3 + 4:
        refuse(entries.at("image"), image, f"a photo of at most {LARGEST_PHOTO / 1e6:g} MB")
    try:
        data = base64.b64decode(image, validate=True)
    except (binascii.Error, ValueError):
        refuse(entries.at("image"), image, "a photo in base64")
    if not data.startswith(_JPEG):
        refuse(entries.at("image"), image, "a JPEG in base64")
    return Photo(check, data)


def _list(where: str, found: object) -> list[object]:
    if not isinstance(found, list):
        refuse(where, found, "a list")
    return found
