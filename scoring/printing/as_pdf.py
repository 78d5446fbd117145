"""A sheet as PDF: tagged, with its letters in it, the same bytes for the same sheet."""

import json
from dataclasses import asdict
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Literal

import typst

from scoring.language.reading import current_reading
from scoring.printing.paper import Paper
from scoring.printing.plain_data import plain_data
from scoring.printing.told_sheet import told_sheet
from scoring.sheets.sheet_blocks import Sheet
from scoring.sheets.words_of_engines import WordsOfEngines

HERE = Path(__file__).parent
TEMPLATE = "sheet.typ"
STANDARD: Literal["ua-1"] = "ua-1"
"""ISO 14289-1: tagged, so that a screen reader can read it, and every letter can be shown."""

NOT_IN_OUR_LETTERS = "could not be displayed"
"""What the engine says of a letter that none of its fonts has."""


def as_pdf(sheet: Sheet, paper: Paper = Paper.A4, made_at: datetime | None = None) -> bytes:
    """Set a sheet as PDF.

    Parameters
    ----------
    sheet : Sheet
        In English; it is told as who reads it reads.
    paper : Paper
        Its size.
    made_at : datetime, optional
        The time that the file bears, by default the beginning of 1980: the same sheet gives the
        same bytes. When it was asked for stands on the sheet itself.

    Returns
    -------
    bytes
        Nothing in it is loaded from outside. Letters that the fonts of the program lack are
        taken from this computer; such a file is tagged, but does not claim the standard.
    """
    plain = plain_data(told_sheet(sheet))
    data = {
        "sheet": plain.data,
        "paper": str(paper),
        "language": current_reading().language,
        "said": asdict(told_sheet(WordsOfEngines())),
    }
    with TemporaryDirectory(prefix="sheet-") as folder:
        root = Path(folder)
        for name, file in plain.files.items():
            (root / name).write_bytes(file)
        (root / "sheet.json").write_text(json.dumps(data, ensure_ascii=False), encoding="utf-8")
        (root / TEMPLATE).write_bytes((HERE / TEMPLATE).read_bytes())
        stamp = made_at or datetime(1980, 1, 1, tzinfo=UTC)
        stamp_s = int(stamp.timestamp())
        try:
            return _set(root, stamp_s, only_ours=True)
        except typst.TypstError as refused:
            if NOT_IN_OUR_LETTERS not in str(refused):
                raise
            return _set(root, stamp_s, only_ours=False)


def _set(root: Path, stamp_s: int, *, only_ours: bool) -> bytes:
    """Set the template; with letters of this computer where ours are not all."""
    made: bytes = typst.compile(
        root / TEMPLATE,
        root=root,
        font_paths=_letters(with_those_of_the_computer=not only_ours),
        timestamp=stamp_s,
        pdf_standards=STANDARD if only_ours else None,
    )
    return made


@cache
def _letters(*, with_those_of_the_computer: bool) -> typst.Fonts:
    """Return the letters that come with the program, and those of this computer if need be."""
    return typst.Fonts(include_system_fonts=with_those_of_the_computer, font_paths=[HERE / "fonts"])
