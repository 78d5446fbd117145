"""What is left in English of a sheet that is told in German."""

import re
from unittest.mock import patch

from scoring.language import tell
from scoring.language.reading import Reading, reading_as
from scoring.printing.told_sheet import told_sheet
from scoring.sheets.sheet_blocks import Sheet

GERMAN = Reading("de", "space_comma")


def left_in_english(sheet: Sheet) -> list[str]:
    """Return the pieces of a sheet that nobody said in German; what people wrote is not told."""
    found: set[str] = set()
    beside_numbers = tell._Speaker._beside_numbers  # noqa: SLF001 - where a piece is given up

    def noted(speaker: tell._Speaker, text: str) -> str:
        said = beside_numbers(speaker, text)
        if said == text and re.search("[a-z]{3}", text):
            found.add(text.strip())
        return said

    tell._told.cache_clear()  # noqa: SLF001 - what was told before is not noted again
    with patch.object(tell._Speaker, "_beside_numbers", noted), reading_as(GERMAN):  # noqa: SLF001
        told_sheet(sheet)
    tell._told.cache_clear()  # noqa: SLF001
    return sorted(found)
