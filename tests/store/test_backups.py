"""A backup holds everything, of one moment, and comes back on either database."""

import io
import json
import zipfile
from contextlib import closing, suppress

import pytest
from PIL import Image
from postgresql_server import new_database
from small_fleet import DAY, faults, good, jobs_of_a_plan, put_unit, record, refused
from sqlalchemy import MetaData, select

from scoring.entering.drafts import start_draft
from scoring.entering.kept_plans import keep_plan, withdraw_plan
from scoring.entering.kept_views import keep_view
from scoring.entering.photos import encode_photo, keep_photo
from scoring.entering.sign_offs import keep_not_seen, keep_sign_off
from scoring.errors import FixableError
from scoring.store import write_backup
from scoring.store.open_store import open_store
from scoring.store.put_records import put_record, put_records
from scoring.store.restore_backup import restore_backup
from scoring.store.write_backup import back_up

BOTH = ("sqlite", "postgresql")


@pytest.fixture
def places(request, tmp_path):
    """Return what names an empty place on a database."""
    number = iter(range(100))

    def place(kind):
        if kind == "sqlite":
            return f"sqlite:///{tmp_path / f'{next(number)}.db'}"
        return new_database(request.getfixturevalue("postgresql"))

    return place


def picture(colour="red"):
    out = io.BytesIO()
    Image.new("RGB", (64, 48), colour).save(out, "JPEG")
    return out.getvalue()


def fill(url):
    """Put something into every table that holds what people enter."""
    with closing(open_store(url, make=True)) as store:
        put_unit(store, site="Ø 😀\n=1+1", unit_mass_kg=0.1 + 0.2, screw_count=8)
        put_unit(store, site="other site")
        with store.writing("Bo Carr") as writing:
            row = record("walkdowns", engagement_mm=1e-7, torque_passes=3, notes="'; --")
            put_records(writing, "walkdowns", [row], "first entry")
            keep_not_seen(writing, "W-1", {"guard": "no_access"})
            keep_photo(writing, "W-1", "guard", encode_photo(picture()))
            keep_sign_off(
                writing, "W-1", 1, signed_by="Cy Dow", signed_at="2026-01-02T03:04:05",
                verdict="hold", holds=["metal touches metal"], told="the shift",
            )  # fmt: skip
            start_draft(writing, "U-1")
            plan = keep_plan(
                writing, "July", jobs_of_a_plan(), as_of=DAY, horizon_days=180, link="/plan"
            )
            keep_plan(writing, "August", jobs_of_a_plan(), as_of=DAY, horizon_days=180, link="")
            withdraw_plan(writing, plan.plan_id)
            keep_view(writing, "holds", "fix", "/fix?verdict=hold")


def everything(url):
    """Return every row of every table, the schema's name too."""
    with closing(open_store(url)) as store, store.reading() as connection:
        metadata = MetaData()
        metadata.reflect(bind=connection)
        return {
            table.name: sorted(
                (tuple(map(_plain, row)) for row in connection.execute(select(table))), key=repr
            )
            for table in metadata.sorted_tables
        }


def _plain(value):
    return bytes(value) if isinstance(value, memoryview) else value


@pytest.mark.parametrize("source", BOTH)
@pytest.mark.parametrize("target", BOTH)
def test_a_backup_comes_back_whole_from_either_to_either(places, tmp_path, source, target):
    one, other = places(source), places(target)
    fill(one)
    good("backup", "--store", one, "--out", tmp_path / "kept.zip")
    reported = good("restore", tmp_path / "kept.zip", "--store", other)
    assert "rows of the backup made at" in reported
    assert everything(one) == everything(other)
    with closing(open_store(other)) as store:
        assert faults(store) == []
        before = everything(other)["history"]
        with store.writing("Bo Carr") as writing:  # rows are numbered on, and the history is shut
            put_record(writing, "units", record("units", unit_id="U-2"), "first entry")
        assert len(everything(other)["history"]) == len(before) + 1
    again = places(source)
    back_up(other, tmp_path / "again.zip")
    restore_backup(tmp_path / "again.zip", again)
    assert everything(again) == everything(other)


def test_only_an_empty_database_is_restored_into(store_url, tmp_path):
    fill(store_url)
    back_up(store_url, tmp_path / "kept.zip")
    before = everything(store_url)
    reported = refused("restore", tmp_path / "kept.zip", "--store", store_url)
    assert "is not empty; nothing was changed" in reported
    assert everything(store_url) == before


def test_a_backup_is_never_written_over(tmp_path):
    url = f"sqlite:///{tmp_path / 'a.db'}"
    fill(url)
    (tmp_path / "kept.zip").write_text("mine", encoding="utf-8")
    assert "is there already" in refused("backup", "--store", url, "--out", tmp_path / "kept.zip")
    assert (tmp_path / "kept.zip").read_text(encoding="utf-8") == "mine"


def changed(path, change):
    """Write a backup anew, with its parts changed."""
    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    change(parts)
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in parts.items():
            archive.writestr(name, data)


def manifest_with(**other):
    def change(parts):
        parts["manifest.json"] = json.dumps({**json.loads(parts["manifest.json"]), **other})

    return change


def replaced(old, new, name="tables/units.jsonl"):
    def change(parts):
        assert old in parts[name]
        parts[name] = parts[name].replace(old, new)

    return change


def longer_line(parts):
    parts["tables/units.jsonl"] += b"[1]\n"


def bomb(parts):
    parts["more"] = bytes(1 << 27)


DAMAGE = {
    "other content": (replaced(b"other site", b"other Site"), "units is not as it was written"),
    "a row more": (longer_line, "units is not as it was written"),
    "a table less": (lambda parts: parts.pop("tables/people.jsonl"), "people is not as it was"),
    "no manifest": (lambda parts: parts.pop("manifest.json"), "did not write it"),
    "another program": (manifest_with(written_by="other"), "did not write it"),
    "newer format": (manifest_with(format=2), "newer version"),
    "newer schema": (manifest_with(schema="9999"), "does not know"),
    "odd schema": (manifest_with(schema=2), "is not as it was written"),
    "odd tables": (manifest_with(tables=[{"name": "units"}]), "is not as it was written"),
    "no tables": (manifest_with(tables=[]), "its tables are not those of its schema"),
    "unpacks to much": (bomb, "would unpack to"),
}


@pytest.mark.parametrize("damage", DAMAGE)
def test_a_damaged_backup_is_told_and_leaves_nothing(tmp_path, damage):
    url, path = f"sqlite:///{tmp_path / 'a.db'}", tmp_path / "kept.zip"
    fill(url)
    back_up(url, path)
    change, words = DAMAGE[damage]
    changed(path, change)
    reported = refused("restore", path, "--store", f"sqlite:///{tmp_path / 'b.db'}")
    assert words in reported
    assert not list(tmp_path.glob("b.db*"))


@pytest.mark.parametrize("keep", [0, 10, 300, -30])
def test_a_backup_cut_off_is_told(tmp_path, keep):
    url, path = f"sqlite:///{tmp_path / 'a.db'}", tmp_path / "kept.zip"
    fill(url)
    back_up(url, path)
    path.write_bytes(path.read_bytes()[:keep])
    reported = refused("restore", path, "--store", f"sqlite:///{tmp_path / 'b.db'}")
    assert "no whole ZIP file" in reported
    assert "take an older backup" in reported


def test_no_bit_of_a_backup_may_change(tmp_path):
    url, path = f"sqlite:///{tmp_path / 'a.db'}", tmp_path / "kept.zip"
    fill(url)
    back_up(url, path)
    whole = path.read_bytes()
    wanted = everything(url)
    for number, place in enumerate(range(0, len(whole), max(len(whole) // 60, 1))):
        path.write_bytes(whole[:place] + bytes([whole[place] ^ 1]) + whole[place + 1 :])
        target = f"sqlite:///{tmp_path / f'target {number}.db'}"
        with suppress(FixableError):  # told in words; else a bit that means nothing was changed
            restore_backup(path, target)
            assert everything(target) == wanted


def test_what_is_written_meanwhile_is_not_in_it(store_url, tmp_path, monkeypatch):
    fill(store_url)
    written = []

    def write_between(connection, archive, table, *, whole):
        if not written:
            with closing(open_store(store_url)) as other:
                put_unit(other, unit_id="U-9")
            written.append(table.name)
        return whole(connection, archive, table)

    whole = write_backup._write_table  # noqa: SLF001 - to write between two tables
    monkeypatch.setattr(
        write_backup, "_write_table", lambda *given: write_between(*given, whole=whole)
    )
    before = everything(store_url)
    back_up(store_url, tmp_path / "kept.zip")
    assert written
    target = f"sqlite:///{tmp_path / 'b.db'}"
    restore_backup(tmp_path / "kept.zip", target)
    assert everything(target) == before != everything(store_url)
