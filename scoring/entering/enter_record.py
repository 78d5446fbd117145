"""Enter a failure, a re-work or an accepted finding by hand, or change one."""

from collections.abc import Mapping
from dataclasses import dataclass

from sqlalchemy import Connection

from scoring.access.acts import Act
from scoring.access.allowed import in_own_name, require_at, require_written
from scoring.contract import TABLE_BY_NAME
from scoring.entering.check_record import check_record, faults_without
from scoring.entering.new_keys import new_key
from scoring.entering.refusals import Fault, RefusedError
from scoring.store.open_store import Store
from scoring.store.put_records import put_record, withdraw_record
from scoring.store.read_records import read_records
from scoring.store.store_errors import UnknownRecordError
from scoring.store.versions import StoredRecord, find_record
from scoring.store.whole_text import LONGEST_REASON, not_whole

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
        By heading, as typed; without a key a new one is made. A new record that was sent twice
        is kept once.
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
    name = TABLE_BY_NAME[table].key
    key = cells.get(name, "").strip() or new_key(table)
    unit_id = cells.get("unit_id", "").strip()
    wrong = not_whole(reason, LONGEST_REASON)
    if wrong:
        raise RefusedError((Fault("reason", f"the reason {wrong}"),))
    with store.writing(actor) as writing:  # what it is checked beside cannot change meanwhile
        asker = require_written(writing, Act.ENTER, unit_id)
        if table == "accepted":
            cells = {**cells, "accepted_by": in_own_name(asker, cells.get("accepted_by", ""))}
        there = find_record(writing.connection, table, key)
        if there is not None and there.content["unit_id"] != unit_id:
            _require_seen(writing.connection, key, there)
            raise RefusedError((_of_another_unit(key, str(there.content["unit_id"])),))
        tables = read_records(writing.connection, store.name, [unit_id])
        if table != "units" and unit_id not in tables["units"].column("unit_id"):
            raise RefusedError((_of_no_unit(unit_id),))
        row = check_record(tables, table, {**cells, name: key}).row
        if there is not None and read_version is None and _says_the_same(there, row):
            return KeptRecord(key, there.version)
        version = put_record(writing, table, row, reason, read_version=read_version)
    return KeptRecord(key, version)


def withdraw(store: Store, table: str, key: str, *, actor: str, reason: str) -> None:
    """Take a record that was entered in error out of every reading.

    Parameters
    ----------
    store : Store
        The store.
    table : str
        Name of a table of the contract.
    key : str
        The record.
    actor : str
        Who withdraws it.
    reason : str
        Why.

    Raises
    ------
    UnknownRecordError
        If there is none of that key.
    RefusedError
        If no reason is given, another record speaks of it, or it is a unit.
    """
    if table == "units":
        raise RefusedError(
            (Fault("", "a unit stays; write down when its service ended, as out_of_service_on"),)
        )
    wrong = not_whole(reason, LONGEST_REASON) or ("" if reason.strip() else "is empty")
    if wrong:
        raise RefusedError((Fault("reason", f"the reason {wrong}; say why it is withdrawn"),))
    with store.writing(actor) as writing:
        there = find_record(writing.connection, table, key)
        unknown = f"there is no {key} in {table}"
        if there is None or there.withdrawn:
            raise UnknownRecordError(unknown)
        require_written(writing, Act.ENTER, str(there.content["unit_id"]), unknown=unknown)
        tables = read_records(writing.connection, store.name, [str(there.content["unit_id"])])
        faults = faults_without(tables, table, key)
        if faults:
            raise RefusedError(faults)
        withdraw_record(writing, table, key, reason)


def _require_seen(connection: Connection, key: str, there: StoredRecord) -> None:
    unknown = f"the key {key} is in use; send another"
    require_at(connection, str(there.content["unit_id"]), Act.ENTER, unknown=unknown)


def _of_no_unit(unit_id: str) -> Fault:
    return Fault("unit_id", f"unit_id {unit_id!r} is no unit in the store; ids are case-sensitive")


def _of_another_unit(key: str, unit_id: str) -> Fault:
    return Fault(
        "unit_id", f"{key} is a record of {unit_id}; withdraw it there, and enter a new one here"
    )


def _says_the_same(there: StoredRecord, row: dict[str, object]) -> bool:
    """Tell whether a new record is one that was sent twice: only the moment differs."""
    moment = {"recorded_at": None}
    return not there.withdrawn and {**there.content, **moment} == {**row, **moment}
