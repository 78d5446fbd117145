"""Why an entry is refused: field by field, or because its draft is closed."""

from dataclasses import dataclass

from scoring.errors import FixableError
from scoring.store.store_errors import StoreError


class ClosedDraftError(StoreError):
    """The walkdown was submitted or discarded meanwhile."""

    def __init__(self, status: str, words: str) -> None:
        super().__init__(words)
        self.status = status


class TooManyPhotosError(FixableError):
    """So many photos are sent at once that one waited for too long."""


class RefusedError(StoreError):
    """What was entered is not allowed; nothing was changed.

    Attributes
    ----------
    faults : tuple of Fault
        What is wrong, field by field.
    """

    def __init__(self, faults: "tuple[Fault, ...]") -> None:
        super().__init__("; ".join(fault.words for fault in faults))
        self.faults = faults


@dataclass(frozen=True)
class Fault:
    """One thing that is wrong with what was entered.

    Attributes
    ----------
    field : str
        The column it is in; empty where the whole record is meant.
    words : str
        What was given, what is wrong with it, what would be right.
    """

    field: str
    words: str
