"""What was filled in without a network comes in whole, and never undoes a correction."""

import json

import pytest
from at_the_machine import today
from click.testing import CliRunner
from kept_sign_offs import sign_offs_of_unit
from sqlalchemy import select

from scoring.cli.main import cli
from scoring.contract.version import CONTRACT_VERSION
from scoring.entering.sign_offs import not_seen_of
from scoring.files.route_reading import WRITTEN_BY
from scoring.store.put_records import put_record
from scoring.store.schema import HISTORY, METADATA
from scoring.store.versions import find_record, versions_of


@pytest.fixture
def key(unit):
    """Name the walkdown that is filled in; a unit has one."""
    return f"W-FORM-{unit}"


@pytest.fixture
def form(unit, key, tmp_path):
    """Write a file as the walkdown form without a network does: a signed walkdown, an open one."""
    answers = (
        ("kind", "periodic", ""),
        ("inspected_on", today(), ""),
        ("inspector", "Cy Dow", ""),
        ("breather", "plugged", ""),
        ("metal_contact", "yes", ""),
        ("guard", "", "no_access"),
    )
    walkdown = {
        "walkdown_id": key,
        "unit_id": unit,
        "finished": True,
        "answers": [
            {"field": field, "heading": field, "value": value, "reason": reason}
            for field, value, reason in answers
        ],
        "photos": [],
        "signed_by": "Cy Dow",
        "signed_at": f"{today()}T15:00:00",
        "told": "the shift",
        "recorded_at": f"{today()}T00:00:00",
    }
    content = {
        "written_by": WRITTEN_BY,
        "contract": CONTRACT_VERSION,
        "route": "north",
        "saved_at": f"{today()}T15:01:00",
        "walkdowns": [walkdown, {**walkdown, "walkdown_id": f"{key}-OPEN", "finished": False}],
    }
    path = tmp_path / "route.json"
    path.write_text(json.dumps(content), encoding="utf-8")
    return path


def load(store_url, path):
    """Load a file by the command; return what it told."""
    options = ["load", str(path), "--store", store_url, "--by", "Bo Carr"]
    done = CliRunner().invoke(cli, options)
    assert done.exit_code == 0, done.output + repr(done.exception)
    return done.output


def all_but_loads(store):
    """Return what every table holds, but for the list of loads and what is told of them."""
    with store.reading() as connection:
        tables = [
            table for table in METADATA.sorted_tables if table.name not in {"loads", "history"}
        ]
        told = select(HISTORY).where(HISTORY.c.about != "loads")
        rows = {table.name: connection.execute(select(table)).all() for table in tables}
        return {**rows, "history": connection.execute(told).all()}


def test_it_comes_in_with_reasons_and_sign_off(store, store_url, unit, key, form):
    told = load(store_url, form)
    assert "walkdowns: 1 added" in told
    assert f"not signed yet, so left out: the walkdown of {unit}" in told
    with store.reading() as connection:
        assert not_seen_of(connection, key) == {"guard": "no_access"}
        (signed,) = sign_offs_of_unit(connection, unit)
    assert (signed.signed_by, signed.told, signed.version) == ("Cy Dow", "the shift", 1)
    assert signed.verdict == "hold"
    assert any("metal" in hold for hold in signed.holds)
    before = all_but_loads(store)
    load(store_url, form)
    assert all_but_loads(store) == before


def test_an_old_copy_never_undoes_a_correction(store, store_url, unit, key, form):
    load(store_url, form)
    with store.writing("Ann Bell") as writing:
        there = find_record(writing.connection, "walkdowns", key)
        corrected = {**there.content, "breather": "open"}
        put_record(writing, "walkdowns", corrected, "it was open", read_version=1)
    told = load(store_url, form)
    assert "walkdowns: 0 added, 0 changed, 0 there already" in told
    assert f"{key} is an older version of a walkdown that was corrected" in told
    with store.reading() as connection:
        assert [line.version for line in versions_of(connection, "walkdowns", key)] == [1, 2]
        assert [signed.version for signed in sign_offs_of_unit(connection, unit)] == [1]
        lines = connection.execute(select(HISTORY).where(HISTORY.c.key == key)).all()
    assert sorted((line.about, line.version or 0) for line in lines) == [
        ("not_seen", 0),
        ("sign_offs", 1),
        ("walkdowns", 1),
        ("walkdowns", 2),
    ]
