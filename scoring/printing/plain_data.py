"""A sheet as plain data and files, which a template of any engine can read."""

import re
from dataclasses import dataclass, field, fields, is_dataclass
from hashlib import sha256
from io import BytesIO

import segno

from scoring.drawing.shapes import Picture
from scoring.drawing.svg import to_svg
from scoring.sheets.formula_markup import as_words
from scoring.sheets.formula_tree import Formula
from scoring.sheets.sheet_blocks import Code, Photo, Sheet, Worked

Plain = dict[str, "Plain"] | list["Plain"] | str | float | int | bool | None

NO_LETTER = re.compile("[^\t\n\x20-\x7e\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""What cannot be shown: controls, and what no text may hold."""

PAPER = "paper"
"""The theme of pictures: black and white."""


@dataclass(frozen=True)
class PlainSheet:
    """A sheet as plain data.

    Attributes
    ----------
    data : dict
        Dataclasses as dictionaries with their name under ``block``; pictures as names of files.
    files : dict of str to bytes
        Pictures, each once.
    """

    data: Plain
    files: dict[str, bytes]


def plain_data(sheet: Sheet) -> PlainSheet:
    """Return a sheet as plain data and the files that it names.

    Examples
    --------
    >>> from scoring.sheets.sheet_blocks import Prose, Section
    >>> plain = plain_data(Sheet("a sheet", (Section("one", (Prose("words"),)),)))
    >>> plain.data["sections"][0]["blocks"]
    [{'block': 'Prose', 'words': 'words', 'weight': 'plain'}]
    """
    kept = _Kept()
    return PlainSheet(kept.plain(sheet), kept.files)


@dataclass
class _Kept:
    files: dict[str, bytes] = field(default_factory=dict)

    def plain(self, part: object) -> Plain:
        if part is None or isinstance(part, bool | int | float):
            return part
        if isinstance(part, str):
            return NO_LETTER.sub("\N{REPLACEMENT CHARACTER}", part)
        if isinstance(part, tuple | frozenset):
            return [self.plain(one) for one in part]
        kept = self.as_file(part)
        if kept is not None:
            return kept
        if not is_dataclass(part) or isinstance(part, type):
            raise TypeError(f"{type(part).__name__} cannot stand on a sheet")
        named = {one.name: self.plain(getattr(part, one.name)) for one in fields(part)}
        if isinstance(part, Worked):
            said = {"formula": part.formula, "put_in": part.put_in}
            named |= {f"{name}_said": self.plain(_in_words(tree)) for name, tree in said.items()}
        return {"block": type(part).__name__, **named}

    def as_file(self, part: object) -> Plain:
        """Keep what is drawn as a file, and return its name with the rest; None of all else."""
        match part:
            case Picture():
                file = self.keep(to_svg(part, PAPER).encode(), "svg")
                words, title = self.plain(part.description), self.plain(part.title)
                return {"file": file, "words": words, "title": title}
            case Photo(jpeg, words, width_mm):
                file = self.keep(jpeg, "jpg")
                return {
                    "block": "Photo",
                    "file": file,
                    "words": self.plain(words),
                    "width_mm": width_mm,
                }
            case Code(content, words, side_mm):
                file = self.keep(_drawn_code(content), "svg")
                return {
                    "block": "Code",
                    "file": file,
                    "content": self.plain(content),
                    "words": self.plain(words),
                    "side_mm": side_mm,
                }
        return None

    def keep(self, file: bytes, suffix: str) -> str:
        name = f"{sha256(file).hexdigest()[:16]}.{suffix}"
        self.files[name] = file
        return name


def _in_words(tree: Formula | str | None) -> str:
    """Say a formula for who cannot see it, and on a line too narrow for it."""
    return "" if tree is None else tree if isinstance(tree, str) else as_words(tree)


def _drawn_code(content: str) -> bytes:
    """Draw a code that a quarter of its squares may be missing from, if it is short enough."""
    drawn = BytesIO()
    code = segno.make(content, error="q", micro=False, boost_error=False)
    code.save(drawn, kind="svg", border=4, omitsize=True, xmldecl=False, nl=False)
    return drawn.getvalue()
