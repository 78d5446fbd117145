"""Records read by a reading plan: find the plan, read the grids, make the tables."""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from scoring.contract import TABLE_BY_NAME
from scoring.errors import FixableError, UnreadableFleetError
from scoring.files.grids import Written, read_grids
from scoring.files.headings_file import read_headings_file
from scoring.files.query_grid import read_query_grid
from scoring.files.read_fleet import FoundFleet
from scoring.files.table_bounds import require_records_or_small
from scoring.files.whole_file import whole_file
from scoring.intake import RawTable
from scoring.intake.headings import known_names
from scoring.reading_plan import Grid, Plan, plan_as_toml, plan_from_toml, read_by_plan

PLAN_FILE = "reading-plan.toml"
"""A plan of this name is found by itself where it lies beside the records."""


def read_plan(path: Path) -> Plan:
    """Read a plan from its file.

    Raises
    ------
    FixableError
        If it cannot be opened or is no plan.
    """
    require_records_or_small(path, "reading plan")
    try:
        text = path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError:
        raise FixableError(f"{path} is not written in UTF-8; save it so") from None
    except OSError as error:
        raise FixableError(f"{path} cannot be opened ({error.strerror or error})") from None
    return plan_from_toml(text, path.name)


def write_plan(plan: Plan, path: Path) -> None:
    """Write a plan to a file.

    Raises
    ------
    FixableError
        If it cannot be written.
    """
    try:
        with whole_file(path) as place:
            place.write_text(plan_as_toml(plan), encoding="utf-8", newline="\n")
    except OSError as error:
        raise FixableError(f"{path} cannot be written ({error.strerror or error})") from None


def plan_beside(where: str) -> Path | None:
    """Return the plan that lies beside some records, if one does."""
    path = Path(where)
    if path.suffix.lower() == ".toml" and path.is_file():
        return path
    folder = path if path.is_dir() else path.parent
    beside = folder / PLAN_FILE
    return beside if path.exists() and beside.is_file() else None


def read_place_by_plan(where: str, plan: Plan) -> FoundFleet:
    """Read what one place holds by a plan.

    A table under our own name and headings is read as it stands, if the plan does not name it.

    Raises
    ------
    UnreadableFleetError
        If nothing there is read by the plan.
    FixableError
        If a question of the plan is open.
    """
    grids = grids_of(where, plan)
    read = read_by_plan(plan, grids)
    tables, notes = dict(read.tables), list(read.notes)
    for grid in read.unread:
        own = _as_ours(grid)
        if own is None:
            notes.append(f"{grid.name}: left alone, the plan does not read it")
        elif own.name in tables:
            tables[own.name] = tables[own.name].with_added(own)
        else:
            tables[own.name] = own
    if not tables:
        raise UnreadableFleetError(
            f"{where} holds nothing that the reading plan reads: "
            + ", ".join(grid.name for grid in grids)
            + "; propose a plan for it: mount-risk reading-plan "
            + where
        )
    return FoundFleet(tables, tuple(notes))


def grids_of(where: str, plan: Plan) -> list[Grid]:
    """Return the grids of a place; of a plan's own file those that it names, and its queries."""
    if "://" in where:
        asked = [replace(query, database=where) for query in plan.queries]
        return [read_query_grid(query) for query in asked]
    path = Path(where)
    written = _written(plan)
    if path.suffix.lower() != ".toml":
        return read_grids(path, written)
    files = dict.fromkeys(s.partition(", sheet ")[0] for t in plan.tables for s in t.sources)
    queries = {query.name for query in plan.queries}
    grids = [read_query_grid(query) for query in plan.queries]
    for file in files:
        if file not in queries:
            grids += read_grids(path.parent / file, written)
    return grids


def _written(plan: Plan) -> Written:
    return {
        source: (table.encoding, table.delimiter)
        for table in plan.tables
        for source in table.sources
        if table.encoding or table.delimiter
    }


def _as_ours(grid: Grid) -> RawTable | None:
    """Return a grid that bears the name and the headings of one of our tables."""
    name = grid.sheet or grid.stem
    if name not in TABLE_BY_NAME or not len(grid.rows):
        return None
    table = TABLE_BY_NAME[name]
    headings = grid.row_texts(0)
    if not set(table.required) <= set(headings) or not set(headings) <= {*known_names(table), ""}:
        return None
    cells = tuple(column.slice(1) for column in grid.columns)
    return RawTable(name, (grid.name,), tuple(headings), cells, grid.rows[1:])


def plan_or_mapping(
    given: str | Path | None,
) -> tuple[Path | None, Mapping[str, Mapping[str, str]]]:
    """Return the plan that was given, or what an older file of headings maps.

    A file that does not end in ``.toml`` is one of headings: a plan that only maps columns.
    """
    if given is None:
        return None, {}
    path = Path(given)
    return (path, {}) if path.suffix.lower() == ".toml" else (None, read_headings_file(path))
