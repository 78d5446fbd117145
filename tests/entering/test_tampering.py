"""Whatever is changed past the program shows, on both databases.

Each way once in the ordinary run; 200 times, drawn by chance, with
``pytest tests/entering/test_tampering.py -m long``.
"""

import io
import json
import re
import shutil
import zipfile
from contextlib import closing
from hashlib import sha256

import pandas as pd
import pytest
from at_the_machine import UNIT, answer_visit, begin, give, today
from click.testing import CliRunner
from PIL import Image
from postgresql_server import new_database
from sqlalchemy import select, text
from tamperings import TAMPERINGS, tamper

from scoring.access.acts import Role
from scoring.access.grants import SignedInAs, grant
from scoring.cli.main import cli
from scoring.entering.drafts import find_draft
from scoring.entering.enter_record import enter_record
from scoring.entering.kept_plans import keep_plan
from scoring.entering.kept_views import keep_view
from scoring.entering.photos import encode_photo, keep_photo
from scoring.entering.releases import release_to_start
from scoring.entering.submit_draft import submit_draft
from scoring.store.head_file import read_head, write_head
from scoring.store.open_store import open_store
from scoring.store.schema import HISTORY, LOADS, PEOPLE, SIGN_OFFS
from scoring.store.verified import verify
from scoring.store.write_backup import back_up
from scoring.store.writing import Change

NAMES = list(TAMPERINGS)
ONCE = range(len(NAMES))
MANY = range(200)


def a_photo():
    file = io.BytesIO()
    Image.new("RGB", (8, 6), "grey").save(file, "JPEG")
    return encode_photo(file.getvalue())


def fill_with_all_that_can_be_entered(store):
    draft_id = begin(store)
    answer_visit(store, draft_id, guard="missing", notes="Müller’s „Brecher“")
    give(store, draft_id, "breather", "", reason="no_access")
    with store.reading() as connection:
        walkdown_id = find_draft(connection, draft_id).walkdown_id
    with store.writing("Ben Meier") as writing:
        keep_photo(writing, walkdown_id, "guard", a_photo(), draft_id=draft_id, unit_id=UNIT)
    submit_draft(store, draft_id, signed_by="Ben Meier", told="Foreman")
    rework = {"unit_id": UNIT, "done_on": today(), "actions": "fit_guard;open_breather"}
    enter_record(store, "rework", rework, actor="Cleo Roth")
    release_to_start(store, UNIT, released_by="Dora Hain", reason="guard fitted")
    job = {
        "order": 1, "window": "July", "starts_on": pd.NaT, "unit_id": UNIT, "line": None,
        "site": "North", "verdict": "hold", "verdict_after": "watch", "actions": "fit_guard",
        "hours": 2.5, "loss_avoided": 0.1 + 0.2, "currency": "EUR",
    }  # fmt: skip
    with store.writing("Dora Hain") as writing:
        jobs = pd.DataFrame([job, {**job, "order": 2, "starts_on": pd.Timestamp("2026-07-01")}])
        day = pd.Timestamp("2026-06-30")
        keep_plan(writing, "July", jobs, as_of=day, horizon_days=180, link="/plan")
        row = {
            "at": writing.at, "actor": writing.actor, "source": "a file",
            "added": 1, "changed": 0, "same": 0, "rejected": 0,
        }  # fmt: skip
        (load_id,) = writing.connection.execute(LOADS.insert().values(row)).inserted_primary_key
        writing.note([Change("loads", str(load_id), "loaded", after=row)])
        first = SignedInAs("https://login.plant", "1001")
        grant(writing, first, writing.actor, [Role.ADMINISTRATOR], None)
        second = SignedInAs("https://login.plant", "1002")
        grant(writing, second, "Ben Meier", [Role.INSPECTOR], ["North"])
        keep_view(writing, "holds", "fix", "/fix?verdict=hold")


@pytest.fixture(scope="module")
def entered_file(quarry_file, tmp_path_factory):
    file = tmp_path_factory.mktemp("entered") / "entered.db"
    shutil.copy(quarry_file, file)
    with closing(open_store(f"sqlite:///{file}")) as store:
        fill_with_all_that_can_be_entered(store)
    return file


@pytest.fixture(scope="module")
def entered_database(new_store):
    address = new_store()
    with closing(open_store(address)) as store:
        fill_with_all_that_can_be_entered(store)
    return address


@pytest.fixture(params=["sqlite", "postgresql"])
def copies(request, tmp_path):
    """Return the kind of database, and what makes a copy of all that was entered."""
    if request.param == "sqlite":
        file = request.getfixturevalue("entered_file")

        def copy(number):
            shutil.copy(file, tmp_path / f"{number}.db")
            return f"sqlite:///{tmp_path / f'{number}.db'}"
    else:
        address = request.getfixturevalue("entered_database")
        server, _, template = address.rpartition("/")

        def copy(number):
            del number
            return new_database(server, template)

    return request.param, copy


def test_what_was_entered_is_sound_and_so_is_its_backup(copies, tmp_path):
    _, copy = copies
    address = copy(0)
    assert verify(address).faults == []
    back_up(address, tmp_path / "kept.zip")
    assert verify(str(tmp_path / "kept.zip")).faults == []
    assert verify(str(tmp_path / "kept.zip")).head == verify(address).head


@pytest.mark.parametrize("seeds", [ONCE, pytest.param(MANY, marks=pytest.mark.long)])
def test_every_tampering_shows(copies, tmp_path, seeds):
    _, copy = copies
    head = verify(copy("whole")).head
    unseen = []
    for seed in seeds:
        name = NAMES[seed % len(NAMES)]
        address = copy(seed)
        with closing(open_store(address)) as store, store.changing_layout() as connection:
            said = tamper(connection, name, seed)
        with_head, alone = verify(address, head), verify(address)
        if not with_head.faults:
            unseen.append((name, said, "with a head"))
        if bool(alone.faults) == TAMPERINGS[name].needs_head:
            unseen.append((name, said, "alone", alone.faults))
        if seed % 4 == 0 and name != "drop a trigger":  # a backup holds no triggers
            back_up(address, tmp_path / f"{seed}.zip")
            if not verify(str(tmp_path / f"{seed}.zip"), head).faults:
                unseen.append((name, said, "in a backup"))
    assert unseen == []


def test_a_backup_with_other_names_shows(entered_file, tmp_path):
    path = tmp_path / "kept.zip"
    back_up(f"sqlite:///{entered_file}", path)
    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    manifest = json.loads(parts["manifest.json"])
    for table in manifest["tables"]:
        file = f"tables/{table['name']}.jsonl"
        parts[file] = parts[file].replace(b"Ben Meier", b"Rob Kurtz")
        table |= {"bytes": len(parts[file]), "sha256": sha256(parts[file]).hexdigest()}
    parts["manifest.json"] = json.dumps(manifest).encode()
    other = tmp_path / "other.zip"
    with zipfile.ZipFile(other, "w") as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
    faults = verify(str(other)).faults
    assert any("Rob Kurtz" in fault for fault in faults)
    result = CliRunner().invoke(
        cli, ["restore", str(other), "--store", f"sqlite:///{tmp_path}/n.db"]
    )
    assert result.exit_code != 0
    assert "Rob Kurtz" in result.output


def test_another_store_is_told_beside_a_head(entered_file, quarry_file, tmp_path):
    shutil.copy(quarry_file, tmp_path / "other.db")
    head = verify(f"sqlite:///{entered_file}").head
    (fault,) = verify(f"sqlite:///{tmp_path / 'other.db'}", head).faults
    assert "another store" in fault or "lines at its end were removed" in fault


def test_the_commands_write_a_head_and_hold_a_store_against_it(entered_file, tmp_path):
    shutil.copy(entered_file, tmp_path / "a.db")
    address, head = f"sqlite:///{tmp_path / 'a.db'}", str(tmp_path / "head.json")
    run = CliRunner().invoke
    assert run(cli, ["verify", address, "--head-out", head]).exit_code == 0
    assert run(cli, ["verify", address, "--head", head]).exit_code == 0
    with closing(open_store(address)) as store:
        with store.writing("Ben Meier") as writing:
            keep_view(writing, "more", "fix", "/fix")
        assert run(cli, ["verify", address, "--head", head]).exit_code == 0  # it has only grown
        with store.changing_layout() as connection:
            tamper(connection, "change a line", 5)
    told = run(cli, ["verify", address, "--head", head])
    assert told.exit_code != 0
    assert "was changed, removed, added or moved" in told.output


def test_a_head_that_is_none_is_told(tmp_path):
    for content in ("", "[]", '{"store": 1}', '{"store": "a", "lines": "b", "seal": "c"}'):
        path = tmp_path / "head.json"
        path.write_text(content)
        result = CliRunner().invoke(cli, ["verify", "sqlite:///x.db", "--head", str(path)])
        assert "holds no head" in str(result.exception)


def test_a_head_comes_back_from_its_file(entered_file, tmp_path):
    head = verify(f"sqlite:///{entered_file}").head
    write_head(head, tmp_path / "head.json")
    assert read_head(tmp_path / "head.json") == head


def test_a_name_is_erased_everywhere_and_the_chain_stays_whole(copies):
    _, copy = copies
    address = copy("erase")
    head = verify(address).head
    run = CliRunner().invoke
    asked = ["forget", "Ben Meier", "--store", address, "--by", "Dora Hain", "--reason", "asked"]
    result = run(cli, asked)
    assert result.exit_code == 0, result.output
    assert "In what people wrote themselves the name still stands at" in result.output
    assert re.search(r"walkdowns W-\S+: inspector", result.output)
    assert re.search(r"draft_answers \S+/inspector: value", result.output)
    assert verify(address, head).faults == []
    with closing(open_store(address)) as store, store.reading() as connection:
        names = set(connection.scalars(select(PEOPLE.c.name)))
        signed = connection.scalar(select(SIGN_OFFS.c.signed_by))
        lines = connection.execute(select(HISTORY)).mappings().all()
    assert "Ben Meier" not in names
    assert signed.startswith("erased ")
    named = [line for line in lines if "Ben Meier" in repr({**line, "before": "", "after": ""})]
    assert named == []
    answered = [line for line in lines if "Ben Meier" in repr(line)]
    assert {line["about"] for line in answered} <= {"draft_answers", "walkdowns"}  # their own words
    assert "nobody called" in str(run(cli, asked).exception)
    with (
        closing(open_store(address)) as store,
        pytest.raises(Exception, match="history is only added to"),
    ):
        _remove_history(store)


def _remove_history(store):
    with store.changing_layout() as connection:
        connection.execute(text("DELETE FROM history"))


def test_nobody_erases_the_name_they_work_under(copies):
    _, copy = copies
    asked = ["forget", "Ben Meier", "--store", copy("own"), "--by", "Ben Meier", "--reason", "x"]
    assert "let another person do it" in str(CliRunner().invoke(cli, asked).exception)
