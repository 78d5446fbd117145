"""A load that is killed at any moment leaves all of it or nothing, and a sound store."""

import shutil
import time
from contextlib import closing

import numpy as np
import pandas as pd
import pytest
from load_in_a_process import start_load
from places_of_stores import Places
from small_fleet import good
from sqlalchemy import func, select

from demo_data.generate import generate_fleet
from demo_data.write import write_fleet
from scoring.errors import FixableError
from scoring.store.integrity import check_store
from scoring.store.open_store import open_store
from scoring.store.schema import RECORDS

FEW, MANY = 8, 50
UNITS = 300


@pytest.fixture(scope="module")
def fleet(tmp_path_factory):
    """Write a fleet, and the same with other notes in every walkdown."""
    place = tmp_path_factory.mktemp("fleet")
    write_fleet(generate_fleet(UNITS, 7), place / "first")
    shutil.copytree(place / "first", place / "second")
    path = place / "second" / "walkdowns.csv"
    table = pd.read_csv(path, dtype=str, keep_default_na=False)
    table.assign(notes=table["notes"] + "seen again").to_csv(path, index=False)
    return place


def time_of_load(folder, url):
    process = start_load(folder, url)
    begun = time.monotonic()
    process.join()
    assert process.exitcode == 0
    return time.monotonic() - begun


def kill_while_loading(folder, url, after):
    """Kill a load after some seconds; return whether it was still at work."""
    process = start_load(folder, url)
    time.sleep(after)
    was_running = process.is_alive()
    process.kill()
    process.join()
    return was_running


def state(url):
    """Return how many records of each version there are, and what is wrong, of one moment."""
    try:
        opened = open_store(url)
    except FixableError:
        return "no store yet", []
    with closing(opened) as store, store.reading() as connection:
        held = {
            name: dict(
                connection.execute(
                    select(sql.c.version, func.count()).group_by(sql.c.version)
                ).all()
            )
            for name, sql in RECORDS.items()
        }
        return held, check_store(connection).faults


@pytest.mark.parametrize(
    "kills",
    [pytest.param(FEW, marks=pytest.mark.slow), pytest.param(MANY, marks=pytest.mark.long)],
)
@pytest.mark.parametrize("kind", ["sqlite", "postgresql"])
def test_a_load_killed_at_any_moment_leaves_all_or_nothing(kind, kills, request, tmp_path, fleet):
    places = Places.of(kind, request, tmp_path)
    chance = np.random.default_rng(20260331)
    loaded = places.empty()
    needs = time_of_load(fleet / "first", loaded)
    whole, wrong = state(loaded)
    assert wrong == []
    nothing = ("no store yet", {name: {} for name in RECORDS})
    walkdowns = whole["walkdowns"][1]
    renewed = {**whole, "walkdowns": {2: walkdowns}}
    ended = {"before": 0, "after": 0}
    for number in range(kills):
        into_loaded = number % 2 == 1
        url = places.copy_of(loaded) if into_loaded else places.empty()
        folder = fleet / ("second" if into_loaded else "first")
        killed = kill_while_loading(folder, url, chance.uniform(0.0, 1.1 * needs))
        needs *= 1.05 if killed else 0.9  # as others may use the machine too
        held, wrong = state(url)
        assert wrong == []
        before, after = ((whole,), renewed) if into_loaded else (nothing, whole)
        assert held in before or held == after
        ended["after" if held == after else "before"] += 1
        if number % 4 == 3:  # and nothing stands in the way of the next load
            good("load", folder, "--store", url, "--by", "Ann Bell")
            assert state(url) == (after, [])
    print(f"{kind}: {needs:.1f} s a load; killed {kills} times, {ended}")  # noqa: T201 - figures
    assert ended["before"] >= kills // 4
