"""The way up to a newer program and back, as README tells it, on both databases."""

import shutil
import subprocess
from contextlib import closing

import pytest
from click.testing import CliRunner
from postgresql_server import new_database, programs
from sqlalchemy import text
from test_migrations import lay_out_as_first

from scoring.cli.main import cli
from scoring.store.address import store_url as url_of
from scoring.store.open_store import open_of_any_schema, open_store
from scoring.store.schema_version import newest_schema, schema_of
from scoring.store.store_errors import OtherSchemaError

TABLES = ("units", "walkdowns", "events", "rework", "history")


def run(*arguments):
    result = CliRunner().invoke(cli, arguments)
    assert result.exit_code == 0, (arguments, result.output, result.exception)
    return result.output


def state_of(url):
    """Return the schema of a store, and how many rows its tables hold."""
    with closing(open_of_any_schema(url)) as store, store.reading() as connection:
        counts = {
            table: connection.scalar(text(f"SELECT count(*) FROM {table}"))  # noqa: S608 - ours
            for table in TABLES
        }
        return schema_of(connection), counts


def test_up_and_back_by_the_copy_on_sqlite(tmp_path):
    file = tmp_path / "plant.db"
    url = f"sqlite:///{file}"
    lay_out_as_first(url)
    old, rows = state_of(url)
    assert old == "0001"
    with pytest.raises(OtherSchemaError, match="mount-risk migrate"):
        open_store(url)
    run("backup", "--store", url, "--out", str(tmp_path / "before.zip"))
    run("migrate", "--store", url)
    new, after = state_of(url)
    assert new == newest_schema()
    assert {name: after[name] for name in rows if name != "history"} == {
        name: rows[name] for name in rows if name != "history"
    }
    assert run("verify", url)
    # back: the copy that migrate made takes the file's place, and the older program opens it
    (copy,) = tmp_path.glob("plant-schema-0001-*.db")
    shutil.copy(copy, file)
    assert state_of(url) == (old, rows)
    # and up again, the same way
    run("migrate", "--store", url)
    assert state_of(url) == (new, after)


def test_up_and_back_by_a_dump_on_postgresql(postgresql, tmp_path):
    url = new_database(postgresql)
    lay_out_as_first(url)
    old, rows = state_of(url)
    dump = tmp_path / "before.dump"
    tools = programs()
    subprocess.run([tools / "pg_dump", "-Fc", "-f", dump, url], check=True, timeout=300)
    run("migrate", "--store", url)
    assert state_of(url)[0] == newest_schema()
    back = new_database(postgresql)
    subprocess.run([tools / "pg_restore", "-d", back, dump], check=True, timeout=300)
    assert state_of(back) == (old, rows)
    run("migrate", "--store", back)
    assert state_of(back) == state_of(url)


@pytest.mark.parametrize("kind", ["sqlite", "postgresql"])
def test_a_backup_from_before_is_restored_by_the_newer_program(kind, request, tmp_path):
    old = f"sqlite:///{tmp_path / 'old.db'}"
    lay_out_as_first(old)
    _, rows = state_of(old)
    run("backup", "--store", old, "--out", str(tmp_path / "before.zip"))
    new = (
        f"sqlite:///{tmp_path / 'new.db'}"
        if kind == "sqlite"
        else new_database(request.getfixturevalue("postgresql"))
    )
    run("restore", str(tmp_path / "before.zip"), "--store", new)
    schema, after = state_of(new)
    assert schema == newest_schema()
    assert {name: after[name] for name in TABLES[:4]} == {name: rows[name] for name in TABLES[:4]}
    assert url_of(new)
