"""Many writers at once: nothing is lost, nothing is doubled, the history is whole."""

import subprocess
import sys
import threading
from contextlib import closing
from pathlib import Path

import pytest
from small_fleet import count, faults, lines_of_history, put_unit, record
from sqlalchemy import select

from scoring.store.open_store import open_store
from scoring.store.put_records import put_record
from scoring.store.schema import HISTORY, RECORDS

WRITERS = 20
WALKDOWNS = 1000
PROCESSES = 4
ANOTHER_PROCESS = """
import sys
from contextlib import closing
sys.path.insert(0, sys.argv[4])
from small_fleet import record
from scoring.store.put_records import put_record
from scoring.store.open_store import open_store
with closing(open_store(sys.argv[1])) as store:
    for number in range(int(sys.argv[3])):
        with store.writing(sys.argv[2]) as writing:
            row = record("walkdowns", walkdown_id=f"{sys.argv[2]}-{number}")
            put_record(writing, "walkdowns", row, "first entry")
"""


def writes(store, writer, mine):
    for number in mine:
        with store.writing(f"writer {writer}") as writing:
            row = record("walkdowns", walkdown_id=f"W-{number:04}", torque_passes=number % 9)
            put_record(writing, "walkdowns", row, "first entry")


@pytest.mark.slow
def test_twenty_threads_write_a_thousand_walkdowns_each_in_its_own_transaction(store):
    put_unit(store)
    failed = []

    def work(writer):
        try:
            writes(store, writer, range(writer, WALKDOWNS, WRITERS))
        except BaseException as error:  # noqa: BLE001 - told by the test itself
            failed.append(error)

    threads = [threading.Thread(target=work, args=(writer,)) for writer in range(WRITERS)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert not failed
    assert count(store, "walkdowns") == WALKDOWNS
    assert lines_of_history(store, "walkdowns") == WALKDOWNS
    assert faults(store) == []
    with store.reading() as connection:
        passes = dict(
            connection.execute(
                select(RECORDS["walkdowns"].c.walkdown_id, RECORDS["walkdowns"].c.torque_passes)
            ).all()
        )
        actors = dict(
            connection.execute(
                select(HISTORY.c.key, HISTORY.c.actor).where(HISTORY.c.about == "walkdowns")
            ).all()
        )
    assert passes == {f"W-{number:04}": number % 9 for number in range(WALKDOWNS)}
    assert actors == {f"W-{n:04}": f"writer {n % WRITERS}" for n in range(WALKDOWNS)}


@pytest.mark.slow
def test_processes_write_beside_each_other(store_url):
    with closing(open_store(store_url, make=True)) as store:
        put_unit(store)
        each = 50
        here = str(Path(__file__).parent)
        running = [
            subprocess.Popen(
                [sys.executable, "-c", ANOTHER_PROCESS, store_url, f"P{number}", str(each), here],
                stderr=subprocess.PIPE,
            )
            for number in range(PROCESSES)
        ]
        said = [process.communicate(timeout=300)[1].decode() for process in running]
        assert [process.returncode for process in running] == [0] * PROCESSES, said
        assert count(store, "walkdowns") == PROCESSES * each
        assert lines_of_history(store, "walkdowns") == PROCESSES * each
        assert faults(store) == []


@pytest.mark.slow
def test_of_two_who_change_the_same_version_one_is_told(store):
    put_unit(store)
    won, reported = [], []
    ready = threading.Barrier(8)

    def change(writer):
        ready.wait()
        try:
            with store.writing(f"writer {writer}") as writing:
                row = record("units", site=f"site {writer}")
                put_record(writing, "units", row, "another site", read_version=1)
            won.append(writer)
        except Exception as error:  # noqa: BLE001 - told by the test itself
            reported.append(str(error))

    threads = [threading.Thread(target=change, args=(writer,)) for writer in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(won) == 1
    assert len(reported) == 7
    assert all("changed by somebody else" in words for words in reported)
    assert lines_of_history(store, "units") == 2
    assert faults(store) == []
