"""Corrections of a plan by key: what a heading, a unit, a word or a whole column stands for."""

from collections.abc import Callable
from dataclasses import replace

from scoring.contract import TABLE_BY_NAME
from scoring.reading_plan.told import COLUMN, FEEDS, UNIT, what_is_meant
from scoring.reading_plan.what_a_plan_says import ASIDE, Plan, PlannedColumn, PlannedTable


def corrected_plan(plan: Plan, key: str, given: str) -> Plan | None:
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
        return _with_columns(plan, _named(key.removeprefix(COLUMN)), _of_column, given)
    if key.startswith(UNIT):
        return _with_columns(plan, _named(key.removeprefix(UNIT)), _of_unit, given)
    if key.startswith(FEEDS):
        return plan  # heeded where tables are proposed
    table, _, rest = key.partition(".")
    name, _, word = rest.partition(".")
    if table not in TABLE_BY_NAME or name not in TABLE_BY_NAME[table].column_by_name:
        return None
    fills = f"{table}.{name}"
    if word:

        def put(column: PlannedColumn, said: str, owner: PlannedTable) -> PlannedColumn:
            del owner
            return replace(column, words={**column.words, word: said})

        return _with_columns(plan, lambda c: fills in c.fills, put, given)
    return _with_fixed(plan, table, fills, given)


def _named(heading: str) -> Callable[[PlannedColumn], bool]:
    return lambda column: column.heading == heading


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
