"""How the grids of one shape are read, as a proposal."""

from collections import Counter
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

import pyarrow as pa

from scoring.contract import TABLE_BY_NAME, Kind
from scoring.contract.declaration import YES_NO
from scoring.reading_plan.assign_columns import Assigned, assign, scored, tables_fed, tables_named
from scoring.reading_plan.by_shape import with_those_of_shape
from scoring.reading_plan.dates_written import order_of
from scoring.reading_plan.grid import Distinct, Grid
from scoring.reading_plan.heading_matches import OPENS, Match, Target
from scoring.reading_plan.layout import Layout, begins_like_total, first_texts, no_records
from scoring.reading_plan.numbers_written import decimal_of
from scoring.reading_plan.profile import MOSTLY, Profile
from scoring.reading_plan.propose_missing import with_what_is_missing
from scoring.reading_plan.propose_units import DOUBTED, propose_unit
from scoring.reading_plan.propose_words import Asked, propose_done_words, propose_words
from scoring.reading_plan.told import Told
from scoring.reading_plan.units_of_measure import heading_and_unit, unit_called
from scoring.reading_plan.what_a_plan_says import (
    ASIDE,
    ASKED,
    LIKELY,
    OPEN,
    OTHER,
    SURE,
    PlannedColumn,
    PlannedTable,
    Question,
)

LEAST_SURE = 99.0
"""From this score on a proposal is called sure; planning value of ours. [%]"""


@dataclass
class Group:
    """Grids of the same headings, and where these stand in each."""

    grids: list[Grid]
    layouts: list[Layout]

    @property
    def headings(self) -> tuple[str, ...]:
        """The headings, by place."""
        return self.layouts[0].headings

    @cached_property
    def bodies(self) -> list[Any]:
        """Of each grid, which rows may be records."""
        return [
            ~no_records(grid, layout, None, tuple(self.totals))
            for grid, layout in zip(self.grids, self.layouts, strict=True)
        ]

    @cached_property
    def totals(self) -> list[str]:
        """How rows begin that are totals."""
        found: dict[str, None] = {}
        for grid, layout in zip(self.grids, self.layouts, strict=True):
            for text in dict.fromkeys(first_texts(grid)[layout.body :]):
                word = begins_like_total(text) if text else ""
                if word:
                    found[word] = None
        return list(found)

    def cells(self, place: int) -> Distinct:
        """Return the cells of one column in all grids."""
        parts = [
            grid.columns[place].filter(pa.array(body))
            for grid, body in zip(self.grids, self.bodies, strict=True)
        ]
        return Distinct.of(pa.concat_arrays(parts))

    def unit_below(self, place: int) -> str:
        """Return the unit in the line below a heading."""
        layout, grid = self.layouts[0], self.grids[0]
        return unit_called(str(grid.columns[place][layout.units])) if layout.units >= 0 else ""


def propose_table(group: Group, asked: Asked, told: Told) -> tuple[PlannedTable, tuple[str, ...]]:
    """Propose how the grids of one shape are read.

    Returns
    -------
    table : PlannedTable
        The proposal.
    languages : tuple of str
        In which its headings and words are written.
    """
    grid, layout = group.grids[0], group.layouts[0]
    profiles = {h: Profile.of(group.cells(p)) for p, h in enumerate(group.headings) if h}
    options = {h: scored(h, profile) for h, profile in profiles.items()}
    named = tables_named(grid.sheet or grid.stem)
    fed = _fed(group, options, named, told)
    said = {h: one for h in profiles if (one := told.column(h, fed)) is not None}
    free = {h: found for h, found in options.items() if h not in said}
    chosen = assign(
        free, profiles, fed, taken=tuple(f for fills, _ in said.values() for f in fills)
    )
    chosen |= {h: as_told(fills, means) for h, (fills, means) in said.items() if fills}
    units = {
        h: told.unit(h) or heading_and_unit(h)[1] or group.unit_below(p) or unit_called(h)
        for p, h in enumerate(group.headings)
        if h
    }
    silent = {h: seen for h, seen in profiles.items() if h not in said or h in chosen}
    chosen = with_those_of_shape(chosen, silent, units, fed)
    fed = tuple(
        t for t in TABLE_BY_NAME if t in {*fed, *(n for c in chosen.values() for n in c.tables)}
    )
    table = PlannedTable(
        sources=tuple(one.name for one in group.grids),
        feeds=fed,
        heading_row=int(grid.rows[layout.first]),
        heading_rows=layout.heading_rows,
        units_row=int(grid.rows[layout.units]) if layout.units >= 0 else 0,
        no_record_begins_with=tuple(group.totals),
        encoding=grid.encoding,
        delimiter=grid.delimiter,
        because=_why_fed(grid, named, fed),
        certainty=SURE if named and set(named) <= set(fed) else LIKELY,
    )
    if not fed:
        return table, ()
    table = _written_how(table, group, chosen, profiles, asked)
    units |= _units_in_cells(chosen, profiles, units)
    columns = tuple(
        proposed_column(heading, chosen.get(heading), profiles[heading], table, units, asked)
        if heading in chosen or heading not in said
        else PlannedColumn(heading, because="told so", certainty=SURE)
        for heading in group.headings
        if heading
    )
    table = with_what_is_missing(replace(table, columns=columns), profiles, grid, asked)
    return table, _languages(chosen)


def _fed(
    group: Group,
    options: dict[str, list[tuple[float, Match, str]]],
    named: tuple[str, ...],
    told: Told,
) -> tuple[str, ...]:
    """Return the tables that a grid feeds, as told or as its headings say."""
    said = [one for grid in group.grids if (one := told.feeds(grid)) is not None]
    return said[0] if said else tables_fed(options, named)


def as_told(fills: tuple[str, ...], means: str) -> Assigned:
    """Return what a person told of a heading."""
    tables = tuple(one.partition(".")[0] for one in fills)
    return Assigned(Target(fills[0].rpartition(".")[2], means), tables, 100.0, "told so")


def _why_fed(grid: Grid, named: tuple[str, ...], fed: tuple[str, ...]) -> str:
    if not fed:
        return "no heading is like one of ours"
    if named and set(fed) <= set(named):
        return f"{grid.sheet or grid.stem} is a name for {' and '.join(named)}"
    if len(fed) > 1:
        return f"one table whose headings are of {', '.join(fed)}"
    return f"its headings are of {fed[0]}"


def _written_how(
    table: PlannedTable,
    group: Group,
    chosen: dict[str, Assigned],
    profiles: dict[str, Profile],
    asked: Asked,
) -> PlannedTable:
    """Propose the order of dates, and the marks of numbers."""
    dates = [t for h, one in chosen.items() if _is_date(one) for t in profiles[h].texts]
    order, example = order_of(dates)
    if order in ("?", "mixed"):
        key = "dates" if table.delimiter else f"dates.{group.grids[0].stem}"
        asked.setdefault(
            key,
            Question(
                key,
                f"{group.grids[0].file} has {example}. In which order are dates written there?",
                ("day month year", "month day year"),
            ),
        )
        order = OPEN + key
    numbers = [t for h, one in chosen.items() if _is_number(one) for t in profiles[h].texts]
    decimal, thousands, seen = decimal_of(numbers)
    if decimal == "?":
        key = "decimal" if table.delimiter else f"decimal.{group.grids[0].stem}"
        asked.setdefault(
            key,
            Question(
                key, f"{group.grids[0].file} has {seen}. Which is the decimal mark?", (",", ".")
            ),
        )
        decimal, thousands = OPEN + key, OTHER + key
    told = "; ".join(
        text for text in (table.because, f"dates: {example}" if example else "", seen) if text
    )
    return replace(table, dates=order, decimal=decimal, thousands=thousands, because=told)


def _units_in_cells(
    chosen: dict[str, Assigned], profiles: dict[str, Profile], units: dict[str, str]
) -> dict[str, str]:
    """Return the units that only the cells of some columns tell, as fractions of an inch do."""
    found = {}
    for heading, one in chosen.items():
        if _is_number(one) and not units.get(heading):
            texts = profiles[heading].texts
            unit, _ = propose_unit(one.target.column, "", texts, ("", ""), frozenset(), {})
            if unit:
                found[heading] = "" if unit.startswith(OPEN) else unit
                found[f" {heading}"] = (
                    unit.replace(OPEN, DOUBTED) if unit.startswith(OPEN) else unit
                )
    return found


def _is_date(one: Assigned) -> bool:
    return one.target.means != "" or _kind(one) is Kind.DATE


def _is_number(one: Assigned) -> bool:
    return not one.target.means and _kind(one) in (Kind.NUMBER, Kind.COUNT)


def _kind(one: Assigned) -> Kind:
    return TABLE_BY_NAME[one.tables[0]][one.target.column].kind


def proposed_column(  # noqa: PLR0913, PLR0917 - what is known of a column
    heading: str,
    one: Assigned | None,
    profile: Profile,
    table: PlannedTable,
    units: dict[str, str],
    asked: Asked,
) -> PlannedColumn:
    """Propose what one column is: its unit, its words; ask what cannot be told."""
    if one is None:
        return PlannedColumn(heading, because="like none of ours", certainty=LIKELY)
    fills = tuple(f"{name}.{one.target.column}" for name in one.tables)
    certainty = SURE if one.score >= LEAST_SURE else LIKELY
    if one.target.means:
        return _told(heading, one, profile, fills, certainty, asked)
    column = TABLE_BY_NAME[one.tables[0]][one.target.column]
    if column.name == "actions" and profile.yes_no >= MOSTLY:
        key = f"done.{heading}"
        asked.setdefault(
            key,
            Question(key, f"Under {heading!r}, what was done where it says yes?", column.allowed),
        )
        return PlannedColumn(heading, fills, OPEN + key, because=one.because, certainty=ASKED)
    if one.choices and certainty == LIKELY:
        key = f"column.{heading}"
        asked.setdefault(key, Question(key, f"What is {heading!r}?", (*one.choices, ASIDE)))
        fills, certainty = (OPEN + key,), ASKED
    if certainty == ASKED:  # its words and units are asked for once it is known
        return PlannedColumn(heading, fills, because=one.because, certainty=certainty)
    words = propose_words(profile.texts, f"{one.tables[0]}.{column.name}", column, heading, asked)
    unit, because = "", ""
    if column.is_numeric:
        others = frozenset(u for h, u in units.items() if u and h != heading)
        marks = tuple("" if m.startswith(OPEN) else m for m in (table.decimal, table.thousands))
        unit, because = propose_unit(
            column.name, units.get(heading, ""), profile.texts, (marks[0], marks[1]), others, asked
        )
    if any(v.startswith(OPEN) for v in (unit, *words.values())):
        certainty = ASKED
    reason = "; ".join(text for text in (one.because, because) if text)
    return PlannedColumn(
        heading, fills, unit=unit, words=words, because=reason, certainty=certainty
    )


def _told(  # noqa: PLR0913, PLR0917 - what is known of a column
    heading: str,
    one: Assigned,
    profile: Profile,
    fills: tuple[str, ...],
    certainty: str,
    asked: Asked,
) -> PlannedColumn:
    """Propose a column that tells of one failure, or of one re-work."""
    words: dict[str, str] = {}
    if one.target.column == "actions":
        said = [t for t in profile.texts if profile.yes_no > max(profile.dates, 0.5)]
        words = propose_done_words(said, f"rework.{one.target.means}", heading, asked)
        words = {text: word for text, word in words.items() if word not in YES_NO or text}
    else:
        date = TABLE_BY_NAME["events"]["occurred_on"]
        words = propose_words(profile.texts, "events.occurred_on", date, heading, asked)
    return PlannedColumn(
        heading,
        fills,
        means=one.target.means,
        words=words,
        because=one.because,
        certainty=certainty,
    )


def _languages(chosen: dict[str, Assigned]) -> tuple[str, ...]:
    count = Counter(one.language for one in chosen.values() if one.language not in ("", OPENS))
    most = max(count.values(), default=0)
    return tuple(name for name, n in count.most_common() if n >= max(2, 0.2 * most)) or ("english",)
