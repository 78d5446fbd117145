"""Is a large table junk? Told by some of its rows, so that nobody waits for the rest.

A bound on good rows there is none. A table in which most rows are faulty is the wrong file, or
one that needs another look before it is mended row by row.
"""

from collections.abc import Mapping

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc
from numpy.typing import NDArray

from scoring.contract import TABLE_BY_NAME
from scoring.errors import UnreadableFleetError
from scoring.intake.faults import MOST_TOLD
from scoring.intake.raw import RawTable
from scoring.intake.rejected_rows import rows_by_key
from scoring.intake.row_rules import apply_row_rules
from scoring.intake.table_check import TableCheck
from scoring.records import ROW, SOURCE_STEP

LARGE_ROWS = 200_000
"""A table of more rows is looked at in part before it is read whole; planning value of ours."""

ROWS_LOOKED_AT = 20_000
"""So many of its rows. Ours."""


def without_junk(
    tables: Mapping[str, RawTable], mapping: Mapping[str, Mapping[str, str]]
) -> dict[str, RawTable]:
    """Refuse a fleet of which a large table is junk; cut those whose headings are of no use.

    Parameters
    ----------
    tables : mapping of str to RawTable
        As found.
    mapping : mapping of str to mapping
        For each table a plant's own headings and the columns they stand for.

    Returns
    -------
    dict of str to RawTable
        The tables; of one whose rows cannot be used for its headings, the first rows only.

    Raises
    ------
    UnreadableFleetError
        With how many rows are faulty, and the first of them.
    """
    units = tables.get("units")
    kept = dict(tables)
    for name, raw in tables.items():
        if len(raw.rows) <= LARGE_ROWS:
            continue
        places = np.linspace(0, len(raw.rows) - 1, ROWS_LOOKED_AT).astype(np.int64)
        usable = refuse_junk(raw.at(places), mapping.get(name, {}), None if raw is units else units)
        if not usable:
            kept[name] = raw.at(places[:1])
    return kept


def refuse_junk(
    some: RawTable, mapping: Mapping[str, str] | None = None, units: RawTable | None = None
) -> bool:
    """Refuse a table if a thousand of some rows, and more than half, are faulty or copies.

    Parameters
    ----------
    some : RawTable
        Some of its rows.
    mapping : mapping of str to str, optional
        A plant's own headings and the columns they stand for.
    units : RawTable, optional
        The units that its rows may speak of.

    Returns
    -------
    bool
        Whether its headings are such that its rows can be used.

    Raises
    ------
    UnreadableFleetError
        If it is junk.
    """
    table = TABLE_BY_NAME[some.name]
    check = TableCheck.begin(table, some, dict(mapping or {}))
    if not check.usable:
        return False
    check.reject(apply_row_rules(table.name, check.read, check.faults))
    check.settle_keys()
    again = int(check.repeated.sum())
    if again > MOST_TOLD and 2 * again > len(check.bad):
        row = int(some.rows[check.repeated][0]) % SOURCE_STEP
        raise UnreadableFleetError(
            f"{', '.join(some.sources)}: of {len(check.bad)} rows looked at {again} say again what "
            f"another row says, so the rest was not read. The first is row {row}. Give each record "
            "once"
        )
    strange = _of_no_unit(check, units)
    faulty = int((check.bad | strange).sum()) + len(some.ragged)
    looked_at = len(check.bad) + len(some.ragged)
    if faulty > MOST_TOLD and 2 * faulty > looked_at:
        raise UnreadableFleetError(
            f"{', '.join(some.sources)}: of {looked_at} rows looked at {faulty} are faulty, so the "
            f"rest was not read. {_first_fault(check, strange)}. Is it the right file?"
        )
    return True


def _of_no_unit(check: TableCheck, units: RawTable | None) -> NDArray[np.bool_]:
    """Tell which rows speak of a unit that stands in no row of the units, be that good or not."""
    if (
        units is None
        or "unit_id" not in units.headings
        or "unit_id" not in check.table.column_by_name
    ):
        return np.zeros(len(check.bad), dtype=bool)
    keys, _ = rows_by_key(units, "unit_id")
    named = pa.array(check.read.frame["unit_id"].array)
    known = pc.is_in(named, pa.array(keys, named.type))
    unknown: NDArray[np.bool_] = ~known.to_numpy(zero_copy_only=False)
    return unknown


def _first_fault(check: TableCheck, strange: NDArray[np.bool_]) -> str:
    """Tell of one faulty row what is wrong with it."""
    faults = check.faults.frame()
    if len(faults):
        one = faults.iloc[0]
        where = f"row {one['row']}" + (f", column {one['column']}" if one["column"] else "")
        return f"The first, {where}: {str(one['value'])[:60]!r} {one['wrong']}"
    frame = check.read.frame.loc[strange]
    row, unit = int(frame[ROW].iloc[0]) % SOURCE_STEP, frame["unit_id"].iloc[0]
    return f"The first, row {row}, column unit_id: {unit!r} is not a unit of this fleet"
