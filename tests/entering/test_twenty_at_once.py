"""Twenty people enter walkdowns at once: nothing is lost, nothing is kept twice."""

import itertools
import shutil
import time
from collections import Counter
from concurrent.futures import ThreadPoolExecutor

import pytest
from at_the_machine import begin, give
from over_http import Server
from sqlalchemy import func, select

from scoring.entering.submit_draft import submit_draft
from scoring.store.integrity import check_store
from scoring.store.open_store import open_store
from scoring.store.schema import DRAFT_ANSWERS, DRAFTS, HISTORY, RECORDS, SIGN_OFFS

PEOPLE = 20
FOUND = {"kind": "periodic", "inspector": "", "guard": "fitted", "breather": "open"}


def answers_of(name):
    return {**FOUND, "inspected_on": time.strftime("%Y-%m-%d"), "inspector": name}


class Clock:
    """Takes the time [s] of each answer and each signature."""

    def __init__(self):
        self.took = {"answer": [], "signature": []}

    def time(self, what, done):
        start = time.perf_counter()
        said = done()
        self.took[what].append(time.perf_counter() - start)
        return said

    def words(self, number, seconds):
        longest = ", ".join(f"longest {what} {max(t):.2f} s" for what, t in self.took.items())
        return f"{number} walkdowns in {seconds:.0f} s, {number / seconds:.1f} a second; {longest}"


def all_at_once(walk, number, quarry):
    """Let each person walk units of their own; return what each walkdown became."""
    units = quarry.units.loc[quarry.units["out_of_service_on"].isna(), "unit_id"].tolist()
    names = [f"Person {place:02}" for place in range(PEOPLE)]

    def all_of(place):
        own = itertools.cycle(units[place::PEOPLE])
        return [walk(next(own), names[place]) for _ in range(number // PEOPLE)]

    with ThreadPoolExecutor(PEOPLE) as pool:
        return [done for part in pool.map(all_of, range(PEOPLE)) for done in part]


def assert_nothing_lost_nothing_double(store, done, before):
    """Compare what each person was told with what the store holds."""
    walkdowns = RECORDS["walkdowns"].c
    keys = [key for key, _ in done]
    assert len(set(keys)) == len(keys)
    told = Counter(name for _, name in done)
    with store.reading() as connection:
        assert check_store(connection).faults == []
        rows = connection.execute(
            select(walkdowns.walkdown_id, walkdowns.inspector, walkdowns.guard, walkdowns.version)
        ).all()
        new = [row for row in rows if row.walkdown_id in set(keys)]
        assert len(rows) - before == len(new) == len(keys)
        assert Counter(row.inspector for row in new) == told
        assert {(row.guard, row.version) for row in new} == {("fitted", 1)}
        signed = connection.execute(select(SIGN_OFFS.c.walkdown_id, SIGN_OFFS.c.signed_by)).all()
        assert sorted(tuple(row) for row in signed) == sorted(done)
        statuses = connection.execute(
            select(DRAFTS.c.status, func.count()).group_by(DRAFTS.c.status)
        ).all()
        assert [tuple(row) for row in statuses] == [("submitted", len(keys))]
        answers = connection.scalar(select(func.count()).select_from(DRAFT_ANSWERS))
        assert answers == len(keys) * (len(FOUND) + 1)
        noted = connection.execute(
            select(HISTORY.c.about, HISTORY.c.change, func.count())
            .where(HISTORY.c.actor.like("Person %"), HISTORY.c.about != "people")
            .group_by(HISTORY.c.about, HISTORY.c.change)
        ).all()
    assert {(row.about, row.change): row[2] for row in noted} == {
        ("drafts", "started"): len(keys),
        ("draft_answers", "added"): answers,
        ("walkdowns", "added"): len(keys),
        ("sign_offs", "signed"): len(keys),
        ("drafts", "submitted"): len(keys),
    }


def walk_in_store(store, number, quarry):
    clock = Clock()

    def walk(unit_id, name):
        draft_id = begin(store, unit_id, name)
        for field, value in answers_of(name).items():
            kept = clock.time(
                "answer",
                lambda field=field, value=value: give(store, draft_id, field, value, by=name),
            )
            assert not kept.refused
        done = clock.time(
            "signature", lambda: submit_draft(store, draft_id, signed_by=name, told="Foreman")
        )
        return done.walkdown_id, name

    return _walk(store, walk, number, quarry, clock)


def walk_over_http(address, log, number, quarry):
    server, clock = Server(address, log), Clock()

    def walk(unit_id, name):
        draft_id = server.begin(unit_id, name)
        for field, value in answers_of(name).items():
            answer = clock.time(
                "answer",
                lambda field=field, value=value: server.give(draft_id, field, value, by=name),
            )
            assert answer.code == 200, answer.text
        done = clock.time("signature", lambda: server.submit(draft_id, signed_by=name))
        assert done.code == 200, done.text
        return done.said["walkdown_id"], name

    store = open_store(address)
    try:
        _walk(store, walk, number, quarry, clock)
    finally:
        store.close()
        server.stop()
    assert "Traceback" not in log.read_text()


def _walk(store, walk, number, quarry, clock):
    with store.reading() as connection:
        before = connection.scalar(select(func.count()).select_from(RECORDS["walkdowns"]))
    start = time.perf_counter()
    done = all_at_once(walk, number, quarry)
    print(clock.words(number, time.perf_counter() - start))  # noqa: T201 - figures for a reader
    assert_nothing_lost_nothing_double(store, done, before)


def test_a_walkdown_of_each_of_twenty_people_is_kept(store, quarry):
    walk_in_store(store, PEOPLE, quarry)


@pytest.mark.long
def test_a_thousand_walkdowns_of_twenty_people_are_kept(fresh_store, quarry):
    walk_in_store(fresh_store, 1000, quarry)


@pytest.mark.slow
def test_forty_walkdowns_of_twenty_phones_are_kept(fresh_url, tmp_path, quarry):
    walk_over_http(fresh_url, tmp_path / "log.txt", 40, quarry)


@pytest.mark.long
def test_a_thousand_walkdowns_of_twenty_phones_are_kept(fresh_url, tmp_path, quarry):
    walk_over_http(fresh_url, tmp_path / "log.txt", 1000, quarry)


@pytest.fixture
def fresh_url(request, store_url, tmp_path, quarry_file):
    """Take a store that nobody has entered anything into."""
    if store_url.startswith("sqlite"):
        shutil.copy(quarry_file, tmp_path / "fresh.db")
        return f"sqlite:///{tmp_path / 'fresh.db'}"
    return request.getfixturevalue("new_store")()


@pytest.fixture
def fresh_store(fresh_url):
    opened = open_store(fresh_url)
    yield opened
    opened.close()
