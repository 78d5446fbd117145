"""A store filled with a fleet, as a first load leaves it."""

from scoring.contract import FLEET_TABLES
from scoring.records import Fleet
from scoring.store.open_store import open_store
from scoring.store.put_records import put_records
from scoring.store.stored_values import stored_rows


def fill(where: str, fleet: Fleet) -> None:
    store = open_store(where, make=True)
    with store.writing("Ann Load") as writing:
        for table in FLEET_TABLES:
            rows = stored_rows(fleet.table(table.name), table)
            put_records(writing, table.name, rows, "first load")
    store.close()
