"""Records of several plants as those of one fleet."""

from collections.abc import Mapping, Sequence

from scoring.files.read_fleet import FoundFleet
from scoring.reading_plan.several_plants import of_plant


def plants_together(
    found: Sequence[tuple[str, FoundFleet]],
    mapping: Mapping[str, Mapping[str, str]] | None = None,
) -> FoundFleet:
    """Put the records of several plants together, each id with its plant before it.

    Parameters
    ----------
    found : sequence of tuple of str and FoundFleet
        The name of each plant, empty where ids stay as they are, and its records.
    mapping : mapping of str to mapping, optional
        For each table a plant's own headings and the columns they stand for.

    Examples
    --------
    >>> from scoring.intake import RawTable
    >>> units = RawTable.from_rows("units", "units.csv", ["unit_id", "site"], [["C-1", "Pit"]])
    >>> one = FoundFleet({"units": units}, ())
    >>> plants_together([("NORTH", one), ("SOUTH", one)]).tables["units"].column("unit_id")
    ['NORTH/C-1', 'SOUTH/C-1']
    """
    named = [_of_one_plant(records, plant, mapping or {}) for plant, records in found]
    tables = dict(named[0].tables)
    for more in named[1:]:
        for name, table in more.tables.items():
            tables[name] = tables[name].with_added(table) if name in tables else table
    return FoundFleet(tables, tuple(note for one in named for note in one.notes))


def _of_one_plant(
    found: FoundFleet, plant: str, mapping: Mapping[str, Mapping[str, str]]
) -> FoundFleet:
    if not plant:
        return found
    tables = {
        name: of_plant(table, plant, mapping.get(name, {})) for name, table in found.tables.items()
    }
    return FoundFleet(tables, tuple(f"{plant}: {note}" for note in found.notes))
