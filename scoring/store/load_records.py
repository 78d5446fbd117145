"""Load records into a store: checked beside what it holds, all of them or nothing."""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, replace

import pandas as pd
from sqlalchemy import insert

from scoring.contract import FLEET_TABLES
from scoring.errors import UnreadableFleetError
from scoring.intake import CheckedFleet, RawTable, check_fleet
from scoring.records import Fleet
from scoring.store.overtaken import overtaken_walkdowns
from scoring.store.put_records import Put, put_records
from scoring.store.schema import LOADS
from scoring.store.stored_records import StoredRecords
from scoring.store.stored_values import rows_some_at_a_time
from scoring.store.writing import Change, Writing


@dataclass(frozen=True)
class Incoming:
    """Records that come in.

    Attributes
    ----------
    tables : dict of str to RawTable
        As found; no table must be there.
    source : str
        What the history calls them.
    mapping : mapping of str to mapping
        For each table a plant's own headings and the columns they stand for.
    from_forms : collection of str
        Walkdowns that a form kept in a file: an older copy of one undoes no correction.
    """

    tables: Mapping[str, RawTable]
    source: str
    mapping: Mapping[str, Mapping[str, str]]
    from_forms: Collection[str]


@dataclass(frozen=True)
class Loaded:
    """What a load did.

    Attributes
    ----------
    puts : dict of str to Put
        By table that came in: how many were added, changed, or there already.
    rejected : dict of str to int
        Rows of each table that were left out as faulty.
    walkdowns : tuple of str
        Walkdowns that came in and are now as they came.
    overtaken : tuple of str
        Walkdowns of a form that were corrected in the store since; left as they are.
    """

    puts: dict[str, Put]
    rejected: dict[str, int]
    walkdowns: tuple[str, ...]
    overtaken: tuple[str, ...]


def load_records(
    writing: Writing, source: str, incoming: Incoming, *, allow: Callable[[CheckedFleet], None]
) -> Loaded:
    """Check records beside what a store holds, and put the good ones there in one step.

    Parameters
    ----------
    writing : Writing
        The transaction; its actor loads them.
    source : str
        What messages call the store.
    incoming : Incoming
        The records.
    allow : callable
        Looks at what was found wrong, and raises unless the good rows shall be loaded.

    Returns
    -------
    Loaded

    Raises
    ------
    UnreadableFleetError
        If there is no table at all.
    StoreError
        If the store cannot be used; nothing was changed.
    """
    if not incoming.tables:
        raise UnreadableFleetError(
            f"{incoming.source} holds no table of records; they are called "
            + ", ".join(table.name for table in FLEET_TABLES)
        )
    checked = check_fleet(
        incoming.tables,
        pd.Timestamp.today(),
        incoming.mapping,
        StoredRecords(writing.connection, source),
    )
    allow(checked)
    overtaken = overtaken_walkdowns(
        writing.connection, checked.fleet.walkdowns, incoming.from_forms
    )
    fleet = _without(checked.fleet, overtaken)
    loaded = Loaded(
        _put(writing, fleet, incoming),
        {name: len(rows.rows) for name, rows in checked.rejected.items()},
        tuple(fleet.walkdowns["walkdown_id"]),
        tuple(sorted(overtaken)),
    )
    _note_load(writing, incoming.source, loaded)
    return loaded


def _without(fleet: Fleet, overtaken: set[str]) -> Fleet:
    walkdowns = fleet.walkdowns
    kept = walkdowns[~walkdowns["walkdown_id"].isin(overtaken)]
    return replace(fleet, walkdowns=kept.reset_index(drop=True))


def _put(writing: Writing, fleet: Fleet, incoming: Incoming) -> dict[str, Put]:
    reason = f"load of {incoming.source}"
    return {
        table.name: put_records(
            writing, table.name, rows_some_at_a_time(fleet.table(table.name), table), reason
        )
        for table in FLEET_TABLES  # units first, as the others refer to them
        if table.name in incoming.tables
    }


def _note_load(writing: Writing, source: str, loaded: Loaded) -> None:
    total = sum(loaded.puts.values(), start=Put())
    row = {
        "at": writing.at,
        "actor": writing.actor,
        "source": source,
        "added": total.added,
        "changed": total.changed,
        "same": total.same,
        "rejected": sum(loaded.rejected.values()),
    }
    (load_id,) = writing.connection.execute(insert(LOADS).values(row)).inserted_primary_key or (0,)
    writing.note([Change("loads", str(load_id), "loaded", after=row)])
