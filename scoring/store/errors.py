"""What can go wrong with a store, and what to do about it."""

from dataclasses import dataclass

from scoring.errors import FixableError


class StoreError(FixableError):
    """The store cannot be used as asked."""

    exit_code = 6


class NoStoreError(StoreError):
    """There is no store at that address, or it cannot be reached."""


class OtherSchemaError(StoreError):
    """The store was laid out by another version of this program."""


class BusyStoreError(StoreError):
    """Other writers held the store for too long; nothing was changed."""


class ChangedMeanwhileError(StoreError):
    """Somebody else changed it since it was read; nothing was changed."""


class UnknownRecordError(StoreError):
    """There is no record of that key."""


class ClosedDraftError(StoreError):
    """The walkdown was submitted or discarded meanwhile."""

    def __init__(self, status: str, words: str) -> None:
        super().__init__(words)
        self.status = status


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
