"""From files to a ranking: time and memory against the floor, at ever larger fleets, as a table.

``python tests/benchmarks/files_to_ranking.py`` makes the tables of 1,000 and 10,000 units, of fits
and of predictions. ``--units 1000,10000,100000,1000000`` takes an hour and 20 GB of disk; fleets
are kept in ``--folder`` for the next time. Every way is a process of its own; ways take turns, so
that what else the machine does hits all alike; ratios are taken within a turn. Times are of the
processor, for a busy machine's clock tells little; the clock stands beside them.
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

HERE = Path(__file__).parent
AS_OF = "2026-06-30"
FLOOR, PLAIN, HANDBOOK, LEARNED = "floor", "row by row", "by the handbook", "with learning"
MOST_ROW_BY_ROW = 100_000
FIT_UNITS, FOREST_UNITS = 8_000, 2_000


def main() -> None:
    """Print the tables."""
    given = arguments()
    tell(f"{machine()}\n")
    for place, units in enumerate(given.units):
        fleet = fleet_of(given.folder, units)
        taken = [turn(fleet, units) for _ in range(given.turns)]
        if place == 0:
            tell("| units | way | processor, s | times the floor | clock, s | memory, MB |")
            tell("|---|---|---|---|---|---|")
        for way in taken[0]:
            tell(line_of(units, way, taken))
    tell("")
    growth(given)
    if given.fits:
        tell_fits(given)


GROWN = {}
"""Least processor time [s] by way and units, for the growth at the end."""


def turn(fleet, units):
    """Go once through all ways: processor time [s], clock [s] and memory [byte] of each."""
    kept, out = fleet / "ranking.pickle", fleet / "out" / "ranking.csv"
    rank = [Path(sys.executable).with_name("mount-risk"), "rank", fleet, "--as-of", AS_OF]
    rank += ["--show", "0", "--out", out]
    ways = {HANDBOOK: [*rank, "--handbook-only"]}
    found = {HANDBOOK: measured(ways[HANDBOOK])}
    pd.read_csv(out).to_pickle(kept)
    found[FLOOR] = measured([sys.executable, HERE / "text_floor.py", fleet, kept, out])
    found[LEARNED] = measured(rank)
    if units <= MOST_ROW_BY_ROW:
        found[PLAIN] = measured([sys.executable, HERE / "row_by_row.py", fleet, out])
    return found


def measured(command):
    """Run a command; return what it took of a processor, of the clock [s], and of memory [byte].

    A number that it prints is taken off its processor time.
    """
    with tempfile.TemporaryFile() as printed:
        begun = time.perf_counter()
        process = subprocess.Popen(
            [str(word) for word in command], stdout=printed, stderr=subprocess.DEVNULL
        )
        _, status, used = os.wait4(process.pid, 0)
        clock = time.perf_counter() - begun
        process.returncode = os.waitstatus_to_exitcode(status)
        if process.returncode:
            raise SystemExit(f"{command} ended with {process.returncode}")
        printed.seek(0)
        words = printed.read().decode().split()
    aside = float(words[0]) if "text_floor" in str(command[1]) else 0.0
    return used.ru_utime + used.ru_stime - aside, clock, used.ru_maxrss * 1024


def line_of(units, way, taken):
    """Tell the median and the spread of a way, and of its ratio to the floor of the same turn."""
    processor, clock, memory = np.array([one[way] for one in taken]).T
    ratios = [one[way][0] / one[FLOOR][0] for one in taken]
    GROWN[way, units] = float(processor.min())
    cells = [f"{units:,}", way, spread(processor, 1), spread(ratios, 2), spread(clock, 1)]
    return f"| {' | '.join(cells)} | {memory.max() / 1e6:,.0f} |"


def spread(values, digits):
    low, middle, high = (float(np.quantile(values, q)) for q in (0, 0.5, 1))
    return f"{middle:.{digits}f} ({low:.{digits}f} to {high:.{digits}f})"


def growth(given):
    """Tell how time grows from one size to the largest, over as many times the units."""
    first, last = min(given.units), max(given.units)
    if 10_000 in given.units and last > 10_000:
        first = 10_000
    if first == last:
        return
    for way in (HANDBOOK, LEARNED):
        times = GROWN[way, last] / GROWN[way, first] / (last / first)
        tell(f"{way}: from {first:,} to {last:,} units {times:.2f} times linear")
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

    with threadpool_limits(limits=1):
        assessor, rows = rows_of(fleet_of(given.folder, FIT_UNITS))
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
        assessor, rows = rows_of(fleet_of(given.folder, FOREST_UNITS))
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

    day = pd.Timestamp(AS_OF)
    assessor = FleetAssessor(check_fleet(read_fleet(str(fleet)).tables, day).fleet)
    return assessor, assessor.failure_rows(day)


def fleet_of(folder, units):
    """Make an invented fleet, unless it lies there already."""
    place = folder / f"{units}"
    if not (place / "units.csv").exists():
        words = ["-m", "demo_data", str(place), "--units", str(units), "--seed", "1"]
        subprocess.run([sys.executable, *words], check=True)
    return place


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
    parser.add_argument("--units", default="1000,10000", help="sizes of fleets, with commas")
    parser.add_argument("--turns", type=int, default=3, help="how often each way is taken")
    parser.add_argument("--folder", type=Path, help="where fleets are kept; default: nowhere")
    parser.add_argument("--no-fits", dest="fits", action="store_false", help="files alone")
    given = parser.parse_args()
    given.units = [int(words) for words in given.units.split(",")]
    given.folder = given.folder or Path(tempfile.mkdtemp(prefix="files_to_ranking_"))
    return given


def tell(line):
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
