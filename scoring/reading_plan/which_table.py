"""Which table of a plan reads a grid: by its name, or by its headings, wherever they stand."""

from dataclasses import dataclass

from scoring.reading_plan.grid import Grid
from scoring.reading_plan.layout import DEEPEST_HEADINGS, Layout, find_layout, layout_at
from scoring.reading_plan.what_a_plan_says import PlannedTable

SAME_SHAPE = 0.6
"""So many of a plan's headings must be there; planning value of ours."""


@dataclass(frozen=True)
class Matched:
    """A grid and the part of a plan that reads it."""

    grid: Grid
    table: PlannedTable
    layout: Layout


def matched(grid: Grid, tables: tuple[PlannedTable, ...]) -> Matched | None:
    """Find the part of a plan that reads a grid.

    Examples
    --------
    >>> from scoring.reading_plan.what_a_plan_says import PlannedColumn
    >>> columns = (PlannedColumn("Tag", ("units.unit_id",)), PlannedColumn("Site"))
    >>> table = PlannedTable(("jan.csv",), ("units",), columns=columns)
    >>> found = matched(Grid.from_rows("feb.csv", "", [["a note"], ["Tag", "Site"]]), (table,))
    >>> found.layout.first
    1
    """
    by_name = [table for table in tables if grid.name in table.sources]
    rest = [table for table in tables if grid.name not in table.sources]
    best: Matched | None = None
    most = 0.0
    for table in (*by_name, *rest):
        found = _headings_of(grid, table)
        if found is None:
            continue
        share = _share(found.headings, table) + (0.5 if table in by_name else 0.0)
        if share > most:
            best, most = Matched(grid, table, found), share
    return best


def _headings_of(grid: Grid, table: PlannedTable) -> Layout | None:
    """Return where the headings of a table stand in a grid."""
    wanted = {column.heading for column in table.columns}
    if not wanted or not len(grid.rows):
        return None
    stated = int((grid.rows < table.heading_row).sum())
    places = [stated, *range(min(len(grid.rows), DEEPEST_HEADINGS))]
    best: Layout | None = None
    most = 0.0
    simple = {part for heading in wanted for part in _parts(heading)}
    for place in dict.fromkeys(places):
        if place >= len(grid.rows):
            continue
        cells = {" ".join(cell.split()) for cell in grid.row_texts(place)} - {""}
        if len(cells & simple) * 3 < len(simple) and table.heading_rows == 1:
            continue
        if not cells & simple:
            continue
        layout = layout_at(grid, place, table.heading_rows)
        share = _share(layout.headings, table)
        if share > most:
            best, most = layout, share
    if best is None or most < SAME_SHAPE:
        found = find_layout(grid)
        if found is not None and _share(found.headings, table) > most:
            best, most = found, _share(found.headings, table)
    return best if most >= SAME_SHAPE else None


def _parts(heading: str) -> list[str]:
    parts = heading.split(" / ")
    bare = [p.rpartition(" (")[0] if p.endswith(")") and p[-2].isdigit() else p for p in parts]
    return [heading, *parts, *(b for b in bare if b)]


def _share(headings: tuple[str, ...], table: PlannedTable) -> float:
    read = {column.heading for column in table.columns if column.fills}
    wanted = read or {column.heading for column in table.columns}
    return len(wanted & set(headings)) / len(wanted) if wanted else 0.0
