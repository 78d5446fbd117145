"""What a database says that cannot do what it was asked, in words that say what to do."""

from sqlalchemy.exc import DatabaseError, DataError, DBAPIError, OperationalError

from scoring.store.store_errors import BusyStoreError, NoStoreError, StoreError

_WAITED_TOO_LONG = ("database is locked", "lock timeout", "LockNotAvailable")
_MAY_NOT = ("InsufficientPrivilege", "ReadOnlySqlTransaction", "readonly", "read-only")
_FULL = ("database or disk is full", "DiskFull", "No space left")
_DAMAGED = ("malformed", "Could not decode", "DataCorrupted", "IndexCorrupted")
_NO_TABLE = ("no such table", "no such column", "UndefinedTable", "UndefinedColumn")

_ASK_AGAIN = "is the address right, and may you write there?"
_REACH_AGAIN = f"{_ASK_AGAIN} Does the database run? Do it again once it answers"
_DAMAGE = (
    "it is damaged: stop all that writes there, keep a copy of it, and restore a backup into a new "
    "one with: mount-risk restore FILE --store NEW"
)
_WHAT_TO_DO = (
    (("disk I/O error",), "nothing was changed; is its disk full, or failing? Then do it again"),
    (_FULL, "nothing was changed; make room on its disk, then do it again"),
    (_DAMAGED, _DAMAGE),
    (_MAY_NOT, f"nothing was changed; {_ASK_AGAIN} Once you may, do it again"),
)


def in_words(error: DBAPIError, name: str, patience_s: float) -> StoreError | None:
    """Return what is told of an error of a database; none where it is a fault of ours.

    Parameters
    ----------
    error : DBAPIError
        As SQLAlchemy raised it.
    name : str
        What messages call the store.
    patience_s : float
        How long a writer waits for others. [s]

    Returns
    -------
    StoreError or None
    """
    said, kind = str(error.orig).strip(), repr(error.orig)
    reason = said.splitlines()[0] if said else ""
    if any(words in kind for words in _WAITED_TOO_LONG):
        return BusyStoreError(
            f"others wrote to {name} for more than {patience_s:g} s; nothing was changed, try again"
        )
    if isinstance(error, DataError):
        return StoreError(f"{name} cannot hold what was given: {reason}; nothing was changed")
    what_to_do = _what_to_do(error, kind, name)
    return NoStoreError(f"{name} cannot be used: {reason}; {what_to_do}") if what_to_do else None


def _what_to_do(error: DBAPIError, kind: str, name: str) -> str:
    """Return what to do, nothing where it is a fault of ours."""
    for signs, what_to_do in _WHAT_TO_DO:
        if any(words in kind for words in signs):
            return what_to_do
    if any(words in kind for words in _NO_TABLE):
        return (
            "it is no whole store any more, and nothing was changed. Put the store back, or "
            f"restore a backup: mount-risk restore FILE --store {name}"
        )
    if error.connection_invalidated:
        return "nothing was changed. Does the database run? Do it again once it answers"
    if error.statement is None:
        return _REACH_AGAIN
    if isinstance(error, OperationalError) or type(error) is DatabaseError:
        return _ASK_AGAIN
    return ""
