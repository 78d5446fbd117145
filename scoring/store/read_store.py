"""Read the fleet that a store holds, as one of the places in which fleets lie."""

from contextlib import closing

from scoring.files.read_fleet import FoundFleet
from scoring.store.integrity import CheckedStore, check_store
from scoring.store.open_store import open_store
from scoring.store.read_records import read_records
from scoring.store.store_errors import NoStoreError


def read_store(where: str) -> FoundFleet:
    """Read all records of a store, of one moment.

    Parameters
    ----------
    where : str
        Its address.

    Returns
    -------
    FoundFleet

    Raises
    ------
    StoreError
        If there is no store, or it cannot be used.
    """
    with closing(open_store(where)) as store, store.reading() as connection:
        tables = read_records(connection, store.name)
        if len(tables["units"].rows) == 0:
            raise NoStoreError(
                f"{store.name} holds no unit yet; load some with: mount-risk load FLEET --store "
                f"{store.name}"
            )
        return FoundFleet(tables, ())


def check(where: str) -> CheckedStore:
    """Return what is wrong with a store itself, and what a person should know of it."""
    with closing(open_store(where)) as store, store.reading() as connection:
        found = check_store(connection)
        return CheckedStore(
            [f"{store.name}: {fault}" for fault in found.faults],
            [f"{store.name}: {remark}" for remark in found.remarks],
        )
