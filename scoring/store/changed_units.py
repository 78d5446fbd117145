"""Which units' records changed since somebody last looked, and what they are now."""

import json
from collections.abc import Iterable
from dataclasses import dataclass

import pandas as pd
from sqlalchemy import Connection, select

from scoring.contract import FLEET_TABLES, UNITS
from scoring.intake import check_fleet
from scoring.records import Fleet, empty_table
from scoring.store.read_records import last_change, read_records
from scoring.store.schema import HISTORY, RECORDS

MOST_CHANGES = 1000
"""After more changes everything is read anew: that is quicker than looking for each. Ours."""


@dataclass(frozen=True)
class ChangedUnits:
    """Units whose records changed.

    Attributes
    ----------
    mark : int
        Number of the last change to a record, as ``last_change`` counts.
    unit_ids : frozenset of str
        The units, and those at which a reducer of theirs hung: how old it is may have changed.
    records : Fleet
        All their records as they are now.
    """

    mark: int
    unit_ids: frozenset[str]
    records: Fleet


def changed_units(
    connection: Connection, source: str, since: int, today: pd.Timestamp
) -> ChangedUnits | None:
    """Read the units whose records changed after a mark.

    Parameters
    ----------
    connection : Connection
        In a transaction, so that all is of one moment.
    source : str
        What messages call the store.
    since : int
        The mark, from ``last_change`` or from here.
    today : Timestamp
        The day against which the future is judged.

    Returns
    -------
    ChangedUnits or None
        None where very much changed, or what is there now has a fault: then all has to be read.
    """
    tables = [table.name for table in FLEET_TABLES]
    lines = connection.execute(
        select(HISTORY.c.about, HISTORY.c.unit_id, HISTORY.c.before, HISTORY.c.after)
        .where(HISTORY.c.about.in_(tables), HISTORY.c.history_id > since)
        .limit(MOST_CHANGES + 1)
    ).all()
    if len(lines) > MOST_CHANGES:
        return None
    contents = [
        (line.about, json.loads(said))
        for line in lines
        for said in (line.before, line.after)
        if said is not None
    ]
    units = {line.unit_id for line in lines if line.unit_id is not None}
    units |= {content["unit_id"] for _, content in contents if "unit_id" in content}
    assets = {
        content["asset_id"]
        for about, content in contents
        if about == UNITS.name and "asset_id" in content
    }
    units |= _ever_hung(connection, assets)
    found = read_records(connection, source, units)
    if not any(len(table.rows) for table in found.values()):  # all of it was withdrawn
        return ChangedUnits(last_change(connection), frozenset(units), _NOTHING)
    checked = check_fleet(found, today)
    if checked.how_many_faults:
        return None
    together = frozenset(units) | frozenset(checked.fleet.units["unit_id"])
    return ChangedUnits(last_change(connection), together, checked.fleet)


_NOTHING = Fleet(*(empty_table(table) for table in FLEET_TABLES))


def _ever_hung(connection: Connection, assets: Iterable[str]) -> set[str]:
    """Return the units at which some reducers hang or hung."""
    table = RECORDS[UNITS.name]
    wanted = sorted(assets)
    if not wanted:
        return set()
    return set(connection.scalars(select(table.c.unit_id).where(table.c.asset_id.in_(wanted))))
