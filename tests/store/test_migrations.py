"""From one schema to the next: nothing is lost, and an old store says how to go on."""

import sqlite3
from contextlib import closing

import pytest
from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.operations import Operations
from alembic.runtime.migration import MigrationContext
from first_layout import lay_out_as_first
from small_fleet import faults, good, refused
from sqlalchemy import inspect, text

from scoring.store.address import store_url as url_of
from scoring.store.migrations.columns_added import columns_added
from scoring.store.open_store import Store, open_store
from scoring.store.restore_backup import restore_backup
from scoring.store.schema import METADATA
from scoring.store.schema_version import migrations, newest_schema, upgrade
from scoring.store.write_backup import back_up


@pytest.fixture
def bare(store_url):
    """Open an empty database, which is not prepared as a store."""
    with closing(Store(url_of(store_url), make=True)) as opened:
        yield opened


def downgrade(connection, to):
    config = migrations()
    config.attributes["connection"] = connection
    command.downgrade(config, to)


def test_the_steps_lead_to_what_is_declared_and_back(bare):
    with bare.changing_layout() as connection:
        upgrade(connection)
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, METADATA) == []
        declared = set(inspect(connection).get_table_names())
    with bare.changing_layout() as connection:
        downgrade(connection, "base")
        assert set(inspect(connection).get_table_names()) == {"alembic_version"}
    with bare.changing_layout() as connection:
        upgrade(connection)
        assert set(inspect(connection).get_table_names()) == declared


def test_a_step_that_fails_changes_nothing(bare):
    def fail_after_the_first_step():
        with bare.changing_layout() as connection:
            upgrade(connection, "0001")
            raise RuntimeError

    with pytest.raises(RuntimeError):
        fail_after_the_first_step()
    with bare.reading() as connection:
        assert inspect(connection).get_table_names() == []


def test_the_first_schema_was_as_it_is_frozen(bare, store_url):
    lay_out_as_first(store_url)
    with bare.reading() as connection:
        frozen = columns_of(connection)
    with bare.changing_layout() as connection:
        downgrade(connection, "base")
        upgrade(connection, "0001")
        assert columns_of(connection) == frozen


def columns_of(connection):
    found = inspect(connection)
    return {
        name: {(c["name"], str(c["type"]), c["nullable"]) for c in found.get_columns(name)}
        for name in found.get_table_names()
    }


def rows_of(store):
    with store.reading() as connection:
        return {
            table: connection.execute(text(f"SELECT * FROM {table}")).mappings().all()  # noqa: S608
            for table in ("units", "walkdowns", "history", "loads", "people")
        }


def test_an_old_store_is_brought_to_the_newest_and_loses_nothing(bare, store_url):
    lay_out_as_first(store_url)
    before = rows_of(bare)
    assert len(before["units"]) == 2
    reported = good("migrate", "--store", store_url)
    assert f"went from schema 0001 to {newest_schema()}" in reported
    after = rows_of(bare)
    for table, rows in before.items():
        kept = [{name: row[name] for name in rows[0]} for row in after[table]]
        assert kept == [dict(row) for row in rows]
    assert {row["measures"] for row in after["people"]} == {"metric"}
    assert faults(bare) == []
    assert "no faults: 2 units, 1 walkdowns" in good("check", store_url)


def test_a_copy_is_made_beside_a_file_before_it_changes(tmp_path):
    url = f"sqlite:///{tmp_path / 'plant.db'}"
    lay_out_as_first(url)
    reported = good("migrate", "--store", url)
    (copy,) = tmp_path.glob("plant-schema-0001-*.db")
    assert str(copy) in reported
    with closing(sqlite3.connect(copy)) as connection:
        assert connection.execute("SELECT version_num FROM alembic_version").fetchone() == ("0001",)
        assert connection.execute("SELECT count(*) FROM units").fetchone() == (2,)
    assert "already; nothing was changed" in good("migrate", "--store", url)
    assert len(list(tmp_path.glob("plant-schema-*"))) == 1


def test_an_old_store_is_refused_with_what_to_do(store_url, tmp_path):
    lay_out_as_first(store_url)
    for arguments in (
        ("rank", store_url),
        ("check", store_url),
        ("load", "demo:small_quarry", "--store", store_url, "--by", "Ann Bell"),
        ("export", "--store", store_url, "--out", tmp_path / "out"),
    ):
        reported = refused(*arguments)
        assert f"has schema 0001, this version works with {newest_schema()}" in reported
        assert f"mount-risk backup --store {store_url} --out before.zip" in reported
        assert f"mount-risk migrate --store {store_url}" in reported


def test_an_old_store_can_be_backed_up_and_comes_back_as_the_newest(store_url, tmp_path):
    lay_out_as_first(store_url)
    back_up(store_url, tmp_path / "old.zip")
    target = f"sqlite:///{tmp_path / 'restored.db'}"
    done = restore_backup(tmp_path / "old.zip", target)
    assert (done.before, done.after) == ("0001", newest_schema())
    with closing(open_store(target)) as store:
        assert faults(store) == []


def test_a_newer_store_is_refused_and_left_alone(store_url, bare, tmp_path):
    good("migrate", "--store", store_url)
    with bare.changing_layout() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    for arguments in (
        ("rank", store_url),
        ("migrate", "--store", store_url),
        ("load", "demo:small_quarry", "--store", store_url, "--by", "Ann Bell"),
        ("export", "--store", store_url, "--out", tmp_path / "out"),
    ):
        assert "has schema 9999, which this version of the program does not know" in refused(
            *arguments
        )


def test_tables_of_something_else_are_left_alone(store_url, bare):
    with bare.changing_layout() as connection:
        connection.execute(text("CREATE TABLE theirs (number INTEGER)"))
    assert "tables of something else" in refused("migrate", "--store", store_url)
    reported = refused("load", "demo:small_quarry", "--store", store_url, "--by", "Ann Bell")
    assert "schema" in reported
    with bare.reading() as connection:
        assert inspect(connection).get_table_names() == ["theirs"]


def test_a_store_without_a_column_says_how_to_go_on(store_url, bare, tmp_path):
    good("migrate", "--store", store_url)
    with bare.changing_layout() as connection:
        connection.execute(text("ALTER TABLE walkdowns DROP COLUMN guard"))
    for arguments in (
        ("rank", store_url),
        ("load", "demo:small_quarry", "--store", store_url, "--by", "Ann Bell"),
        ("export", "--store", store_url, "--out", tmp_path / "out"),
    ):
        reported = refused(*arguments)
        assert "has no column guard in its table walkdowns" in reported
        assert f"mount-risk migrate --store {store_url}" in reported


def test_a_step_adds_named_columns_and_takes_them_away(bare):
    upward, downward = columns_added("units", texts="paint", numbers="weld_mm", counts="lugs")
    with bare.changing_layout() as connection:
        upgrade(connection)
        before = columns_of(connection)["units"]
        with Operations.context(MigrationContext.configure(connection)):
            upward()
            added = columns_of(connection)["units"] - before
            assert all(may_be_blank for _, _, may_be_blank in added)
            kinds = {name: kind.split()[0] for name, kind, _ in added}
            assert kinds == {"paint": "TEXT", "weld_mm": "DOUBLE", "lugs": "INTEGER"}
            downward()
        assert columns_of(connection)["units"] == before
