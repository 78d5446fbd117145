"""What one grid gives to each of our tables, by the plan."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
import pandas as pd
import pyarrow as pa
from numpy.typing import NDArray

from scoring.contract.declaration import YES, Kind
from scoring.contract.rework import ACTION_BY_NAME
from scoring.intake import RawTrouble
from scoring.intake.as_given import AsGiven
from scoring.reading_plan.cells_by_plan import column_of, tells_done, texts_by_plan, unknown_words
from scoring.reading_plan.grid import Distinct, Grid
from scoring.reading_plan.layout import no_records
from scoring.reading_plan.what_a_plan_says import PlannedColumn
from scoring.reading_plan.which_table import Matched
from scoring.records import ROW

FILE, SHEET, FOLDER = "{file}", "{sheet}", "{folder}"
"""What may stand for a fixed value: the name of the file, of the sheet, of the folder."""


@dataclass(frozen=True)
class Part:
    """What one grid gives to one table.

    Attributes
    ----------
    frame : DataFrame
        Texts under the names of the contract, and the row of each.
    given : AsGiven
        What it looked like.
    troubles : tuple of RawTrouble
        What the reader found odd, under the names of the contract.
    several_tables : bool
        Whether the same rows give to other tables too.
    """

    frame: pd.DataFrame
    given: AsGiven
    troubles: tuple[RawTrouble, ...] = ()
    several_tables: bool = False


@dataclass
class _Columns:
    """The columns that one grid gives to one table."""

    texts: dict[str, NDArray[np.object_]] = field(default_factory=dict)
    headings: dict[str, str] = field(default_factory=dict)
    places: dict[str, int] = field(default_factory=dict)

    def put(self, name: str, texts: NDArray[np.object_], heading: str, place: int) -> None:
        """Add a column; where it is there already, fill what is empty in it."""
        if name in self.texts:
            mine = self.texts[name]
            self.texts[name] = np.where(mine == "", texts, mine)
            return
        self.texts[name] = texts
        self.headings[name], self.places[name] = heading, place


def parts_of(
    found: Matched, languages: tuple[str, ...]
) -> tuple[dict[str, Part], tuple[int, ...], list[str]]:
    """Read one grid by the plan.

    Returns
    -------
    parts : dict of str to Part
        By table.
    left : tuple of int
        Rows below the headings that hold something and are no records.
    unknown : list of str
        Words that the plan does not know, each with its heading.
    """
    grid, table, layout = found.grid, found.table, found.layout
    planned = table.by_heading()
    place_of = {heading: place for place, heading in enumerate(layout.headings) if heading}
    key = next(
        (
            place_of[column.heading]
            for column in table.columns
            if column.heading in place_of and any(f.endswith(".unit_id") for f in column.fills)
        ),
        None,
    )
    grid = _merged_filled(grid, layout.body)
    out = no_records(grid, layout, key, table.no_record_begins_with)
    left = grid.rows[out & (np.arange(len(out)) >= layout.body) & (grid.filled() > 0)]
    rows = grid.rows[~out]
    columns: dict[str, _Columns] = {name: _Columns() for name in table.feeds}
    told: list[tuple[PlannedColumn, int]] = []
    unknown: list[str] = []
    for heading, place in place_of.items():
        column = planned.get(heading)
        if column is None:
            continue
        if column.means:
            told.append((column, place))
            continue
        cells = Distinct.of(grid.columns[place].filter(_mask(~out)))
        for fills in column.fills:
            owner = fills.partition(".")[0]
            if column_of(fills).kind is Kind.CHOICE:
                unknown += unknown_words(cells.filled, fills, column, table, languages)
            name, written = texts_by_plan(cells.texts, fills, column, table, languages)
            columns.setdefault(owner, _Columns()).put(name, cells.spread(written), heading, place)
    for fills, value in table.fixed.items():
        owner, _, name = fills.partition(".")
        put = {FILE: grid.stem, SHEET: grid.sheet or grid.stem, FOLDER: grid.folder}.get(
            value, value
        )
        texts = np.full(len(rows), put, dtype=object)
        columns.setdefault(owner, _Columns()).put(name, texts, "", -1)
    several = len(table.feeds) > 1
    parts = {
        name: _part(name, one, rows, grid, found, several=several) for name, one in columns.items()
    }
    for column, place in told:
        cells = Distinct.of(grid.columns[place].filter(_mask(~out)))
        said = cells.spread(
            [tells_done(t, column, table, languages) if t else "" for t in cells.texts]
        )
        _add_told(parts, column, said, columns, rows, (grid, place, found))
    return parts, tuple(left.tolist()), unknown


def _mask(rows: NDArray[np.bool_]) -> Any:  # noqa: ANN401 - pyarrow ships no types
    return pa.array(rows)


def _merged_filled(grid: Grid, body: int) -> Grid:
    """Give each cell of an area of merged cells below the headings what its first cell says."""
    if not grid.merged or body >= len(grid.rows):
        return grid
    columns = {place: list(column.to_pylist()) for place, column in enumerate(grid.columns)}
    start = int(grid.rows[body])
    for top, left, bottom, right in grid.merged:
        if left != right or top < start or left > len(columns):
            continue
        first, last = np.searchsorted(grid.rows, [top, bottom])
        cells = columns[left - 1]
        for place in range(int(first) + 1, min(int(last) + 1, len(cells))):
            cells[place] = cells[int(first)]
    filled = tuple(pa.array(columns[place], pa.string()) for place in range(len(grid.columns)))
    return replace(grid, columns=filled)


def _part(  # noqa: PLR0913 - what is known of a grid
    name: str,
    columns: _Columns,
    rows: NDArray[np.int64],
    grid: Grid,
    found: Matched,
    *,
    several: bool,
) -> Part:
    frame = pd.DataFrame({ROW: rows} | columns.texts)
    if several:
        own = [n for n in columns.texts if n != "unit_id" and columns.places[n] >= 0]
        days = {"inspected_on", "done_on", "occurred_on"}
        telling = [n for n in own if n not in days] if name != "units" else ["unit_id"]
        telling = [n for n in telling if n in frame] or own
        frame = frame[(frame[telling] != "").any(axis=1)] if telling else frame.iloc[:0]
        if name == "walkdowns" and "inspected_on" in columns.texts:
            seen = pd.DataFrame({ROW: rows} | columns.texts)
            frame = seen[(seen[[*telling, "inspected_on"]] != "").any(axis=1)]
    given = AsGiven(
        _with_column_names(columns.headings),
        int(grid.rows[found.layout.first]),
        grid.rows,
        {n: grid.columns[place] for n, place in columns.places.items() if place >= 0},
    )
    kept = set(frame[ROW].tolist()) if grid.troubles else set()
    troubles = tuple(
        replace(trouble, heading=n)
        for trouble in grid.troubles
        if trouble.row in kept
        for n, place in columns.places.items()
        if str(place + 1) == trouble.heading
    )
    return Part(frame.reset_index(drop=True), given, troubles, several)


def _with_column_names(headings: Mapping[str, str]) -> dict[str, str]:
    return {name: heading for name, heading in headings.items() if heading}


def _add_told(  # noqa: PLR0913, PLR0917 - what is known of a column
    parts: dict[str, Part],
    column: PlannedColumn,
    said: NDArray[np.object_],
    columns: Mapping[str, _Columns],
    rows: NDArray[np.int64],
    where: tuple[Grid, int, Matched],
) -> None:
    """Add the failures, or the re-work, that one column tells of."""
    owner = "rework" if column.means in ACTION_BY_NAME else "events"
    day_name = "done_on" if owner == "rework" else "occurred_on"
    here = said != ""
    others = columns.get(owner, _Columns())
    units = next(
        (c.texts["unit_id"] for c in (others, *columns.values()) if "unit_id" in c.texts),
        np.full(len(rows), "", dtype=object),
    )
    days = others.texts.get(day_name, np.full(len(rows), "", dtype=object))
    frame = {ROW: rows[here], "unit_id": units[here]}
    frame[day_name] = np.where(said[here] == YES, days[here], said[here])
    frame["actions" if owner == "rework" else "mode"] = np.full(
        here.sum(), column.means, dtype=object
    )
    for name, texts in others.texts.items():
        if name not in frame and name not in ("actions", "mode"):
            frame[name] = texts[here]
    grid, place, found = where
    given = AsGiven(
        {day_name: column.heading, "actions": column.heading, "mode": column.heading},
        int(grid.rows[found.layout.first]),
        grid.rows,
        {day_name: grid.columns[place]},
    )
    new = Part(pd.DataFrame(frame), given, (), several_tables=True)
    if owner not in parts or parts[owner].frame.empty or _is_bare(parts[owner], owner):
        parts[owner] = new
        return
    mine = parts[owner]
    both = pd.concat([mine.frame, new.frame], ignore_index=True).fillna("")
    parts[owner] = Part(both, mine.given, mine.troubles, several_tables=True)


def _is_bare(part: Part, owner: str) -> bool:
    """Whether a part says no failure or re-work by itself, only what goes with others."""
    needed = "actions" if owner == "rework" else "mode"
    return needed not in part.frame
