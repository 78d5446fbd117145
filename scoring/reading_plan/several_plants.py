"""Several plants in one call: ids made unique by the plant before them."""

import re
from collections.abc import Mapping
from dataclasses import replace

import pyarrow as pa
import pyarrow.compute as pc

from scoring.contract import TABLE_BY_NAME, Kind
from scoring.intake import RawTable

_PLANT = re.compile(r"(?P<name>[^\W_][\w .-]{0,30})=(?P<where>.+)", re.DOTALL)


def plant_and_place(given: str) -> tuple[str, str]:
    """Return the name of a plant and its place; no name where none was given.

    Examples
    --------
    >>> plant_and_place("NORTH=records/north"), plant_and_place("records/north")
    (('NORTH', 'records/north'), ('', 'records/north'))
    >>> plant_and_place("postgresql://reader@host/plant?sslmode=require")[0]
    ''
    """
    found = _PLANT.fullmatch(given)
    return (found["name"], found["where"]) if found else ("", given)


def of_plant(table: RawTable, plant: str, mapping: Mapping[str, str]) -> RawTable:
    """Put a plant before every id of a table.

    Examples
    --------
    >>> units = RawTable.from_rows("units", "units.csv", ["unit_id", "site"], [["C-1", "Pit"]])
    >>> of_plant(units, "NORTH", {}).column("unit_id")
    ['NORTH/C-1']
    """
    contract = TABLE_BY_NAME[table.name]
    cells = []
    for heading, column in zip(table.headings, table.cells, strict=True):
        ours = contract.column_by_name.get(mapping.get(heading, heading))
        if ours is None or ours.kind is not Kind.IDENTIFIER:
            cells.append(column)
            continue
        plain = pc.utf8_trim_whitespace(column)
        named = pc.binary_join_element_wise(pa.scalar(plant), plain, "/")
        cells.append(pc.if_else(pc.equal(plain, ""), "", named))
    return replace(table, cells=tuple(cells))
