"""Corrections of a plan by key: what a heading, a unit, a word or a whole column stands for."""

from collections.abc import Callable
from dataclasses import replace

from scoring.contract import TABLE_BY_NAME, Column, Kind
from scoring.errors import FixableError
from scoring.reading_plan.told import COLUMN, FEEDS, UNIT, what_is_meant
from scoring.reading_plan.what_a_plan_says import (
    ASIDE,
    NOTHING,
    Plan,
    PlannedColumn,
    PlannedTable,
)

DATES, DECIMAL = "dates", "decimal"
"""How keys begin that tell how dates and numbers are written."""

WRITINGS = {DATES: ("day month year", "month day year"), DECIMAL: (",", ".")}


def corrected_plan(  # noqa: PLR0911 - one kind of key after another
    plan: Plan, key: str, given: str
) -> Plan | None:
    """Return the plan with one thing corrected; None if nothing bears that key.

    Examples
    --------
    >>> column = PlannedColumn("Oil", ("walkdowns.oil_level",), words={"ok": "right"})
    >>> plan = Plan((PlannedTable(("a.csv",), ("walkdowns",), columns=(column,)),))
    >>> corrected_plan(plan, "walkdowns.oil_level.ok", "high").tables[0].columns[0].words
    {'ok': 'high'}
    >>> corrected_plan(plan, "column.Fuel", "units.site") is None
    True
    """
    if key.startswith(COLUMN):
        heading = key.removeprefix(COLUMN)
        _refuse_no_table(plan, heading, given)
        return _with_columns(plan, _named(heading), _of_column, given)
    if key.startswith(UNIT):
        return _with_columns(plan, _named(key.removeprefix(UNIT)), _of_unit, given)
    if key.startswith(FEEDS):
        return plan  # heeded where tables are proposed
    what, _, where = key.partition(".")
    if what in (DATES, DECIMAL):
        return _with_writing(plan, what, where, given)
    table, _, rest = key.partition(".")
    name, _, word = rest.partition(".")
    if table not in TABLE_BY_NAME or name not in TABLE_BY_NAME[table].column_by_name:
        return None
    fills = f"{table}.{name}"
    if word:
        _refuse_no_word(key, given, TABLE_BY_NAME[table][name])

        def put(column: PlannedColumn, said: str, owner: PlannedTable) -> PlannedColumn:
            del owner
            return replace(column, words={**column.words, word: said})

        return _with_columns(plan, lambda c: fills in c.fills, put, given)
    return _with_fixed(plan, table, fills, given)


def _refuse_no_table(plan: Plan, heading: str, given: str) -> None:
    """Refuse a column of a table that no sheet with this heading feeds: it would go unheeded."""
    named = _named(heading)
    tables = [t for t in plan.tables if any(named(c) for c in t.columns)]
    if tables and all(what_is_meant(given, t.feeds) is None for t in tables):
        source = tables[0].sources[0]
        name, feeds = source.rpartition("sheet ")[2], " and ".join(tables[0].feeds) or "none"
        raise FixableError(
            f"{COLUMN}{heading}: {source} feeds {feeds}, and {given} is of another table; name a "
            f"column of these, or say {FEEDS}{name}= with all the tables it feeds"
        )


def _refuse_no_word(key: str, given: str, column: Column) -> None:
    """Refuse what a column of words cannot hold."""
    words = column.kind in (Kind.CHOICE, Kind.SEVERAL)
    if words and given not in {*column.allowed, NOTHING}:
        raise FixableError(
            f"{key}: {given!r} is no word of {column.name}; one of: "
            + "; ".join((*column.allowed, NOTHING))
        )


def _with_writing(plan: Plan, what: str, where: str, given: str) -> Plan | None:
    """Say in which order dates are written, or which the decimal mark is, in some tables or all.

    ``where`` is a sheet, a file, or the heading of a column of dates; empty: everywhere.
    """
    allowed = WRITINGS[what]
    if given not in allowed:
        raise FixableError(
            f"{what}{'.' * bool(where)}{where}: {given!r} is none of: {'; '.join(allowed)}"
        )
    if what == DATES and where:
        column = _with_columns(plan, _named(where), _of_dates, given)
        if column is not None:
            return column
    tables = tuple(
        _written(table, what, given) if table.feeds and _is_from(table, where) else table
        for table in plan.tables
    )
    return (
        None
        if tables == plan.tables and not _anywhere(plan, where)
        else replace(plan, tables=tables)
    )


def _written(table: PlannedTable, what: str, given: str) -> PlannedTable:
    if what == DATES:
        return replace(table, dates=given)
    thousands = ("." if given == "," else ",") if table.thousands else ""
    return replace(table, decimal=given, thousands=thousands)


def _anywhere(plan: Plan, where: str) -> bool:
    return any(_is_from(table, where) for table in plan.tables)


def _is_from(table: PlannedTable, where: str) -> bool:
    """Whether a table is read from a sheet or file of some name."""
    names = {
        name
        for source in table.sources
        for file, _, sheet in [source.partition(", sheet ")]
        for name in (source, file, file.rpartition(".")[0], sheet)
    }
    return not where or where in names


def _of_dates(column: PlannedColumn, given: str, table: PlannedTable) -> PlannedColumn:
    del table
    return replace(column, dates=given)


def _named(heading: str) -> Callable[[PlannedColumn], bool]:
    """Tell columns by their whole heading, or by its part below the name of their group."""
    return lambda column: heading in {column.heading, column.heading.rpartition(" / ")[2]}


def _with_columns(
    plan: Plan,
    wanted: Callable[[PlannedColumn], bool],
    change: Callable[[PlannedColumn, str, PlannedTable], PlannedColumn],
    given: str,
) -> Plan | None:
    if not any(wanted(column) for table in plan.tables for column in table.columns):
        return None
    tables = []
    for table in plan.tables:
        columns = tuple(change(c, given, table) if wanted(c) else c for c in table.columns)
        tables.append(replace(table, columns=columns))
    return replace(plan, tables=tuple(tables))


def _of_column(column: PlannedColumn, given: str, table: PlannedTable) -> PlannedColumn:
    meant = what_is_meant(given, table.feeds)
    if meant is None:
        return column
    fills, means = meant
    if fills == column.fills and means == column.means:
        return column
    return replace(column, fills=fills, means=means, because="told so", certainty="sure")


def _of_unit(column: PlannedColumn, given: str, table: PlannedTable) -> PlannedColumn:
    del table
    return replace(column, unit=given)


def _with_fixed(plan: Plan, table: str, fills: str, given: str) -> Plan | None:
    """Say what stands in every row of the tables that feed one of ours."""
    if not any(table in one.feeds for one in plan.tables):
        return None
    said = {} if given == ASIDE else {fills: given}
    tables = tuple(
        replace(one, fixed={**one.fixed, **said})
        if table in one.feeds and not any(fills in c.fills for c in one.columns)
        else one
        for one in plan.tables
    )
    return replace(plan, tables=tables)
