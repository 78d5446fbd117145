"""How fast it is, at ever larger fleets, beside what a user would have instead: one table.

``python tests/benchmarks/files_to_ranking.py`` goes up to 10,000 units, ``--large`` to 1,000,000
(half an hour, 24 GB of memory, 3 GB of disk). Every way is a process of its own; ways go by turns,
so that what else the machine does hits all alike, and ratios are taken within a turn: of the clock,
which is what people wait for, and of processors, which is what it costs. Fleets are kept in
``--folder`` for the next time.
"""

import argparse
import os
import platform
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np
import pandas as pd
from family_of_processes import Cost, cost_of
from large_data_set import UNITS_MADE, data_set_of, generated

HERE = Path(__file__).parent
COMMAND = Path(sys.executable).with_name("mount-risk")
AS_OF = ("--as-of", "2026-06-30")
SEED = 1
FLOOR, PLAIN = "floor: read as text, write", "row by row"
HANDBOOK, LEARNED = "CSV, by the handbook", "CSV, with learning"
PARQUET = "Parquet, learned before"
OF_CSV = (FLOOR, PLAIN, HANDBOOK, LEARNED)
SIZES, LARGE_SIZES = (1_000, 10_000), (1_000, 10_000, 100_000, 1_000_000)
LARGEST_CSV = 100_000
FIT_UNITS, FOREST_UNITS = 8_000, 2_000
START_UP = {
    "--help": ["--help"],
    "check, small plant": ["check", "demo:small_quarry"],
    "rank, 2,000 units, learning": ["rank", "demo:ore_works", *AS_OF],
}


def main() -> None:
    """Print the tables."""
    given = arguments()
    tell(f"{machine()}\n")
    found = {}
    tell(
        "| units | way | clock, s | times the floor | processor, s | times the floor | memory, MB |"
    )
    tell("|---|---|---|---|---|---|---|")
    for units in given.units:
        turns = [turn(given.folder, units) for _ in range(given.turns)]
        for way in turns[0]:
            found[way, units] = [one[way] for one in turns]
            tell(line_of(units, way, turns))
    tell("")
    tell_growth(found, given.units)
    tell_start_up(given.turns)
    changed = [sys.executable, HERE / "one_changed_unit.py", "--units", str(max(SIZES))]
    subprocess.run(changed, check=True)
    if given.fits:
        tell_fits(given)


def turn(folder, units):
    """Go once through all ways; return what each cost."""
    found, out = {}, folder / "out.csv"
    if units <= LARGEST_CSV:
        fleet, kept = generated(folder, units, SEED), folder / "ranking.pickle"
        rank = [COMMAND, "rank", fleet, *AS_OF, "--show", "0", "--out", out]
        found[HANDBOOK] = cost_of([*rank, "--handbook-only"])
        pd.read_csv(out).to_pickle(kept)
        floor = cost_of([sys.executable, HERE / "text_floor.py", fleet, kept, out])
        aside = [float(words) for words in floor.printed.split()]
        found[FLOOR] = Cost(floor.processor - aside[0], floor.clock - aside[1], floor.memory, "")
        found[PLAIN] = cost_of([sys.executable, HERE / "row_by_row.py", fleet, out])
        found[LEARNED] = cost_of(rank)
    learned = folder / "learned"
    if not learned.exists():
        made = generated(folder, UNITS_MADE, SEED)
        cost_of([COMMAND, "learn", made, *AS_OF, "--out", learned])
    parquet = [COMMAND, "rank", data_set_of(folder, units, SEED), *AS_OF, "--learned", learned]
    found[PARQUET] = cost_of([*parquet, "--show", "0", "--out", folder / "out.parquet"])
    return {way: found[way] for way in (*OF_CSV, PARQUET) if way in found}


def line_of(units, way, turns):
    """Tell the median and the spread of a way, and of its ratio to the floor of the same turn."""
    cells = [f"{units:,}", way]
    for kind in ("clock", "processor"):
        seconds = [getattr(one[way], kind) for one in turns]
        cells.append(spread(seconds, 1))
        of_floor = [getattr(one[FLOOR], kind) for one in turns if FLOOR in one]
        ratios = np.divide(seconds, of_floor) if of_floor else []
        cells.append(spread(ratios, 2) if of_floor and way != FLOOR else "")
    return f"| {' | '.join(cells)} | {max(one[way].memory for one in turns) / 1e6:,.0f} |"


def spread(values, digits):
    low, middle, high = (float(np.quantile(values, q)) for q in (0, 0.5, 1))
    return f"{middle:.{digits}f} ({low:.{digits}f} to {high:.{digits}f})"


def tell_growth(found, sizes):
    """Tell how time grows from 10,000 units, or the smallest, to the most, over the units."""
    for way in (HANDBOOK, LEARNED, PARQUET):
        at = [
            units for units in sizes if (way, units) in found and units >= min(10_000, max(sizes))
        ]
        if len(at) < 2:
            continue
        for kind in ("clock", "processor"):
            first, last = (
                np.median([getattr(one, kind) for one in found[way, units]])
                for units in (at[0], at[-1])
            )
            times = last / first / (at[-1] / at[0])
            tell(f"{way}: from {at[0]:,} to {at[-1]:,} units {times:.2f} times linear ({kind})")
    tell("")


def tell_start_up(turns):
    """Tell what is waited for at the least."""
    for name, words in START_UP.items():
        cost_of([COMMAND, *words])  # what Python compiles once, and a plant generated once
        clocks = [cost_of([COMMAND, *words]).clock for _ in range(max(turns, 3))]
        tell(f"{name}: {spread(clocks, 2)} s on the clock")
    tell("")


def tell_fits(given):
    """Tell fits and predictions of the same rows, of one processor on one thread."""
    from fits_of_the_same_rows import (  # noqa: PLC0415 - slow to import, and not always asked for
        fit_cox,
        fit_ours,
        forest_and_ours,
        seconds,
        table_for_cox,
    )
    from threadpoolctl import threadpool_limits  # noqa: PLC0415

    from scoring.learning.learned import learn  # noqa: PLC0415

    with threadpool_limits(limits=1):
        largest = min(LARGEST_CSV, max(given.units))
        _, rows = rows_of(generated(given.folder, largest, SEED))
        taken = seconds(lambda: learn(rows), given.turns)
        tell(f"fit of all failures, {largest:,} units, {len(rows):,} rows: {spread(taken, 1)} s")
        assessor, rows = rows_of(generated(given.folder, FIT_UNITS, SEED))
        for mode in ("low_speed_bearing", "seal_leak"):
            table = table_for_cox(rows, mode)
            pairs = [
                (
                    seconds(lambda mode=mode: fit_ours(rows, mode), 1)[0],
                    seconds(lambda table=table: fit_cox(table), 1)[0],
                )
                for _ in range(given.turns)
            ]
            tell_pair(f"fit, {FIT_UNITS:,} units, {mode}", "Cox", pairs)
        assessor, rows = rows_of(generated(given.folder, FOREST_UNITS, SEED))
        for mode in ("low_speed_bearing", "seal_leak"):
            for what, (forest, ours) in forest_and_ours(assessor, rows, mode).items():
                pairs = [(seconds(ours, 5)[-1], seconds(forest, 1)[0]) for _ in range(given.turns)]
                tell_pair(f"predict {what}, {FOREST_UNITS:,} units, {mode}", "forest", pairs)


def tell_pair(what, other, pairs):
    ours, theirs = 1e3 * np.array(pairs).T
    tell(
        f"{what}: ours {spread(ours, 1)} ms, {other} {spread(theirs, 1)} ms, "
        f"{spread(theirs / ours, 0)} times"
    )


def rows_of(fleet):
    from scoring.assessment import FleetAssessor  # noqa: PLC0415 - only where fits are asked for
    from scoring.files.read_fleet import read_fleet  # noqa: PLC0415
    from scoring.intake import check_fleet  # noqa: PLC0415

    day = pd.Timestamp(AS_OF[1])
    assessor = FleetAssessor(check_fleet(read_fleet(str(fleet)).tables, day).fleet)
    return assessor, assessor.failure_rows(day)


def machine():
    """Name the machine: processor, cores, what else it was busy with, versions."""
    info = Path("/proc/cpuinfo")
    names = [line for line in info.read_text().splitlines() if line.startswith("model name")]
    name = names[0].split(":")[1].strip() if names else platform.processor()
    load = os.getloadavg()[0]
    return (
        f"{name}, {os.cpu_count()} cores, load {load:.1f}; Python {platform.python_version()}, "
        f"numpy {np.__version__}, pandas {pd.__version__}; {time.strftime('%Y-%m-%d %H:%M')}"
    )


def arguments():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument(
        "--units", dest="sizes", help="sizes of fleets, with commas; by default up to 10,000"
    )
    parser.add_argument("--large", action="store_true", help="up to 1,000,000 units")
    parser.add_argument("--turns", type=int, default=3, help="how often each way is gone")
    parser.add_argument("--folder", type=Path, help="where fleets are kept; default: nowhere")
    parser.add_argument("--no-fits", dest="fits", action="store_false", help="files alone")
    given = parser.parse_args()
    given.units = list(LARGE_SIZES if given.large else SIZES)
    if given.sizes:
        given.units = [int(words) for words in given.sizes.split(",")]
    given.folder = given.folder or Path(tempfile.mkdtemp(prefix="files_to_ranking_"))
    return given


def tell(line):
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
