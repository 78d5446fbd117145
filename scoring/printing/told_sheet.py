"""A sheet in the language, numbers and measures of who reads it."""

from dataclasses import fields, is_dataclass, replace
from enum import Enum
from typing import TypeVar

from scoring.drawing.shapes import Picture
from scoring.drawing.told_picture import told_picture
from scoring.language.tell import told
from scoring.sheets.drawing_on_paper import Drawing, legible
from scoring.sheets.sheet_blocks import Written

Part = TypeVar("Part")


def told_sheet(part: Part) -> Part:
    """Return a sheet, or a part of one, with its words told; what a person wrote stays.

    Examples
    --------
    >>> from scoring.language.reading import Reading, reading_as
    >>> from scoring.sheets.sheet_blocks import Facts
    >>> with reading_as(Reading("de", "space_comma")):
    ...     told_sheet(Facts((("breather", Written("breather")),))).rows
    (('Entlüfter', 'breather'),)
    """
    return _told(part)  # type: ignore[return-value]  # each part is told as its own kind


def _told(part: object) -> object:
    match part:
        case str() if not isinstance(part, Written | Enum):
            return told(part)
        case Drawing():
            return legible(replace(part, picture=told_picture(part.picture, told)))
        case Picture():
            return told_picture(part, told)
        case tuple():
            return tuple(map(_told, part))
        case _ if is_dataclass(part) and not isinstance(part, type):
            return replace(part, **{f.name: _told(getattr(part, f.name)) for f in fields(part)})
    return part
