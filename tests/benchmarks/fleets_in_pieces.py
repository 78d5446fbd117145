"""How long a data set of many units takes to be ranked in pieces, and how much memory.

``python tests/benchmarks/fleets_in_pieces.py --units 1000000 --workers 2`` makes a data set from
one generated fleet whose units come again and again under other ids, learns from that one fleet,
and ranks the whole by what was learned. Processor time and memory are those of the command and of
all processes it starts; memory is what they hold together, pages that they share counted once.
"""

import argparse
import os
import platform
import resource
import shutil
import subprocess
import sys
import time
from pathlib import Path

import pyarrow as pa
import pyarrow.compute as pc
import pyarrow.csv as pa_csv
import pyarrow.parquet as pq

from demo_data.generate import generate_fleet
from demo_data.write import RECORDS, write_fleet

UNITS_MADE = 10_000
"""So many units are generated; the others are these under other ids."""

IDS = ("unit_id", "asset_id", "walkdown_id", "event_id", "rework_id", "accepted_id")
COMMAND = str(Path(sys.executable).with_name("mount-risk"))
DAY = "2026-06-30"
LOOKED_AFTER_S = 0.2


def make(folder, units, seed):
    """Make the data set and the fleet that is learned from, unless they are there."""
    made = folder / f"made-{seed}"
    if not made.exists():
        write_fleet(generate_fleet(min(UNITS_MADE, units), seed), made)
    whole = folder / f"whole-{units}"
    if whole.exists():
        return made, whole
    for name in RECORDS:
        blank_is_missing = pa_csv.ConvertOptions(strings_can_be_null=True)
        table = pa_csv.read_csv(made / f"{name}.csv", convert_options=blank_is_missing)
        (whole / name).mkdir(parents=True)
        for copy in range(-(-units // UNITS_MADE)):
            again = table
            for place, heading in enumerate(table.column_names):
                if heading in IDS:
                    ids = pc.binary_join_element_wise(
                        pa.scalar(f"{copy:03}"), table.column(heading).cast(pa.string()), "-"
                    )
                    again = again.set_column(place, heading, ids)
            pq.write_table(again, whole / name / f"part-{copy:03}.parquet", compression="zstd")
    return made, whole


def family_memory(process):
    """Return the memory [byte] that a process and all it started hold, shared pages once."""
    parents = {}
    for entry in Path("/proc").iterdir():
        if entry.name.isdigit():
            try:
                fields = (entry / "stat").read_text().rsplit(")", 1)[1].split()
            except OSError:
                continue
            parents[int(entry.name)] = int(fields[1])
    family = {process}
    for _ in range(4):
        family |= {one for one, parent in parents.items() if parent in family}
    return sum(own_share(one) for one in family)


def own_share(process):
    """Return the memory [byte] of a process, of pages that others hold too its share."""
    try:
        lines = Path(f"/proc/{process}/smaps_rollup").read_text().splitlines()
    except OSError:  # it has ended
        return 0
    return sum(1024 * int(line.split()[1]) for line in lines if line.startswith("Pss:"))


def timed(*words):
    """Run the command; return processor time [s], time on the clock [s], and peak memory [byte]."""
    before, begun = resource.getrusage(resource.RUSAGE_CHILDREN), time.monotonic()
    with subprocess.Popen([COMMAND, *words], stdout=subprocess.DEVNULL) as process:
        peak = 0
        while process.poll() is None:
            peak = max(peak, family_memory(process.pid))
            time.sleep(LOOKED_AFTER_S)
    if process.returncode:
        raise SystemExit(f"mount-risk {words[0]} ended with {process.returncode}")
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    used = sum(getattr(after, kind) - getattr(before, kind) for kind in ("ru_utime", "ru_stime"))
    return used, time.monotonic() - begun, peak


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--units", type=int, default=100_000)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--seed", type=int, default=4242)
    parser.add_argument("--folder", type=Path, default=Path("fleets_in_pieces"))
    parser.add_argument("--keep", action="store_true", help="leave the data set where it is")
    given = parser.parse_args()
    made, whole = make(given.folder, given.units, given.seed)
    learned = given.folder / "learned"
    timed("learn", str(made), "--as-of", DAY, "--out", str(learned))
    out = given.folder / "ranking.parquet"
    used, clock, peak = timed(
        "rank",
        str(whole),
        *("--as-of", DAY, "--learned", str(learned), "--out", str(out)),
        *("--workers", str(given.workers), "--scratch", str(given.folder / "scratch")),
    )
    ranked = pq.read_metadata(out).num_rows
    sys.stdout.write(
        f"{platform.processor() or platform.machine()}, {os.cpu_count()} cores\n"
        f"{given.units} units, {ranked} in service, {given.workers} workers: "
        f"{used:.0f} s of processor, {clock:.0f} s on the clock, {peak / 1e6:.0f} MB at most\n"
    )
    if not given.keep:
        shutil.rmtree(given.folder)


if __name__ == "__main__":
    main()
