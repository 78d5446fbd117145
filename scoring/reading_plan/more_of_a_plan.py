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
from scoring.reading_plan.propose_words import Asked, propose_words
from scoring.reading_plan.told import Told
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
            _with_new_words(_corrected(c, told, table), cells, asked) for c in table.columns
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


def _corrected(column: PlannedColumn, told: Told, table: PlannedTable) -> PlannedColumn:
    said = told.column(column.heading, table.feeds)
    if said is None:
        return column
    fills, means = said
    return replace(column, fills=fills, means=means, because="told so", certainty=SURE)


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
    if ours.kind not in (Kind.CHOICE, Kind.SEVERAL):
        return column
    texts = cells[column.heading].filled
    new = propose_words(texts, fills, ours, column.heading, asked, known=column.words)
    return replace(column, words={**column.words, **new}) if new else column
