"""Where a number comes from, kept beside the number."""

from dataclasses import dataclass
from enum import StrEnum


class Provenance(StrEnum):
    """How far a number can be relied on."""

    PUBLISHED = "published, and read"
    FROM_MEMORY = "from memory of a published source, not read again"
    COMMON_PRACTICE = "common practice, no source"
    PLANNING = "planning value of ours"


@dataclass(frozen=True, kw_only=True)
class SourcedRange:
    """A physical quantity that is known only to lie within a range.

    Attributes
    ----------
    low, typical, high : float
        The range and the value to plan with. [unit]
    unit : str
        The unit. [-]
    provenance : Provenance
        How far it can be relied on; the weakest of its three values decides. [-]
    source : str
        Where to read it, or on what a planning value of ours rests. [-]

    Raises
    ------
    ValueError
        If the three values are out of order or no source is given.

    Examples
    --------
    >>> SourcedRange(
    ...     low=0.1, typical=0.2, high=0.3, unit="-", provenance=Provenance.PLANNING, source="guess"
    ... ).typical
    0.2
    """

    low: float
    typical: float
    high: float
    unit: str
    provenance: Provenance
    source: str

    def __post_init__(self) -> None:
        if not self.low <= self.typical <= self.high:
            raise ValueError("a range needs low <= typical <= high")
        if not self.source.strip():
            raise ValueError("a number needs a source, or the word that it has none")
