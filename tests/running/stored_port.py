"""The kept port of three sites in a store of its own, for tests of who may see which."""

import pandas as pd
from kept_plants import GRAIN_PORT

from scoring.contract import FLEET_TABLES
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet
from scoring.store.put_records import put_records
from scoring.store.stored_values import stored_rows


def fill_with_port(store):
    """Put the records of the port into an empty store."""
    fleet = check_fleet(read_fleet(GRAIN_PORT).tables, pd.Timestamp.today()).fleet
    with store.writing("Ann Load") as writing:
        for table in FLEET_TABLES:
            rows = stored_rows(fleet.table(table.name), table)
            put_records(writing, table.name, rows, "first load")
