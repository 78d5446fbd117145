"""A database that is handed over as one file: read only, bounded, and gone afterwards."""

import sqlite3
from contextlib import closing

import pytest

from scoring.errors import FixableError, UnreadableFleetError
from scoring.files.database_file import ask_database_file, tables_of_database, whole_table
from scoring.files.query_answer import Bounds
from scoring.files.query_grid import read_query_grid
from scoring.reading_plan.what_a_plan_says import Query

UNREACHED = "postgresql://reader@127.0.0.1:1/maintenance"


@pytest.fixture
def data():
    with closing(sqlite3.connect(":memory:")) as base:
        base.execute('CREATE TABLE "odd ""name" (no TEXT, shaft REAL)')
        base.execute("""INSERT INTO "odd ""name" VALUES ('C-1', 80.0), ('C-2', NULL)""")
        base.execute("""CREATE VIEW few AS SELECT no FROM "odd ""name" LIMIT 1""")
        base.commit()
        return base.serialize()


def ask(data, query, **bounds):
    return ask_database_file(Query("units", "", query), data, Bounds(**bounds) if bounds else None)


def test_its_tables_and_views_are_told_and_read_whole(data):
    assert [one.name for one in tables_of_database("a.db", data)] == ["few", 'odd "name']
    grid = ask(data, whole_table('odd "name'))
    assert [grid.row_texts(row) for row in range(3)] == [
        ["no", "shaft"],
        ["C-1", "80"],
        ["C-2", ""],
    ]
    assert ask(data, whole_table("few")).row_texts(1) == ["C-1"]


def test_a_log_that_did_not_come_with_it_is_not_missed(data):
    with_log = data[:18] + b"\2\2" + data[20:]
    assert ask(with_log, "SELECT no FROM few").row_texts(1) == ["C-1"]


@pytest.mark.parametrize(
    "query",
    [
        "DELETE FROM few",
        "ATTACH '/etc/passwd' AS other",
        "PRAGMA query_only = OFF",
        "SELECT 1; DROP VIEW few",
        "WITH one AS (SELECT 1) DELETE FROM few",
        """WITH one AS (SELECT 1) INSERT INTO "odd ""name" VALUES ('C-3', 1)""",
        "SELECT load_extension('other')",
        "SELECT * FROM nowhere",
        "SELECT name FROM pragma_database_list",
    ],
)
def test_it_is_only_read(data, query):
    with pytest.raises(FixableError) as refused:
        ask(data, query)
    assert str(refused.value).startswith("units: ")


def test_a_query_without_an_end_is_ended(data):
    with pytest.raises(UnreadableFleetError, match="interrupted"):
        ask(
            data,
            "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n) "
            "SELECT count(*) FROM n",
            steps=1_000_000,
        )


def test_an_answer_that_is_too_long_is_refused(data):
    with pytest.raises(FixableError, match="more than 0 million letters"):
        ask(
            data,
            "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n) SELECT i FROM n",
            letters=1000,
        )


@pytest.mark.parametrize("cut", [0, 10, 120])
def test_what_is_no_database_is_told(data, cut):
    with pytest.raises(UnreadableFleetError):
        tables_of_database("a.db", data[:cut])


def test_a_password_stands_in_no_message(monkeypatch):
    monkeypatch.setenv("OURS", "of-the-server")
    query = Query("units", UNREACHED, "SELECT 1", "OURS")
    for given in ("hush-hush", ""):
        with pytest.raises(FixableError) as refused:
            read_query_grid(query, password=given, bounds=Bounds())
        assert "hush-hush" not in str(refused.value)
        assert "of-the-server" not in str(refused.value)
    with pytest.raises(FixableError, match="holds a password") as refused:
        read_query_grid(Query("units", UNREACHED.replace("@", ":hush-hush@"), "SELECT 1"))
    assert "hush-hush" not in str(refused.value)


def test_a_file_at_an_address_is_only_read_and_in_time(data, tmp_path):
    path = tmp_path / "plant.db"
    path.write_bytes(data)
    query = Query("units", f"sqlite:///{path}", "SELECT no FROM few")
    assert read_query_grid(query, password="", bounds=Bounds()).row_texts(1) == ["C-1"]
    endless = (
        "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n) SELECT count(*) FROM n"
    )
    with pytest.raises(UnreadableFleetError, match="interrupted"):
        read_query_grid(
            Query("units", query.database, endless), password="", bounds=Bounds(steps=1_000_000)
        )
    assert path.read_bytes() == data
