"""What a user can put right. No traceback; each kind has its exit code."""

from scoring.left_out import without_secrets


class FixableError(Exception):
    """Something that a user can put right; shown as one message, without a traceback."""

    exit_code = 2

    def __str__(self) -> str:
        """Return the message, without any password that it repeats."""
        return without_secrets(super().__str__())


class UnreadableFleetError(FixableError):
    """The records cannot be read at all: no such folder, a wrong encoding, an empty file."""

    exit_code = 3


class FaultyRecordsError(FixableError):
    """Some rows of the records are wrong; nothing was done."""

    exit_code = 4


class OutOfRangeError(FixableError, ValueError):
    """A quantity lies outside the range that its formula holds for."""

    exit_code = 5

    def __init__(self, name: str, value: float, unit: str, allowed: str) -> None:
        super().__init__(f"{name} is {value:g} {unit}; this formula holds for {allowed}".strip())
