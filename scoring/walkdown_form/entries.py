"""In which headings and units of measure the value of a check may be written."""

from collections.abc import Callable
from dataclasses import dataclass
from math import ceil, floor, isfinite, log10

from scoring.contract import Check
from scoring.contract.quantities import INCH, METRIC, alternative_names

LEFT_OUT = ("in/s peak",)
"""Units that a form does not offer: their conversion takes something for granted."""


@dataclass(frozen=True)
class Entry:
    """A way to write a value.

    Attributes
    ----------
    heading : str
        The contract's column, or an alternative of it.
    unit : str
        For a person.
    measure : str
        ``metric`` or ``inch``; a check without inch entries is written in its one unit by all.
    factor, offset : float
        The contract's value is ``(given - offset) * factor``.
    """

    heading: str
    unit: str
    measure: str
    factor: float
    offset: float

    def given(self, value: float) -> float:
        """Return what would be written for a value of the contract.

        Examples
        --------
        >>> Entry("engagement_in", "in", "inch", 25.4, 0.0).given(50.8)
        2.0
        """
        return value / self.factor + self.offset


def entries_of(check: Check) -> tuple[Entry, ...]:
    """Return how a measured check may be written, the contract's unit first.

    Examples
    --------
    >>> from scoring.contract import CHECK_BY_NAME
    >>> [entry.heading for entry in entries_of(CHECK_BY_NAME["vibration_mm_s"])]
    ['vibration_mm_s', 'vibration_in_s_rms']
    """
    others = alternative_names(check.name).items()
    return (
        Entry(check.name, check.unit, METRIC, 1.0, 0.0),
        *(
            Entry(heading, conversion.unit, INCH, conversion.factor, conversion.offset)
            for heading, conversion in others
            if conversion.unit not in LEFT_OUT
        ),
    )


def entry_in(check: Check, measure: str) -> Entry:
    """Return the first entry of a measure; where there is none, the contract's."""
    entries = entries_of(check)
    return next((entry for entry in entries if entry.measure == measure), entries[0])


def range_words(low: float, high: float, entry: Entry) -> str:
    """Say a range as one would write its values; empty where both ends are open.

    Ends are rounded inward: what is written as the words say lies within.

    Examples
    --------
    >>> nan = float("nan")
    >>> in_mm, in_inch = Entry("e_mm", "mm", "metric", 1, 0), Entry("e_in", "in", "inch", 25.4, 0)
    >>> range_words(1, 2, in_mm), range_words(80, nan, in_mm), range_words(nan, 25.4, in_inch)
    ('1 to 2 mm', 'at least 80 mm', 'at most 1 in')
    >>> range_words(10, 20, in_inch)
    '0.3938 to 0.7874 in'
    """
    unit = entry.unit if entry.unit == "°" else f" {entry.unit}".rstrip()
    lowest = _rounded(entry.given(low), ceil) if isfinite(low) else ""
    highest = _rounded(entry.given(high), floor) if isfinite(high) else ""
    if lowest and highest:
        same = lowest == highest
        return f"exactly {lowest}{unit}" if same else f"{lowest} to {highest}{unit}"
    if lowest:
        return f"at least {lowest}{unit}"
    return f"at most {highest}{unit}" if highest else ""


def _rounded(value: float, inward: Callable[[float], int]) -> str:
    """Write a value of six figures and at most four decimals, rounded up or down."""
    decimals = min(4, max(0, 5 - floor(log10(abs(value))))) if value else 0
    step = 10.0**-decimals
    whole = inward(round(value / step, 6))  # 0.1 * 3 is no more than 0.3
    return f"{whole * step:.{decimals}f}".rstrip("0").rstrip(".") if decimals else str(whole)
