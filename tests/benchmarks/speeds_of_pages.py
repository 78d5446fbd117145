"""How quick the pages are, in a browser and for many sessions at once: one table.

``python tests/benchmarks/speeds_of_pages.py`` wants a quiet machine: each page opened, and each
kind of click, thirty times at 2,000 units (the ore works of the demo) and at 10,000 (generated),
and over 2,000 twenty sessions at once, each a click every ten seconds for ten minutes. It names
the machine and its load, and what misses its aim. ``--units 2000 --sessions 0`` makes a part of it.
"""

import argparse
import os
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
import pandas as pd

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests" / "running")]

from clicks_on_pages import COMES_IN_LATER, Clicker  # noqa: E402 - after where it finds what it needs
from pages_server import free_port, start_pages, stop_pages  # noqa: E402
from playwright.sync_api import sync_playwright  # noqa: E402
from quiet_chromium import CHROMIUM, QUIET  # noqa: E402
from sessions_at_once import Visit, sessions_at_once  # noqa: E402

from demo_data.generate import generate_fleet  # noqa: E402
from demo_data.write import write_fleet  # noqa: E402
from scoring.files.read_fleet import read_fleet  # noqa: E402
from scoring.intake import check_fleet  # noqa: E402
from scoring.walkdown_form.units_in_service import units_in_service  # noqa: E402

SEED = 9001
AS_OF = pd.Timestamp("2026-06-30")
AIM_S = {2_000: 1.5, 10_000: 2.5}
"""Of the 95th percentile of clicks, by units. [s]"""
MEDIAN_AIM_S = 1.0
"""Of twenty sessions at once."""
MEMORY_AIM = 1.1
"""At the end, over that after the third minute, by which every page has been asked for."""
MOST_WARM_UP_S = 900
"""So long what the pages need may be worked out beside them. [s]"""
IDLE = 0.05
"""Share of a core below which a server does nothing."""


def tell(words: str) -> None:
    sys.stdout.write(words + "\n")
    sys.stdout.flush()


def machine() -> str:
    """Name the machine: processor, cores, and how busy it is."""
    lines = Path("/proc/cpuinfo").read_text(encoding="utf-8").splitlines()
    name = next((one.split(":")[1].strip() for one in lines if one.startswith("model name")), "?")
    return f"{name}, {os.cpu_count()} cores, load {' '.join(f'{x:.1f}' for x in os.getloadavg())}"


def fleet_of(units: int, folder: Path) -> str:
    """Return where a fleet of so many units lies: of the demo, or made by a fixed seed."""
    if units == 2_000:
        return str(ROOT / "demo_data" / "ore_works")
    write_fleet(generate_fleet(units, SEED), folder)
    return str(folder)


def units_of(fleet: str, count: int) -> list[str]:
    """Draw some units that are in service."""
    units = check_fleet(read_fleet(fleet).tables, AS_OF).fleet.units
    there = sorted(units_in_service(units, AS_OF))
    return np.random.default_rng(SEED).choice(there, count, replace=False).tolist()


def of_group(group: int) -> Iterator[list[str]]:
    """Give what Linux tells of each process of a group, after its name."""
    for one in Path("/proc").glob("[0-9]*/stat"):
        try:
            told = one.read_text(encoding="utf-8").rsplit(")", 1)[1].split()
        except OSError:
            continue  # it has ended
        if int(told[2]) == group:
            yield told


def memory_mb(group: int) -> float:
    """Return the resident memory of a server and of what it started, in megabytes."""
    return sum(int(one[21]) for one in of_group(group)) * os.sysconf("SC_PAGE_SIZE") / 1e6


def worked_s(group: int) -> float:
    """Return how long a server and what it started have used a processor."""
    return sum(int(one[11]) + int(one[12]) for one in of_group(group)) / os.sysconf("SC_CLK_TCK")


def wait_until_idle(group: int) -> float:
    """Wait until a server works out nothing any more; return for how long, in seconds."""
    begun, span = time.monotonic(), 5.0
    while (waited := time.monotonic() - begun) < MOST_WARM_UP_S:
        before = worked_s(group)
        time.sleep(span)
        if worked_s(group) - before < IDLE * span:
            break
    return waited


def time_clicks(address: str, group: int, units: list[str], clicks: int, aim: float) -> int:
    """Tell the times of every kind of click; return how many kinds failed."""
    failed = 0
    tell(f"{'page':26} {'click':28} {'n':>3} {'median':>7} {'95th p.':>8} {'processor':>10}")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=QUIET)
        page = browser.new_context(viewport={"width": 1400, "height": 900}).new_page()
        for timing in Clicker(page, address, units, clicks, lambda: worked_s(group)).every_kind():
            said = f"{timing.page:26} {timing.kind:28} "
            if timing.trouble:
                tell(f"{said} FAILED: {timing.trouble}")
                failed += 1
                continue
            middle, late = np.percentile(timing.seconds, [50, 95])
            is_late = late > aim and timing.kind != COMES_IN_LATER
            mark = f"  over {aim} s" if is_late else ""
            tell(
                f"{said}{len(timing.seconds):3d} {middle:6.2f}s {late:7.2f}s "
                f"{np.median(timing.worked):9.2f}s{mark}"
            )
        browser.close()
    return failed


def visits_of(units: list[str]) -> list[Visit]:
    """Return what sessions ask for: units, filters, orders, plans and looks of all kinds."""
    some = [Visit("unit", f"unit={one}", one) for one in units[:40]]
    orders = ["chance of a seal leak", "chance of a bearing failure"]
    return [
        *some,
        *(Visit("fix", f"by={one.replace(' ', '+')}", "units") for one in orders),
        *(Visit("fix", f"verdict={one}", "units") for one in ("hold", "correct", "watch")),
        *(Visit("fix", f"search={one}", "units") for one in ("clamped", "seal", "key", "shaft")),
        *(Visit("fix", f"page={n}", f"{50 * n - 49} to") for n in range(2, 8)),
        *(Visit("plan", f"crew_hours={n}", f"{n} crew-hours") for n in range(16, 176, 8)),
        *(Visit("look", f"look_hours={n}", "hours") for n in range(4, 24)),
        *(Visit("trend", "", "holds") for _ in range(4)),
        *(Visit("trust", "", "trust") for _ in range(4)),
        *(Visit("", "", "verdict") for _ in range(4)),
    ]


def time_sessions(address: str, group: int, units: list[str], count: int, minutes: float) -> int:
    """Tell how sessions at once fare, and the server's memory meanwhile; return the errors."""
    memory: list[float] = []

    def each_minute(minute: float, told) -> None:
        memory.append(memory_mb(group))
        middle = np.median(told.seconds) if told.seconds else np.nan
        tell(
            f"  minute {minute:4.1f}: {memory[-1]:6.0f} MB, {len(told.seconds)} clicks, median "
            f"{middle:.2f} s, {len(told.errors)} errors, load {os.getloadavg()[0]:.1f}"
        )

    tell(f"{count} sessions, each a click every ten seconds for {minutes:g} minutes")
    told = sessions_at_once(address, visits_of(units), count, minutes, each_minute)
    middle, late = np.percentile(told.seconds, [50, 95])
    tell(f"  median {middle:.2f} s, 95th percentile {late:.2f} s, {len(told.errors)} errors")
    for page, seconds in sorted(told.by_page.items()):
        tell(f"    /{page:6} {len(seconds):4d} clicks, median {np.median(seconds):.2f} s")
    tell(f"  received a click: median {np.median(told.bytes) / 1e3:.0f} kB, most "
         f"{max(told.bytes) / 1e3:.0f} kB")  # fmt: skip
    grown = memory[-1] / memory[min(3, len(memory) - 1)]
    for missed, what in (
        (middle > MEDIAN_AIM_S, f"the median is over {MEDIAN_AIM_S} s"),
        (bool(told.errors), f"errors, the first: {told.errors[:1]}"),
        (grown > MEMORY_AIM, f"memory grew {grown:.2f} times after the third minute"),
    ):
        if missed:
            tell(f"  MISSED: {what}")
    return len(told.errors)


def first_answer_s(address: str) -> float:
    """Open the ranking for the first time; return the seconds until it stands."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=QUIET)
        begun = time.perf_counter()
        page = browser.new_page()
        page.goto(f"{address}/fix")
        page.locator("table.units tbody tr").first.wait_for(timeout=600_000)
        seconds = time.perf_counter() - begun
        browser.close()
    return seconds


def main() -> None:
    """Make the table."""
    asked = argparse.ArgumentParser(description=__doc__.split("\n", maxsplit=1)[0])
    asked.add_argument("--units", type=int, nargs="+", default=[2_000, 10_000])
    asked.add_argument("--clicks", type=int, default=30)
    asked.add_argument("--sessions", type=int, default=20)
    asked.add_argument("--minutes", type=float, default=10.0)
    given, failed = asked.parse_args(), 0
    for units in given.units:
        with TemporaryDirectory() as folder:
            fleet, port = fleet_of(units, Path(folder)), free_port()
            some = units_of(fleet, 60)
            tell(f"\n{units} units; {machine()}")
            process = start_pages(fleet, "--as-of", f"{AS_OF:%Y-%m-%d}", port=port)
            address = f"http://127.0.0.1:{port}"
            try:
                took = first_answer_s(address)
                tell(f"the ranking stands {took:.1f} s after it is first asked for")
                waited = wait_until_idle(process.pid)
                tell(f"all is worked out {waited:.0f} s later; {memory_mb(process.pid):.0f} MB")
                if given.clicks:
                    aim = AIM_S.get(units, max(AIM_S.values()))
                    failed += time_clicks(address, process.pid, some, given.clicks, aim)
                if given.sessions and units == min(given.units):
                    failed += time_sessions(
                        address, process.pid, some, given.sessions, given.minutes
                    )
            finally:
                stop_pages(process)
            tell(f"afterwards: {machine()}")
    sys.exit(failed)


if __name__ == "__main__":
    main()
