"""While a store is upgraded under open pages nothing is said to be saved that is not.

The table: ``pytest tests/entering/test_upgrade_under_open_pages.py -m "long or not long" -s``.
"""

import shutil
import threading
from contextlib import closing
from functools import partial
from pathlib import Path

import psycopg
import pytest
from at_the_machine import UNIT
from attempts_at_a_store import ANSWER, DRAFTS, SEVERAL, require_words, told_in, try_all
from faults_of_a_file import held_by
from first_layout import lay_out_as_first
from places_of_stores import Places
from routes_in_process import Routes, forget_stores
from upgrading_process import TO_A_NEWER_VERSION, TO_THIS_VERSION, at_work

from scoring.store import one_writer
from scoring.store.integrity import check_store
from scoring.store.open_store import open_of_any_schema, open_store
from scoring.store.schema_version import schema_of

OLD_UNIT = "U-1"
ENDS_WELL_OR_NOT = pytest.mark.parametrize(
    "well",
    [
        pytest.param(True, id="to its end"),
        pytest.param(False, id="given up", marks=pytest.mark.long),
    ],
)
BACK = (
    "ALTER TABLE drafts DROP COLUMN of_a_newer_version",
    "UPDATE alembic_version SET version_num = '{}'",
)

pytestmark = pytest.mark.slow


@pytest.fixture(params=["sqlite", "postgresql"])
def places(request, tmp_path, monkeypatch):
    monkeypatch.setattr(one_writer, "PATIENCE_S", 0.3)
    yield Places.of(request.param, request, tmp_path)
    forget_stores()


@pytest.fixture
def filled(places, request, quarry_file, monkeypatch):
    """Return the address of a filled store of this schema, over which pages are open."""
    if places.server:
        url = request.getfixturevalue("new_store")()
    else:
        url = places.empty()
        shutil.copy(quarry_file, url.removeprefix("sqlite:///"))
    monkeypatch.setenv("MOUNT_RISK_FLEET", url)
    return url


def holding(url):
    """Return what asks a store as a stranger would."""
    if url.startswith("sqlite"):
        return partial(held_by, Path(url.removeprefix("sqlite:///")))
    return partial(_held_in_database, url)


def _held_in_database(url, query, *values):
    try:
        with psycopg.connect(url, autocommit=True, options="-c lock_timeout=500") as connection:
            row = connection.execute(query.replace("?", "%s"), values).fetchone()
    except psycopg.Error:
        return None
    return None if row is None else str(row[0])


def require_sound(url):
    with closing(open_store(url)) as store, store.reading() as connection:
        assert check_store(connection).faults == []


def test_pages_over_an_older_store_come_back_once_it_is_upgraded(places, monkeypatch, caplog):
    url = places.empty()
    lay_out_as_first(url)
    monkeypatch.setenv("MOUNT_RISK_FLEET", url)
    routes = Routes()

    def ask():
        return [
            routes.begin(OLD_UNIT),
            routes.give("none", "notes", "lost?"),
            routes.ask("GET", "/walkdown"),
        ]

    refused = ask()
    require_words(refused, caplog)
    assert all("mount-risk migrate" in answer.text for answer in refused)
    with at_work(TO_THIS_VERSION, url) as upgrade:
        with monkeypatch.context() as briefly:
            briefly.setattr(one_writer, "ANSWER_S", 2.0)
            meanwhile = ask()
        require_words(meanwhile, caplog)
        upgrade.end(well=True)
    begun = routes.begin(OLD_UNIT)
    assert begun.code == 303
    draft_id = begun.headers["location"].removeprefix("/walkdown/")
    assert holding(url)(DRAFTS, OLD_UNIT) == "1"
    assert try_all(routes, holding(url), draft_id, 1, OLD_UNIT) == []
    require_sound(url)
    print(f"\nan older store: {told_in([*refused, *meanwhile], url)}")  # noqa: T201 - table


@ENDS_WELL_OR_NOT
def test_nothing_is_said_to_be_saved_while_a_newer_version_upgrades(
    filled, monkeypatch, caplog, well
):
    routes, held = Routes(), holding(filled)
    draft_id = routes.begin(UNIT).headers["location"].removeprefix("/walkdown/")
    assert try_all(routes, held, draft_id, 0) == []
    with closing(open_store(filled)) as store, store.reading() as connection:
        before = schema_of(connection)
    with at_work(TO_A_NEWER_VERSION, filled) as upgrade:
        with monkeypatch.context() as briefly:  # who reads waits so long for what is locked
            briefly.setattr(one_writer, "ANSWER_S", 2.0)
            meanwhile = try_all(routes, held, draft_id, 1)
        assert len(meanwhile) >= WRITES
        require_words(meanwhile, caplog)
        upgrade.end(well=well)
    after = try_all(routes, held, draft_id, 2)
    require_words(after, caplog)
    assert len(after) == (SEVERAL if well else 0)
    if well:
        back_to(filled, before)
        assert try_all(routes, held, draft_id, 3) == []
    require_sound(filled)
    said = told_in([*meanwhile, *after], filled)
    print(f"\n{len(meanwhile)} and {len(after)} of {SEVERAL} refused: {said}")  # noqa: T201 - table


WRITES = 3
"""Of the attempts."""


@ENDS_WELL_OR_NOT
def test_a_write_that_waits_for_an_upgrade_is_kept_or_refused(filled, monkeypatch, caplog, well):
    """It may not be kept by the rules of a schema that is gone."""
    routes, held, answers = Routes(), holding(filled), []
    draft_id = routes.begin(UNIT).headers["location"].removeprefix("/walkdown/")
    assert try_all(routes, held, draft_id, 0) == []
    monkeypatch.setattr(one_writer, "PATIENCE_S", 60)
    forget_stores()  # each asks how long to wait when it is opened
    with closing(open_store(filled)) as store, store.reading() as connection:
        before = schema_of(connection)
    routes.ask("GET", f"/walkdown/{draft_id}")
    with at_work(TO_A_NEWER_VERSION, filled) as upgrade:
        writer = threading.Thread(
            target=lambda: answers.append(routes.give(draft_id, "notes", "waited"))
        )
        writer.start()
        writer.join(timeout=WAITS_S)
        assert writer.is_alive()
        upgrade.end(well=well)
    writer.join()
    if well:
        require_words(answers, caplog)
        back_to(filled, before)
        assert held(ANSWER, draft_id, "notes") == "notes 0"
    else:
        assert answers[0].code == 200
        assert held(ANSWER, draft_id, "notes") == "waited"
    assert try_all(routes, held, draft_id, 2) == []
    require_sound(filled)


WAITS_S = 1.0


def back_to(url, schema):
    """Take a store back, as the way back that README tells does."""
    with closing(open_of_any_schema(url)) as store, store.changing_layout() as connection:
        for statement in BACK:
            connection.exec_driver_sql(statement.format(schema))
