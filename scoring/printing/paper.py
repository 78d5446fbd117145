"""The sizes of paper."""

from enum import StrEnum


class Paper(StrEnum):
    """ISO 216 A4, and letter as in North America."""

    A4 = "a4"
    LETTER = "us-letter"

    @property
    def in_style_sheets(self) -> str:
        """Its name in a style sheet."""
        return {"a4": "A4", "us-letter": "letter"}[self.value]
