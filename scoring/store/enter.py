"""Enter a failure, a re-work or an accepted finding by hand, or change one."""

from collections.abc import Mapping
from dataclasses import dataclass

from scoring.contract import TABLE_BY_NAME
from scoring.store.check_entered import check_entered
from scoring.store.names import new_key
from scoring.store.put_records import put_record, withdraw_record
from scoring.store.read_records import read_records
from scoring.store.store import Store

FIRST_ENTRY = "entered by hand"


@dataclass(frozen=True)
class KeptRecord:
    """A record that was entered.

    Attributes
    ----------
    key : str
        Its key.
    version : int
        Its version.
    """

    key: str
    version: int


def enter_record(  # noqa: PLR0913 - a record, who changes it, why, and what they saw
    store: Store,
    table: str,
    cells: Mapping[str, str],
    *,
    actor: str,
    reason: str = FIRST_ENTRY,
    read_version: int | None = None,
) -> KeptRecord:
    """Check a record and keep it.

    Parameters
    ----------
    store : Store
        The store.
    table : str
        Name of a table of the contract.
    cells : mapping of str to str
        By heading, as typed; without a key a new one is made.
    actor : str
        Who enters it.
    reason : str
        Why.
    read_version : int, optional
        The version that the person saw who changes it; none for a new record.

    Returns
    -------
    KeptRecord

    Raises
    ------
    RefusedError
        If it is not allowed.
    ChangedMeanwhileError
        If the store holds another version than the one seen.
    """
    key = TABLE_BY_NAME[table].key
    full = {**cells, key: cells.get(key, "").strip() or new_key(table)}
    with store.reading() as connection:
        tables = read_records(connection, store.name, [full.get("unit_id", "").strip()])
    entered = check_entered(tables, table, full)
    with store.writing(actor) as writing:
        version = put_record(writing, table, entered.row, reason, read_version=read_version)
    return KeptRecord(full[key], version)


def withdraw(store: Store, table: str, key: str, *, actor: str, reason: str) -> None:
    """Take a record that was entered in error out of every reading.

    Raises
    ------
    UnknownRecordError
        If there is none of that key.
    """
    with store.writing(actor) as writing:
        withdraw_record(writing, table, key, reason)
