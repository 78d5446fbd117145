"""Find and read a fleet wherever it lies: a folder, a workbook, or a demo plant."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from importlib import resources
from pathlib import Path

from scoring.contract import FLEET_TABLES, TABLE_BY_NAME, WALKDOWNS
from scoring.errors import UnreadableFleetError
from scoring.files.csv_reading import read_csv
from scoring.files.exported_folder import as_before_export, is_exported
from scoring.files.parquet_reading import read_parquet
from scoring.files.route_reading import read_route
from scoring.intake import RawTable

DEMO = "demo:"
_READERS: dict[str, Callable[[Path, str], RawTable]] = {
    ".csv": read_csv,
    ".parquet": read_parquet,
}


@dataclass(frozen=True)
class FoundFleet:
    """A fleet's tables as found.

    Attributes
    ----------
    tables : dict of str to RawTable
        By table.
    notes : tuple of str
        Files and sheets that were left alone.
    """

    tables: dict[str, RawTable]
    notes: tuple[str, ...]


def demo_plants() -> list[str]:
    """Return the names of the demo plants that came with the installation."""
    root = resources.files("demo_data")
    return sorted(entry.name for entry in root.iterdir() if (entry / "units.csv").is_file())


def read_fleet(
    where: str,
    *,
    add: tuple[str, ...] = (),
    read: Callable[[str], FoundFleet] | None = None,
) -> FoundFleet:
    """Read a fleet.

    Parameters
    ----------
    where : str
        A folder of CSV or Parquet files, an ``.xlsx`` workbook, or ``demo:NAME``.
    add : tuple of str
        Further such places, or ``.json`` files of the walkdown form, whose rows come below;
        these need not hold every table.
    read : callable, optional
        Reads one place; by default ``read_place``.

    Returns
    -------
    FoundFleet

    Raises
    ------
    UnreadableFleetError
        If nothing is there, a needed table is missing, or a file cannot be read.
    """
    read_one = read or read_place
    found = read_one(where)
    missing = [t.name for t in FLEET_TABLES if t.needed and t.name not in found.tables]
    if missing:
        raise UnreadableFleetError(
            f"{where} has no table {' and no table '.join(missing)}; a fleet needs units and "
            "walkdowns, as CSV or Parquet files in one folder or as sheets of one workbook, "
            "spelt like that" + "".join(f" ({note})" for note in found.notes)
        )
    return with_added(found, add, read_one)


def with_added(
    found: FoundFleet, add: tuple[str, ...], read: Callable[[str], FoundFleet]
) -> FoundFleet:
    """Read further places, whose rows come below; these need not hold every table."""
    tables, notes = dict(found.tables), found.notes
    for place in add:
        more = read(place)
        notes += more.notes
        for name, table in more.tables.items():
            added = replace(table, sources=tuple(_in_place(s, place) for s in table.sources))
            tables[name] = tables[name].with_added(added) if name in tables else added
    return FoundFleet(tables, notes)


def _in_place(source: str, place: str) -> str:
    """Name an added file by its folder too, as it bears the name of the one it is added to."""
    folder = Path(place)
    if not folder.exists():  # a store, whose sources tell its address
        return source
    return str(folder / source if folder.is_dir() else folder.parent / source)


def read_place(where: str) -> FoundFleet:
    """Read what one place holds, which need not be a whole fleet."""
    if where.startswith(DEMO):
        return _read_demo(where.removeprefix(DEMO))
    path = Path(where)
    if path.is_dir():
        return _read_folder(path)
    if path.is_file() and path.suffix.lower() == ".xlsx":
        # a third of what a command imports, and most fleets are no workbook
        from scoring.files.workbook_reading import read_workbook  # noqa: PLC0415

        tables, aside = read_workbook(path)
        notes = (f"{path.name}: sheets left alone: {', '.join(aside)}",) if aside else ()
        return FoundFleet(tables, notes)
    if path.is_file() and path.suffix.lower() == ".json":
        route = read_route(path)
        return FoundFleet({WALKDOWNS.name: route.table()}, route.notes)
    if path.is_file():
        raise UnreadableFleetError(
            f"{where} is a file of another kind; give the folder that holds units.csv and "
            "walkdowns.csv (or the same as .parquet), or one .xlsx workbook"
        )
    raise UnreadableFleetError(f"there is no folder or workbook {where}")


def _read_demo(name: str) -> FoundFleet:
    if name not in demo_plants():
        raise UnreadableFleetError(
            f"there is no demo plant {name!r}; there are {', '.join(demo_plants())}"
        )
    with resources.as_file(resources.files("demo_data") / name) as folder:
        return _read_folder(folder)


def _read_folder(folder: Path) -> FoundFleet:
    tables: dict[str, RawTable] = {}
    for name in TABLE_BY_NAME:
        paths = [folder / f"{name}{suffix}" for suffix in _READERS]
        there = [path for path in paths if path.is_file()]
        if len(there) > 1:
            raise UnreadableFleetError(
                f"{folder} holds {name} twice, as {' and '.join(p.name for p in there)}; keep one"
            )
        for path in there:
            tables[name] = _READERS[path.suffix](path, name)
    if is_exported(folder):
        tables = {name: as_before_export(table) for name, table in tables.items()}
    known = {f"{name}{suffix}" for name in tables for suffix in _READERS}
    aside = sorted(
        path.name
        for path in folder.iterdir()
        if path.suffix.lower() in {*_READERS, ".xlsx", ".xls"} and path.name not in known
    )
    notes = (f"{folder}: files left alone: {', '.join(aside)}",) if aside else ()
    return FoundFleet(tables, notes)
