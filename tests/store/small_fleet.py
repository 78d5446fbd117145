"""A few records for a store, and the commands over it."""

import pandas as pd
from click.testing import CliRunner
from sqlalchemy import func, select

from scoring.cli.main import cli
from scoring.contract import TABLE_BY_NAME
from scoring.store.integrity import check_store
from scoring.store.open_store import open_store
from scoring.store.put_records import put_records
from scoring.store.schema import HISTORY, RECORDS

DAY = pd.Timestamp("2026-06-30")
UNIT = {
    "unit_id": "U-1",
    "site": "North pit",
    "installed_on": "2024-01-10",
    "mounting": "keyed_bore",
    "shaft_diameter_mm": 80.0,
}
WALKDOWN = {
    "walkdown_id": "W-1",
    "unit_id": "U-1",
    "inspected_on": "2024-01-11",
    "kind": "post_install",
}


def record(table, **values):
    """Return a row as the store keeps it; what is not given is blank."""
    start = UNIT if table == "units" else WALKDOWN
    blank = dict.fromkeys(column.name for column in TABLE_BY_NAME[table].columns)
    return {**blank, **start, **values}


def jobs_of_a_plan():
    """Return two jobs of a plan, the first in a shutdown without a day."""
    begin = {"order": 1, "window": "July", "starts_on": pd.NaT, "unit_id": "U-1", "line": None}
    row = {
        **begin,
        "site": "North pit",
        "verdict": "hold",
        "verdict_after": "watch",
        "actions": "fit_guard;open_breather",
        "hours": 2.5,
        "loss_avoided": 0.1 + 0.2,
        "currency": "EUR",
    }
    last = {**row, "order": 2, "starts_on": DAY, "unit_id": "U-2", "actions": "fit_guard"}
    return pd.DataFrame([row, last])


def put_unit(store, **values):
    with store.writing("Ann Bell") as writing:
        return put_records(writing, "units", [record("units", **values)], "first entry")


def faults(store):
    with store.reading() as connection:
        return check_store(connection).faults


def count(store, table):
    with store.reading() as connection:
        return connection.scalar(select(func.count()).select_from(RECORDS[table]))


def lines_of_history(store, about):
    with store.reading() as connection:
        return connection.scalar(
            select(func.count()).select_from(HISTORY).where(HISTORY.c.about == about)
        )


def counts(where):
    """Return how many records each table of a store holds."""
    store = open_store(where)
    try:
        return {name: count(store, name) for name in RECORDS}
    finally:
        store.close()


def run(*arguments):
    return CliRunner().invoke(cli, [str(part) for part in arguments])


def good(*arguments):
    result = run(*arguments)
    assert result.exit_code == 0, result.output + repr(result.exception)
    return result.output


def refused(*arguments):
    """Return what a person is told who cannot have what they asked for."""
    result = run(*arguments)
    assert result.exit_code != 0
    assert hasattr(result.exception, "exit_code"), repr(result.exception)
    return f"{result.output}\n{result.exception}"
