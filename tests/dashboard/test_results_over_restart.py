"""What is worked out is kept over a restart: read only where it is ours, whole, of the same."""

import os
import pickle
import threading
from dataclasses import replace

import numpy as np
import pandas as pd
import pytest
from kept_plants import SMALL_QUARRY

from dashboard import (
    fleet_results,
    launch_settings,
    results_folder,
    results_in_use,
    results_key,
    worked_out_ahead,
)
from dashboard.results_folder import ResultsFolder, usual_folder
from scoring.assessment import FleetAssessor
from scoring.records import ROW

LAST = pd.Timestamp("2026-06-30")
READ = fleet_results.FleetResults.__dict__["read"]
pytestmark = pytest.mark.skipif(not hasattr(os, "geteuid"), reason="nothing is kept on Windows")


class RunsCode:
    """What a foreign file could hold."""

    ran = False

    def __reduce__(self):
        return (run_code, ())


def run_code():
    RunsCode.ran = True
    return "ran"


@pytest.fixture
def folder(tmp_path):
    return ResultsFolder(tmp_path / "cache" / "worked-out")


@pytest.fixture
def file(folder, tmp_path):
    folder.write("key", {"a": 1})
    return tmp_path / "cache" / "worked-out" / "key.results"


def test_what_is_written_is_read_and_is_nobody_elses(folder, file):
    assert folder.read("key") == {"a": 1}
    assert folder.read("other") is None
    assert file.stat().st_mode & 0o777 == 0o600
    assert file.parent.stat().st_mode & 0o777 == 0o700
    assert (file.parent / "CACHEDIR.TAG").read_bytes().startswith(b"Signature: 8a477f597d28d172")


@pytest.mark.parametrize("mode", [0o640, 0o604, 0o660, 0o602])
def test_a_file_that_others_may_read_or_write_is_not_read(folder, file, mode):
    file.chmod(mode)
    assert folder.read("key") is None


@pytest.mark.parametrize("mode", [0o750, 0o705, 0o770, 0o777])
def test_a_folder_that_others_may_look_into_is_neither_read_nor_written(folder, file, mode):
    file.parent.chmod(mode)
    assert folder.read("key") is None
    folder.write("new", {"b": 2})
    file.parent.chmod(0o700)
    assert folder.read("new") is None


def test_what_is_of_another_owner_is_not_read(folder, file, monkeypatch):
    monkeypatch.setattr(results_folder.os, "geteuid", lambda: file.stat().st_uid + 1)
    assert folder.read("key") is None


def test_a_file_of_another_owner_in_our_folder_is_not_read(folder, file):
    if os.geteuid() != 0:
        pytest.skip("only root can give a file away")
    os.chown(file, 12345, -1)
    assert folder.read("key") is None
    assert ResultsFolder(file.parent).read("key") is None


def test_a_link_is_not_followed(folder, file, tmp_path):
    elsewhere = tmp_path / "elsewhere"
    file.rename(elsewhere)
    file.symlink_to(elsewhere)
    assert folder.read("key") is None
    linked = tmp_path / "linked"
    linked.symlink_to(file.parent)
    assert ResultsFolder(linked).read("key") is None


@pytest.mark.parametrize("place", [0, 31, 32, -1])
def test_a_damaged_file_counts_as_not_there_and_runs_nothing(folder, file, place):
    folder.write("key", RunsCode())
    content = bytearray(file.read_bytes())
    content[place] ^= 1
    file.write_bytes(bytes(content))
    assert folder.read("key") is None
    assert not RunsCode.ran


@pytest.mark.parametrize("content", [b"", b"short", pickle.dumps({"a": 1})])
def test_a_file_that_is_none_of_ours_counts_as_not_there(folder, file, content):
    file.write_bytes(content)
    assert folder.read("key") is None


def test_what_is_of_a_program_that_is_gone_counts_as_not_there(folder, monkeypatch):
    folder.write("key", RunsCode())
    monkeypatch.delitem(globals(), "run_code")
    assert folder.read("key") is None


def test_the_few_used_last_are_kept(folder, tmp_path):
    for at in range(results_folder.STATES_KEPT):
        folder.write(f"key{at}", at)
        os.utime(tmp_path / f"cache/worked-out/key{at}.results", (at, at))
    assert folder.read("key0") == 0  # used: it is now the newest
    folder.write("new", "new")
    there = [folder.read(f"key{at}") for at in range(results_folder.STATES_KEPT)]
    assert there == [0, None, 2, 3]


def test_what_is_too_large_is_not_kept(folder, monkeypatch):
    monkeypatch.setattr(results_folder, "LARGEST_BYTES", 1000)
    folder.write("key", b"x" * 2000)
    assert folder.read("key") is None


def test_all_together_are_bounded(folder, monkeypatch):
    monkeypatch.setattr(results_folder, "ALL_BYTES", 3000)
    for key in ("one", "two"):
        folder.write(key, b"x" * 2000)
    assert folder.read("one") is None
    assert folder.read("two") is not None


def test_what_was_begun_long_ago_goes_and_what_is_being_written_stays(folder, file):
    old, new = file.parent / ".a.begun", file.parent / ".b.begun"
    for one in (old, new):
        one.write_bytes(b"")
    os.utime(old, (0, 0))
    folder.write("other", 1)
    assert (old.exists(), new.exists()) == (False, True)


def test_servers_beside_each_other_see_all_or_nothing(folder):
    """Each writes what is alike from end to end; a mixture would be damaged, and read as none."""
    folder.write("key", np.zeros(100_000))
    seen, ended = [], threading.Event()

    def write(number):
        for _ in range(20):
            folder.write("key", np.full(100_000, number))

    def read():
        while not ended.is_set():
            seen.append(folder.read("key"))

    writers = [threading.Thread(target=write, args=(at,)) for at in (1, 2)]
    reader = threading.Thread(target=read)
    for thread in (reader, *writers):
        thread.start()
    for thread in writers:
        thread.join()
    ended.set()
    reader.join()
    assert seen
    assert all(one is not None and len(np.unique(one)) == 1 for one in seen)


def test_where_nothing_can_be_written_nothing_is_kept_and_nothing_fails(tmp_path):
    (tmp_path / "file").write_text("no folder")
    folder = ResultsFolder(tmp_path / "file")
    folder.write("key", 1)
    assert folder.read("key") is None


def test_the_usual_folder_is_that_of_this_user(monkeypatch, tmp_path):
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    assert usual_folder() == tmp_path / "mount-risk" / "worked-out"
    for unset in ("", "relative"):
        monkeypatch.setenv("XDG_CACHE_HOME", unset)
        monkeypatch.setenv("HOME", str(tmp_path))
        assert usual_folder() == tmp_path / ".cache" / "mount-risk" / "worked-out"


# What results rest on.


@pytest.fixture(scope="module")
def fleet():
    return launch_fleet()


def launch_fleet():
    with pytest.MonkeyPatch.context() as patched:
        patched.setenv(launch_settings.FLEET, SMALL_QUARRY)
        return launch_settings.read_and_check()[0].fleet


def changed(fleet, table, **columns):
    return replace(fleet, **{table: fleet.table(table).assign(**columns)})


def test_the_key_stays_while_all_is_the_same(fleet):
    assert key(fleet) == key(launch_fleet())


def key(fleet, as_of=LAST, horizon=365):
    return results_key.results_key(fleet, as_of, horizon)


def test_the_key_changes_with_a_record_its_order_a_day_and_a_horizon(fleet):
    walkdowns = fleet.walkdowns
    others = {
        key(changed(fleet, "units", site=fleet.units["site"].str.upper())),
        key(changed(fleet, "walkdowns", **{ROW: walkdowns[ROW] + 1})),
        key(replace(fleet, walkdowns=walkdowns.iloc[:-1])),
        key(replace(fleet, walkdowns=walkdowns.iloc[::-1])),
        key(replace(fleet, walkdowns=walkdowns.iloc[::-1].assign(row=walkdowns[ROW].to_numpy()))),
        key(fleet, as_of=LAST - pd.Timedelta(days=1)),
        key(fleet, horizon=90),
    }
    assert len(others - {key(fleet)}) == 7


@pytest.mark.parametrize("name", results_key.PROGRAMS)
def test_the_key_changes_with_each_program(fleet, monkeypatch, name):
    before = key(fleet)
    told = results_key.version
    monkeypatch.setattr(results_key, "version", lambda one: "0" if one == name else told(one))
    results_key.programs.cache_clear()
    after = key(fleet)
    results_key.programs.cache_clear()
    assert after != before


def test_the_key_changes_with_our_own_text(fleet, monkeypatch, tmp_path):
    for folder in ("scoring", "dashboard"):
        (tmp_path / folder).mkdir()
    (tmp_path / "scoring/rule.py").write_text("LIMIT = 1\n")
    monkeypatch.setattr(results_key, "__file__", str(tmp_path / "dashboard/results_key.py"))
    keys = set()
    for text in ("LIMIT = 1\n", "LIMIT = 2\n", "LIMIT = 2\n"):
        (tmp_path / "scoring/rule.py").write_text(text)
        results_key.programs.cache_clear()
        keys.add(key(fleet))
    results_key.programs.cache_clear()
    assert len(keys) == 2


# A server that is started again.


@pytest.fixture
def server(monkeypatch, tmp_path):
    """Start, and start again, as often as it is called; return how often a fleet was judged."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.setenv(launch_settings.FLEET, SMALL_QUARRY)
    monkeypatch.setenv(launch_settings.AS_OF, str(LAST.date()))
    monkeypatch.setattr(fleet_results.FleetResults, "read", READ)
    judged = []
    judge, learn = FleetAssessor.assess, FleetAssessor.learn
    monkeypatch.setattr(
        FleetAssessor, "assess", lambda *given: judged.append(given[1]) or judge(*given)
    )
    monkeypatch.setattr(FleetAssessor, "learn", lambda *given: judged.append("") or learn(*given))

    def start():
        judged.clear()
        results_in_use.in_use.forget()
        worked_out_ahead.prepare()
        return len(judged)

    return start


def test_a_server_that_is_started_again_works_nothing_out_that_is_the_same(server, monkeypatch):
    assert server() > 1
    first = results_in_use.in_use.current()
    assert server() == 0
    again = results_in_use.in_use.current()
    assert again is not first
    pd.testing.assert_frame_equal(again.assessment().ranking, first.assessment().ranking)
    pd.testing.assert_frame_equal(again.bundles(), first.bundles())
    assert len(again.trend_so_far().states) == again.trend_so_far().wanted
    pd.testing.assert_frame_equal(again.validation().scores, first.validation().scores)
    monkeypatch.setenv(launch_settings.AS_OF, "2026-06-29")
    assert server() > 1


def test_a_damaged_file_is_worked_out_anew_and_kept_again(server, tmp_path):
    server()
    [file] = (tmp_path / "mount-risk/worked-out").glob("*.results")
    file.write_bytes(file.read_bytes()[:-1])
    assert server() > 1
    assert server() == 0
