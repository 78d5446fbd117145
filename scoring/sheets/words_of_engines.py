"""What is said round the blocks of a sheet, by every engine."""

from dataclasses import dataclass


@dataclass(frozen=True)
class WordsOfEngines:
    """Words that stand on sheets of every kind.

    Attributes
    ----------
    page, of : str
        Number of a page, and of how many.
    good, not_seen : str
        Beside a check: what is good, and above the room to write why nobody saw it.
    assumed, source, mean : str
        Beside a number, and in its formula.
    name, day, signature : str
        Below the lines of a signature.
    tick : str
        What a box is called for who cannot see it.
    """

    page: str = "page"
    of: str = "of"
    good: str = "good"
    not_seen: str = "not seen"
    assumed: str = "assumed"
    source: str = "source"
    mean: str = "mean"
    name: str = "name"
    day: str = "day"
    signature: str = "signature"
    tick: str = "a box to tick"
