"""The sizes of paper."""

from enum import StrEnum

from scoring.contract.quantities import INCH


class Paper(StrEnum):
    """ISO 216 A4, and letter as in North America."""

    A4 = "a4"
    LETTER = "us-letter"

    @property
    def in_style_sheets(self) -> str:
        """Its name in a style sheet."""
        return {"a4": "A4", "us-letter": "letter"}[self.value]


def usual_paper(measures: str) -> Paper:
    """Return the paper that goes with the units of measure of a person; a guess of ours.

    Examples
    --------
    >>> usual_paper("inch"), usual_paper("metric")
    (<Paper.LETTER: 'us-letter'>, <Paper.A4: 'a4'>)
    """
    return Paper.LETTER if measures == INCH else Paper.A4
