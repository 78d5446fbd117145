"""What can go wrong with a store, and what to do about it."""

from scoring.errors import FixableError


class StoreError(FixableError):
    """The store cannot be used as asked."""

    exit_code = 6


class NoStoreError(StoreError):
    """There is no store at that address, or it cannot be reached."""


class OtherSchemaError(StoreError):
    """The store was prepared by another version of this program."""


class BusyStoreError(StoreError):
    """Other writers held the store for too long; nothing was changed."""


class ChangedMeanwhileError(StoreError):
    """Somebody else changed it since it was read; nothing was changed."""


class UnknownRecordError(StoreError):
    """There is no record of that key."""
