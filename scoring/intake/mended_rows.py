"""Records that were mended and added take the place of the faulty rows that they mend."""

from collections.abc import Callable, Mapping

import numpy as np
from numpy.typing import NDArray

from scoring.contract import TABLE_BY_NAME
from scoring.intake.raw import RawTable
from scoring.intake.rejected_rows import rows_by_key
from scoring.records import SOURCE_STEP

FindRejected = Callable[[Mapping[str, RawTable]], Mapping[str, NDArray[np.int64]]]
"""Returns the numbers of the rejected rows of each table."""


def without_mended_rows(
    raw: Mapping[str, RawTable],
    mapping: Mapping[str, Mapping[str, str]],
    find_rejected: FindRejected,
) -> tuple[dict[str, RawTable], tuple[str, ...]]:
    """Leave out the faulty rows whose key stands again in a file added after theirs.

    A good row is never left out: two different rows of one key, both good, remain an error.

    Parameters
    ----------
    raw : mapping of str to RawTable
        The tables as found, each with the sources added to it.
    mapping : mapping of str to mapping
        For each table a plant's own headings and the columns they stand for.
    find_rejected : callable
        Tells which rows of some tables are rejected.

    Returns
    -------
    tables : dict of str to RawTable
        Without the rows that were mended.
    notes : tuple of str
        How many rows of each table gave way.
    """
    tables = dict(raw)
    count = dict.fromkeys(raw, 0)
    for place in range(1, max((len(table.sources) for table in raw.values()), default=1)):
        rejected = find_rejected({name: _before(table, place) for name, table in tables.items()})
        for name, rows in rejected.items():
            heading = _key_heading(tables[name], mapping.get(name, {}))
            mended = _mended(tables[name], rows, heading, place)
            count[name] += len(mended)
            if len(mended):
                tables[name] = tables[name].without(mended)
    notes = tuple(
        f"{name}: {number} faulty {'row' if number == 1 else 'rows'} replaced by added "
        "rows of the same key"
        for name, number in count.items()
        if number
    )
    return tables, notes


def _before(table: RawTable, place: int) -> RawTable:
    """Return a table without the sources from ``place`` on."""
    numbers = [table.rows, [odd.row for odd in table.ragged], [t.row for t in table.troubles]]
    rows = np.concatenate([np.asarray(part, dtype=np.int64) for part in numbers])
    return table.without(rows[rows >= place * SOURCE_STEP])


def _key_heading(table: RawTable, mapping: Mapping[str, str]) -> str:
    key = TABLE_BY_NAME[table.name].key
    return next((h for h in table.headings if mapping.get(h, h) == key), key)


def _mended(
    table: RawTable, rejected: NDArray[np.int64], key_heading: str, place: int
) -> NDArray[np.int64]:
    keys, rows = rows_by_key(table, key_heading)
    added = keys[(rows // SOURCE_STEP == place) & (keys != "")]
    return rows[np.isin(rows, rejected) & np.isin(keys.astype(str), added.astype(str))]
