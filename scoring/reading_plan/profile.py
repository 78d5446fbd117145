"""What the cells of a column look like: dates, numbers, words of a list."""

from dataclasses import dataclass

import numpy as np

from scoring.contract import Column, Kind
from scoring.contract.declaration import YES_NO
from scoring.contract.units import UNITS
from scoring.reading_plan.dates_written import looks_like_date
from scoring.reading_plan.grid import Distinct
from scoring.reading_plan.numbers_written import looks_like_number
from scoring.reading_plan.what_a_plan_says import NOTHING
from scoring.reading_plan.words_meant import meaning_of, words_of

MOST_LOOKED_AT = 300
"""Distinct texts of a column that are looked at to tell what it is; planning value of ours."""

MOSTLY = 0.7
"""A column is of a kind if this share of its texts are; planning value of ours."""


@dataclass(frozen=True)
class Profile:
    """What the cells of a column look like.

    Attributes
    ----------
    texts : list of str
        Distinct texts that are not empty, at most ``MOST_LOOKED_AT``.
    filled, rows : int
        Filled cells, and rows.
    unique : bool
        Whether no text stands twice.
    dates, numbers, yes_no : float
        Share of the texts that may be dates, numbers, or say yes or no.
    """

    texts: list[str]
    filled: int
    rows: int
    unique: bool
    dates: float
    numbers: float
    yes_no: float

    @classmethod
    def of(cls, cells: Distinct) -> "Profile":
        """Look at the cells of a column."""
        texts = cells.filled
        counts = (
            np.bincount(cells.codes, minlength=len(cells.texts))
            if len(cells.codes)
            else np.zeros(0)
        )
        filled = int(sum(n for n, text in zip(counts, cells.texts, strict=True) if text))
        some = texts[:MOST_LOOKED_AT]
        said = [t for t in some if meaning_of(t, UNITS["backstop"]).word != NOTHING]
        count = max(len(said), 1)
        return cls(
            some,
            filled,
            len(cells.codes),
            filled == len(texts) and filled > 0,
            sum(looks_like_date(t) for t in said) / count,
            sum(looks_like_number(t) for t in said) / count,
            sum(meaning_of(t, UNITS["backstop"]).word in YES_NO for t in said) / count,
        )

    @property
    def serial_dates(self) -> float:
        """Share of the texts that may be dates kept as numbers."""
        count = max(len(self.texts), 1)
        return sum(looks_like_date(t, numbers=True) for t in self.texts) / count

    def fits(self, column: Column, heading: str) -> float:  # noqa: PLR0911 - by kind
        """Tell how well the cells fit a column: above 0 speaks for it, -100 rules it out.

        Examples
        --------
        >>> import pyarrow as pa
        >>> from scoring.contract import UNITS
        >>> seen = Profile.of(Distinct.of(pa.array(["3/7/2025", "25/12/2025"])))
        >>> seen.fits(UNITS["installed_on"], "date") > 0, seen.fits(UNITS["unit_mass_kg"], "date")
        (True, -100.0)
        """
        if not self.texts:
            return 0.0
        if column.kind is Kind.DATE:
            if max(self.dates, self.serial_dates) >= MOSTLY:
                return 5.0
            return -100.0 if max(self.dates, self.serial_dates) < 1 - MOSTLY else -5.0
        if column.is_numeric:
            return self._fits_number(column)
        if column.kind in (Kind.CHOICE, Kind.SEVERAL):
            return self._fits_words(column, heading)
        if self.dates >= MOSTLY:
            return -100.0
        if column.kind is Kind.TEXT and column.name != "screw_thread" and self.numbers >= 0.9:
            return -15.0
        if column.kind is Kind.TEXT and self.yes_no >= 0.9:
            return -20.0
        return 0.0

    def _fits_number(self, column: Column) -> float:
        if self.dates >= MOSTLY:
            return -100.0
        if self.numbers >= MOSTLY:
            return 3.0
        known = getattr(column, "options", {})
        return -100.0 if self.numbers < 0.4 and not known else -5.0

    def _fits_words(self, column: Column, heading: str) -> float:
        known, of_any = self.known(column, heading)
        if known >= MOSTLY:
            return 6.0
        if known + of_any >= MOSTLY:
            return 1.0
        if self.dates >= MOSTLY or (self.numbers >= MOSTLY and known < 0.4):
            return -100.0
        return -3.0 if known + of_any > 0 else -14.0

    def known(self, column: Column, heading: str = "") -> tuple[float, float]:
        """Return the shares of words that the lists know for a column, and that say yes or no."""
        words = words_of(self.texts, column)
        meant = [meaning_of(word, column, heading) for word in words]
        count = max(len(words), 1)
        return (
            sum(bool(m.word) for m in meant) / count,
            sum(bool(m.yes_or_no) for m in meant) / count,
        )
