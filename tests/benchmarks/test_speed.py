"""Reading and ranking 20,000 units, against reading the same files and writing the same rows.

Run with ``pytest tests/benchmarks --benchmark-only -s``; times are printed and never asserted.
"""

import pandas as pd
import pytest

from demo_data.generate import generate_fleet
from demo_data.write import write_fleet
from scoring.assessment import FleetAssessor
from scoring.files.read_fleet import read_fleet
from scoring.files.write_table import write_table
from scoring.intake import check_fleet

AS_OF = pd.Timestamp("2026-06-30")
SIZE = 20_000
TABLES = ("units", "walkdowns", "events", "rework")


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    place = tmp_path_factory.mktemp("large")
    write_fleet(generate_fleet(SIZE, 1), place)
    return place


@pytest.fixture(scope="module")
def reported():
    """Fastest time of each way, for the ratio at the end."""
    fastest = {}
    yield fastest
    if len(fastest) == 2:
        ratio = fastest["rank"] / fastest["text"]
        print(f"\nreading, checking, ranking: {ratio:.1f} times plain text")  # noqa: T201 - a report


def ranking_of(folder):
    checked = check_fleet(read_fleet(str(folder)).tables, AS_OF)
    return FleetAssessor(checked.fleet).assess(AS_OF).ranking


def test_read_check_rank_and_write(benchmark, folder, reported):
    def run():
        ranking = ranking_of(folder)
        write_table(ranking, folder / "out" / "ranking.csv")
        return ranking

    ranking = benchmark.pedantic(run, rounds=3, warmup_rounds=1)
    reported["rank"] = benchmark.stats.stats.min
    assert len(ranking) > 0.5 * SIZE


def test_read_as_text_and_write_the_same_rows(benchmark, folder, reported):
    ranking = ranking_of(folder)

    def run():
        tables = [pd.read_csv(folder / f"{name}.csv", dtype=str) for name in TABLES]
        write_table(ranking, folder / "out" / "ranking.csv")
        return tables

    tables = benchmark.pedantic(run, rounds=3, warmup_rounds=1)
    reported["text"] = benchmark.stats.stats.min
    assert len(tables[0]) == SIZE
