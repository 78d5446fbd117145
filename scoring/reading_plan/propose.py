"""Grids of cells: a proposal how to read them, with questions where it cannot be told."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from scoring.reading_plan.grid import Grid
from scoring.reading_plan.layout import Layout, find_layout
from scoring.reading_plan.more_of_a_plan import with_what_is_new
from scoring.reading_plan.propose_table import Group, propose_table
from scoring.reading_plan.propose_words import Asked
from scoring.reading_plan.told import Told
from scoring.reading_plan.what_a_plan_says import Plan, PlannedTable
from scoring.reading_plan.which_table import Matched, matched


def propose(
    grids: Sequence[Grid], plan: Plan | None = None, given: Mapping[str, str] | None = None
) -> Plan:
    """Propose how to read some grids.

    Parameters
    ----------
    grids : sequence of Grid
        Sheets, files, answers to queries.
    plan : Plan, optional
        What was decided already: only what it does not know is proposed, or asked for.
    given : mapping of str to str, optional
        What a person told: what headings and sheets stand for is heeded here, answers to
        questions by ``answer``.

    Returns
    -------
    Plan

    Examples
    --------
    >>> rows = [["Getriebe", "Werk", "Einbaudatum", "Befestigung", "Wellen-Ø [mm]"],
    ...         ["C-1", "Nord", "07.03.2025", "Passfeder", "80"]]
    >>> proposed = propose([Grid.from_rows("Getriebeliste.csv", "", rows, delimiter=";")])
    >>> proposed.tables[0].feeds, proposed.questions, proposed.tables[0].dates
    (('units',), (), 'day month year')
    >>> [column.fills for column in proposed.tables[0].columns][:3]
    [('units.unit_id',), ('units.site',), ('units.installed_on',)]
    """
    before = plan or Plan()
    told = Told(given or {})
    asked = Asked((question.key, question) for question in before.questions)
    known: dict[int, list[Matched]] = {}
    groups: dict[tuple[str, ...], Group] = {}
    anew: list[str] = []
    for grid in grids:
        if _is_told_anew(grid, before, told):
            anew.append(grid.name)
        elif any(not t.feeds and grid.name in t.sources for t in before.tables):
            continue
        elif (match := matched(grid, before.tables)) is not None:
            known.setdefault(before.tables.index(match.table), []).append(match)
            continue
        layout = find_layout(grid)
        if layout is not None and layout.body < len(grid.rows):
            _grouped(groups, grid, layout)
    tables = [
        with_what_is_new(_without(table, anew), known.get(place, []), asked, told)
        for place, table in enumerate(before.tables)
        if not table.sources or not set(table.sources) <= set(anew)
    ]
    languages = list(before.languages)
    for group in groups.values():
        table, found = propose_table(group, asked, told)
        tables.append(table)
        languages += [language for language in found if language not in languages]
    return replace(
        before,
        tables=tuple(tables),
        questions=tuple(asked.values()),
        languages=tuple(languages),
    )


def _is_told_anew(grid: Grid, before: Plan, told: Told) -> bool:
    """Whether a person told of a grid that it feeds other tables than a plan says."""
    said = told.feeds(grid)
    table = next((t for t in before.tables if grid.name in t.sources), None)
    return said is not None and table is not None and set(said) != set(table.feeds)


def _without(table: PlannedTable, anew: Sequence[str]) -> PlannedTable:
    kept = tuple(source for source in table.sources if source not in anew)
    return replace(table, sources=kept) if kept != table.sources else table


def _grouped(groups: dict[tuple[str, ...], Group], grid: Grid, layout: Layout) -> None:
    """Put grids of the same headings together: they are read alike."""
    key = tuple(heading for heading in layout.headings if heading)
    place = groups.get(key)
    if place is None:
        groups[key] = Group([grid], [layout])
        return
    if place.layouts[0].headings == layout.headings and _same_kind(place.grids[0], grid):
        place.grids.append(grid)
        place.layouts.append(layout)
        return
    groups[*key, grid.name] = Group([grid], [layout])


def _same_kind(one: Grid, other: Grid) -> bool:
    return (one.typed, one.delimiter, one.encoding) == (
        other.typed,
        other.delimiter,
        other.encoding,
    )
