"""How long it takes until a unit whose record changed is ranked anew, within a store of many.

``python tests/benchmarks/one_changed_unit.py --units 20000`` fills a store, ranks all of it, and
then changes one walkdown after the other: processor time to read what changed, to judge the unit,
and to put it into the ranking, as median and largest of all tries.
"""

import argparse
import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
import pandas as pd

from demo_data.generate import generate_fleet
from demo_data.write import write_fleet
from scoring.asking.checked_records import read
from scoring.assessment import FleetAssessor
from scoring.assessment.kept_ranking import KeptRanking
from scoring.cli.main import cli
from scoring.contract import WALKDOWNS
from scoring.store.changed_units import changed_units
from scoring.store.open_store import open_store
from scoring.store.put_records import put_record
from scoring.store.read_records import last_change
from scoring.store.stored_values import stored_rows

DAY = pd.Timestamp("2026-06-30")
TRIES = 20


def filled_store(folder, units, url):
    """Make a fleet and put it into a store; return the store and the ranking of all."""
    made = folder / "fleet"
    write_fleet(generate_fleet(units, 4242), made)
    words = ["load", str(made), "--store", url, "--by", "Ann Bell"]
    begun = time.process_time()
    cli(words, standalone_mode=False)
    sys.stdout.write(f"loaded in {time.process_time() - begun:.1f} s of this processor\n")
    fleet = FleetAssessor(read(made).fleet())
    ranking = fleet.assess(DAY).ranking
    kept = KeptRanking(fleet.fleet_wide(DAY), None, 365, ranking)
    return open_store(url), fleet.fleet, kept


def changed(store, fleet, row):
    """Write another remark into a walkdown."""
    frame = fleet.walkdowns.iloc[[row]].assign(inspector="somebody else")
    (stored,) = stored_rows(frame, WALKDOWNS)
    with store.writing("Ann Bell") as writing:
        put_record(writing, "walkdowns", stored, "another inspector", read_version=1)


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--units", type=int, default=20_000)
    parser.add_argument("--store", default="", help="address; by default a file of SQLite")
    given = parser.parse_args()
    with TemporaryDirectory() as place:
        folder = Path(place)
        url = given.store or f"sqlite:///{folder / 'many.db'}"
        store, fleet, kept = filled_store(folder, given.units, url)
        rows = np.random.default_rng(1).choice(len(fleet.walkdowns), TRIES, replace=False)
        took = []
        for row in rows:
            with store.reading() as connection:
                mark = last_change(connection)
            changed(store, fleet, row)
            begun = time.process_time()
            with store.reading() as connection:
                news = changed_units(connection, store.name, mark, pd.Timestamp.today())
            read_by = time.process_time()
            kept = kept.with_changed(news.records, news.unit_ids)
            took.append((read_by - begun, time.process_time() - read_by))
        store.close()
    ms = 1000 * np.array(took)
    whole = ms.sum(axis=1)
    sys.stdout.write(
        f"{given.units} units, {len(fleet.walkdowns)} walkdowns: read {np.median(ms[:, 0]):.0f} "
        f"ms, judged and ranked {np.median(ms[:, 1]):.0f} ms; together {np.median(whole):.0f} ms, "
        f"at most {whole.max():.0f} ms\n"
    )


if __name__ == "__main__":
    main()
