"""What is new in files that a plan knows: new headings, new words; nothing else is asked."""

from collections.abc import Sequence
from dataclasses import replace

import pyarrow as pa

from scoring.contract import Kind
from scoring.reading_plan.assign_columns import assign, scored
from scoring.reading_plan.cells_by_plan import column_of
from scoring.reading_plan.grid import Distinct
from scoring.reading_plan.layout import no_records
from scoring.reading_plan.profile import Profile
from scoring.reading_plan.propose_table import as_told, proposed_column
from scoring.reading_plan.propose_words import Asked, propose_words
from scoring.reading_plan.told import Told
from scoring.reading_plan.units_of_measure import heading_and_unit, unit_called
from scoring.reading_plan.what_a_plan_says import (
    ASIDE,
    ASKED,
    LIKELY,
    OPEN,
    SURE,
    PlannedColumn,
    PlannedTable,
    Question,
)
from scoring.reading_plan.which_table import Matched


def with_what_is_new(
    table: PlannedTable, found: Sequence[Matched], asked: Asked, told: Told
) -> PlannedTable:
    """Add to a part of a plan the headings and words of some grids that it does not know."""
    if not table.feeds:
        return table
    for match in found:
        cells = _cells(match)
        columns = tuple(
            _with_new_words(_corrected(c, told, table, (match, cells), asked), cells, asked)
            for c in table.columns
        )
        table = replace(table, columns=columns)
        known = table.by_heading()
        new = {h: Profile.of(one) for h, one in cells.items() if h not in known}
        taken = {fills for column in table.columns for fills in column.fills}
        options = {h: scored(h, profile) for h, profile in new.items()}
        chosen = assign(options, new, table.feeds)
        more = []
        for heading, profile in new.items():
            one = chosen.get(heading)
            fills = tuple(f"{name}.{one.target.column}" for name in one.tables) if one else ()
            if one is None or one.target.means or set(fills) & taken:
                more.append(
                    PlannedColumn(heading, because="new; like none of ours", certainty=LIKELY)
                )
                continue
            key = f"column.{heading}"
            asked.setdefault(
                key, Question(key, f"What is the new column {heading!r}?", (*fills, ASIDE))
            )
            words = propose_words(profile.texts, fills[0], column_of(fills[0]), heading, asked)
            more.append(
                PlannedColumn(
                    heading,
                    (OPEN + key,),
                    words=words,
                    because=f"new; {one.because}",
                    certainty=ASKED,
                )
            )
        table = replace(table, columns=(*table.columns, *more))
    return table


def _cells(match: Matched) -> dict[str, Distinct]:
    out = no_records(match.grid, match.layout, None, match.table.no_record_begins_with)
    body = pa.array(~out)
    return {
        heading: Distinct.of(match.grid.columns[place].filter(body))
        for place, heading in enumerate(match.layout.headings)
        if heading
    }


def _corrected(
    column: PlannedColumn,
    told: Told,
    table: PlannedTable,
    seen: tuple[Matched, dict[str, Distinct]],
    asked: Asked,
) -> PlannedColumn:
    """Propose a column anew that a person told what it is: its unit and its words follow."""
    said = told.column(column.heading, table.feeds)
    if said is None or said == (column.fills, column.means):
        return column
    match, cells = seen
    fills, means = said
    if not fills or column.heading not in cells:
        return PlannedColumn(column.heading, fills, means, because="told so", certainty=SURE)
    units = {c.heading: _unit(c, match, told) for c in table.columns}
    profile = Profile.of(cells[column.heading])
    one = as_told(fills, means)
    return proposed_column(column.heading, one, profile, table, units, asked)


def _unit(column: PlannedColumn, match: Matched, told: Told) -> str:
    """Return the unit of a column as told, as the plan has it, or as its heading says."""
    heading, layout = column.heading, match.layout
    below = ""
    if layout.units >= 0 and heading in layout.headings:
        place = layout.headings.index(heading)
        below = unit_called(str(match.grid.columns[place][layout.units]))
    return told.unit(heading) or column.unit or heading_and_unit(heading)[1] or below


def _with_new_words(
    column: PlannedColumn, cells: dict[str, Distinct], asked: Asked
) -> PlannedColumn:
    if (
        not column.fills
        or column.means
        or column.heading not in cells
        or column.fills[0].startswith(OPEN)
    ):
        return column
    fills = column.fills[0]
    ours = column_of(fills)
    if ours.kind is Kind.TEXT:
        return column
    texts = cells[column.heading].filled
    new = propose_words(texts, fills, ours, column.heading, asked, known=column.words)
    return replace(column, words={**column.words, **new}) if new else column
