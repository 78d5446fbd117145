"""Who is killed at a point within writing has lost nothing that was acknowledged, and left no half.

One kill in a few ways of writing in the ordinary run; twenty in each, half of them at the moment of
the commit, on both databases, with the table of what came of them:
``pytest tests/entering/test_killed_at_points.py -m long -s``.
"""

import os
import random
import shutil
import zipfile
from collections import Counter
from contextlib import closing

import pandas as pd
import pytest
from dying_process import write_and_die
from filled_store import fill
from first_layout import lay_out_as_first
from places_of_stores import Places
from sqlalchemy import func, select
from writing_operations import (
    INTO_A_FILLED_STORE,
    INTO_FILES,
    INTO_NOTHING,
    TO_A_NEWER_SCHEMA,
    Asked,
    make_ready,
)

from demo_data.generate import generate_fleet
from demo_data.write import write_fleet
from scoring.errors import FixableError
from scoring.files.read_fleet import read_place
from scoring.store.export_records import export_records
from scoring.store.integrity import check_store
from scoring.store.open_store import open_of_any_schema, open_store
from scoring.store.schema import HISTORY
from scoring.store.schema_version import newest_schema, schema_of
from scoring.store.verified import verify
from scoring.store.write_backup import back_up

ONE, MANY = 1, 20
NOTHING = "nothing"
LAID_OUT = {"first load": (0,)}
"""An empty store is laid out first, in a step of its own: it has no line of history."""
OLD = "0001"


@pytest.fixture(scope="module", params=["sqlite", "postgresql"])
def stores(request, tmp_path_factory, quarry, units_without_hold):
    made = Places.of(request.param, request, tmp_path_factory.mktemp(request.param))
    made.filled, made.first = made.empty(), made.empty()
    fill(made.filled, quarry)
    lay_out_as_first(made.first)
    before = os.environ.get("MOUNT_RISK_FLEET")
    with closing(open_store(made.filled)) as store:
        made.known = make_ready(store, units_without_hold[0])
    from routes_in_process import forget_stores  # noqa: PLC0415 - a copy needs it closed

    forget_stores()
    if before is None:
        del os.environ["MOUNT_RISK_FLEET"]
    made.kept = made.folder / "kept.zip"
    back_up(made.filled, made.kept)
    made.changed = made.folder / "changed"
    with closing(open_store(made.filled)) as store:
        export_records(store, made.changed)
    path = made.changed / "walkdowns.csv"
    table = pd.read_csv(path, dtype=str, keep_default_na=False)
    table.assign(notes=table["notes"] + "seen again").to_csv(path, index=False)
    return made


@pytest.fixture(scope="module")
def records(tmp_path_factory):
    """Write a few records, to be loaded."""
    folder = tmp_path_factory.mktemp("records") / "records"
    write_fleet(generate_fleet(20, 11), folder)
    return folder


@pytest.fixture
def place(tmp_path, stores, records):
    """Make a folder from which is loaded and restored, and into which is written."""
    shutil.copytree(records, tmp_path / "records")
    shutil.copytree(stores.changed, tmp_path / "changed")
    shutil.copy(stores.kept, tmp_path / "kept.zip")
    return tmp_path


def state_of(url):
    """Return how many lines of history a store has, or its schema; and what is wrong with it."""
    try:
        opened = open_of_any_schema(url)
    except FixableError:
        return NOTHING, []
    with closing(opened):
        with opened.reading() as connection:
            schema = schema_of(connection)
            if schema is None:
                return NOTHING, []
            if schema != newest_schema():
                return schema, []
        with closing(open_store(url)) as store, store.reading() as connection:
            lines = connection.scalar(select(func.count()).select_from(HISTORY))
            return lines, check_store(connection).faults


def committed_at(names):
    """Return the number of the point right after that commit which keeps what was written."""
    wrote = [n for n, name in enumerate(names, 1) if name.startswith("after") and _writes(name)]
    return names.index("after commit", wrote[-1]) + 1


def _writes(name):
    return name.split()[-1] in ("INSERT", "UPDATE", "DELETE", "CREATE", "ALTER", "DROP")


def deadly_points(names, count, chance):
    """Draw points: half of them around the commit, and around a file's way to its place."""
    ends = [n for n, name in enumerate(names, 1) if "place" in name or "bringing" in name]
    if any(map(_writes, names)):
        ends += [committed_at(names) - 1, committed_at(names)]
    chance.shuffle(ends)
    others = [n for n in range(1, len(names) + 1) if n not in ends]
    chance.shuffle(others)
    at_ends = (ends * count)[: (count + 1) // 2]
    return at_ends + (others * count)[: count - len(at_ends)]


INTO_STORES = [
    *((name, "filled") for name in INTO_A_FILLED_STORE),
    *((name, "empty") for name in INTO_NOTHING),
    *((name, "first") for name in TO_A_NEWER_SCHEMA),
]


def few_and_all(ways, few):
    """Kill once in a few of the ways, drawn once for all; when asked for, twenty times in each."""
    drawn = random.Random("ways 7").sample(ways, few)  # noqa: S311
    every = [pytest.param(way, MANY, marks=pytest.mark.long, id=f"{way[0]}-all") for way in ways]
    return [pytest.param(way, ONE, id=way[0]) for way in drawn] + every


@pytest.mark.slow
@pytest.mark.parametrize(("way", "kills"), few_and_all(INTO_STORES, 4))
def test_who_is_killed_while_writing_to_a_store_leaves_all_or_nothing(stores, place, way, kills):
    name, begins = way

    def begin():
        return stores.empty() if begins == "empty" else stores.copy_of(getattr(stores, begins))

    url = begin()
    before, _ = state_of(url)
    points = write_and_die(name, Asked(url, str(place), stores.known))
    after, wrong = state_of(url)
    assert wrong == []
    assert after != before
    stores.remove(url)
    ended = Counter()
    for number in deadly_points(points, kills, random.Random(f"{name} 7")):  # noqa: S311
        url = begin()
        acknowledged = write_and_die(name, Asked(url, str(place), stores.known), number)
        found, wrong = state_of(url)
        at = f"{name}, killed at point {number} of {len(points)}, {points[number - 1]}"
        assert acknowledged is None, at
        assert wrong == [], at
        kept = number >= committed_at(points)
        assert found == after if kept else found in (before, *LAID_OUT.get(name, ())), at
        ended[points[number - 1], "kept" if found == after else "nothing"] += 1
        if number % 5 == 0 and not kept:  # and nothing stands in the way of doing it again
            assert write_and_die(name, Asked(url, str(place), stores.known)) is not None, at
            assert state_of(url) == (after, []), at
        stores.remove(url)
    _tell(name, stores, len(points), ended)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("way", "kills"), few_and_all([(name, out) for name, (_, out) in INTO_FILES.items()], 2)
)
def test_who_is_killed_while_writing_files_leaves_no_half_of_one(stores, tmp_path, way, kills):
    name, out = way
    (tmp_path / "whole").mkdir()
    points = write_and_die(name, Asked(stores.filled, str(tmp_path / "whole"), stores.known))
    before = state_of(stores.filled)
    whole = sizes_of(tmp_path / "whole" / out)
    assert whole
    ended = Counter()
    for number in deadly_points(points, kills, random.Random(f"{name} 7")):  # noqa: S311
        place = tmp_path / f"{number}-{ended.total()}"
        place.mkdir()
        assert write_and_die(name, Asked(stores.filled, str(place), stores.known), number) is None
        at = f"{name}, killed at point {number} of {len(points)}, {points[number - 1]}"
        found = sizes_of(place / out)
        assert not found or found.keys() == whole.keys(), at
        if found:
            require_whole(place / out, at)
        ended[points[number - 1], "kept" if found else "nothing"] += 1
    assert state_of(stores.filled) == before
    _tell(name, stores, len(points), ended)


def sizes_of(path):
    """Return the files of a folder, or the one file, that are seen there."""
    paths = [path] if path.is_file() else sorted(path.glob("*")) if path.is_dir() else []
    return {one.name: one.stat().st_size for one in paths if not one.name.startswith(".")}


def require_whole(path, at):
    assert all(size > 0 for size in sizes_of(path).values()), at
    if path.suffix == ".zip":
        assert verify(str(path)).faults == [], at
    elif path.suffix == ".xlsx":
        assert zipfile.ZipFile(path).testzip() is None, at
        assert read_place(str(path)).tables, at
    elif path.suffix == ".html":
        assert path.read_text(encoding="utf-8").rstrip().endswith("</html>"), at


def _tell(name, stores, points, ended):
    kind = "PostgreSQL" if stores.server else "SQLite"
    kept = sum(times for (_, what), times in ended.items() if what == "kept")
    at = ", ".join(f"{point} {times}" for (point, _), times in sorted(ended.items()))
    print(  # noqa: T201 - the table
        f"\n| {name} | {kind} | {points} | {ended.total()} | {kept} | 0 | {at} |"
    )
