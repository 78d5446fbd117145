"""Check what a person entered, by the same rules as records from files."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import pandas as pd

from scoring.contract import TABLE_BY_NAME
from scoring.contract.quantities import alternative_names
from scoring.entering.refusals import Fault, RefusedError
from scoring.intake import CheckedFleet, RawTable, check_fleet
from scoring.records import SOURCE_STEP, Fleet
from scoring.store.stored_values import stored_rows
from scoring.store.whole_text import not_whole

ENTERED_ROW = 2**32
"""Row by which the record that was typed in is told from those of the store."""


@dataclass(frozen=True)
class CheckedRecord:
    """A record that was entered and found good.

    Attributes
    ----------
    row : dict
        As the store keeps it.
    fleet : Fleet
        The records of its unit, with it.
    """

    row: dict[str, object]
    fleet: Fleet


def check_record(
    tables: Mapping[str, RawTable], table: str, cells: Mapping[str, str]
) -> CheckedRecord:
    """Check a record against the contract and against the other records of its unit.

    Parameters
    ----------
    tables : mapping of str to RawTable
        The records of its unit; one of the same key is replaced by it.
    table : str
        Name of the table it belongs to.
    cells : mapping of str to str
        By heading: a column of the contract, or the same quantity in another unit.

    Returns
    -------
    CheckedRecord

    Raises
    ------
    RefusedError
        If it is not allowed, or another record would no longer fit.
    """
    key = TABLE_BY_NAME[table].key
    typed = {heading: text for heading, text in cells.items() if text.strip()}
    _require_whole(table, typed)
    others = _without(tables[table], key, typed.get(key, ""))
    together = {**tables, table: _with_entered(others, typed)}
    checked = check_fleet(together, pd.Timestamp.today())
    faults = _faults(checked, table) or _of_others(checked, tables)
    if faults:
        raise RefusedError(faults)
    frame = checked.fleet.table(table)
    good = frame[frame[key] == typed[key].strip()]
    return CheckedRecord(stored_rows(good, TABLE_BY_NAME[table])[0], checked.fleet)


def faults_without(tables: Mapping[str, RawTable], table: str, key: str) -> tuple[Fault, ...]:
    """Return what would no longer fit, were a record of a unit not there."""
    without = _without(tables[table], TABLE_BY_NAME[table].key, key)
    return _of_others(check_fleet({**tables, table: without}, pd.Timestamp.today()), tables)


def _of_others(checked: CheckedFleet, before: Mapping[str, RawTable]) -> tuple[Fault, ...]:
    """Return the faults of other records that were none before."""
    others = checked.faults[checked.faults["row"] != ENTERED_ROW]
    if others.empty:
        return ()
    columns = ["table", "column", "value", "wrong"]
    known = check_fleet(before, pd.Timestamp.today()).faults[columns]
    new = others.merge(known, on=columns, how="left", indicator="there")
    return tuple(
        Fault(
            "", f"{fault.table} would no longer fit: {fault.column} {fault.value!r} {fault.wrong}"
        )
        for fault in new[new["there"] == "left_only"].itertuples(index=False)
    )


def _with_entered(stored: RawTable, typed: Mapping[str, str]) -> RawTable:
    """Add what was typed as one more row of the same source, so that all is checked once."""
    entered = RawTable.from_rows(
        stored.name, "", list(typed), [list(typed.values())], first_row=ENTERED_ROW
    )
    together = stored.with_added(entered)
    return replace(together, sources=stored.sources, rows=together.rows % SOURCE_STEP)


def _without(raw: RawTable, key_heading: str, key: str) -> RawTable:
    keys = raw.column(key_heading)
    rows = raw.rows[[place for place, found in enumerate(keys) if found == key]]
    return raw.without(rows)


def _require_whole(table: str, typed: Mapping[str, str]) -> None:
    fields = _field_of(table)
    wrong = {heading: not_whole(text, len(text)) for heading, text in typed.items()}
    faults = tuple(
        Fault(fields.get(heading, heading), f"{heading} {words}")
        for heading, words in wrong.items()
        if words
    )
    if faults:
        raise RefusedError(faults)


def _field_of(table: str) -> dict[str, str]:
    """Return the column that each heading stands for."""
    return {
        heading: column.name
        for column in TABLE_BY_NAME[table].columns
        for heading in (column.name, *alternative_names(column.name))
    }


def _faults(checked: CheckedFleet, table: str) -> tuple[Fault, ...]:
    mine = checked.faults[
        (checked.faults["table"] == table) & checked.faults["row"].isin([1, ENTERED_ROW])
    ]
    field_of = _field_of(table)
    return tuple(
        Fault(
            field_of.get(str(fault.column), str(fault.column)),
            f"{fault.column} {fault.value!r} {fault.wrong}; {fault.right}".strip(),
        )
        for fault in mine.itertuples(index=False)
    )
