"""Which English words a sheet still has when it is read in German."""

import re
from collections import defaultdict
from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from scoring.language import tell
from scoring.language.reading import Reading, reading_as
from scoring.printing.told_sheet import told_sheet
from scoring.sheets.sheet_blocks import Sheet

DAY = re.compile(
    r"(\d+ )?(January|February|March|April|May|June|July|August|September|October"
    r"|November|December) \d{4}"
)
"""Days are told after all else."""

NO_WORDS = re.compile("(records )?[0-9a-f]{12}|mount-risk .*")


@contextmanager
def noting(monkeypatch: pytest.MonkeyPatch) -> Iterator[dict[str, int]]:
    """Gather the pieces that are found nowhere in the catalogue."""
    found: dict[str, int] = defaultdict(int)
    beside_numbers = tell._Speaker._beside_numbers  # noqa: SLF001 - where a piece is given up

    def noted(speaker, text):
        said = beside_numbers(speaker, text)
        if said == text and re.search("[a-z]{3}", DAY.sub("", text)):
            found[text.strip()] += 1
        return said

    with monkeypatch.context() as patched:
        patched.setattr(tell._Speaker, "_beside_numbers", noted)  # noqa: SLF001
        tell._told.cache_clear()  # noqa: SLF001 - what was told before is not noted again
        yield found
        tell._told.cache_clear()  # noqa: SLF001


def english_left(sheet: Sheet, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Return what is left in English of a sheet that is read in German."""
    with noting(monkeypatch) as found, reading_as(Reading("de", "space_comma")):
        told_sheet(sheet)
    return sorted(text for text in found if not NO_WORDS.fullmatch(text))
