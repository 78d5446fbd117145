"""Each file of the collection gets its line, and no traceback, whatever lies in it."""

import os
import resource
import subprocess
import sys
import tempfile
from multiprocessing import get_context
from pathlib import Path

import hostile_csv
import hostile_settings
import hostile_workbooks
import pytest
from collection import COLLECTION, Hostile

from scoring.cli.main import main

LONGEST_S, MOST_MEMORY, ROOM = 10.0, 1 << 30, 4 << 30
RUN = "import sys; from scoring.cli.main import main; sys.exit(main())"
HEAVY = "heavy"
MADE_BY = (hostile_csv, hostile_settings, hostile_workbooks)
QUICK = [one for one in COLLECTION if not one.heavy]


def words(text: str) -> str:
    return " ".join(text.split())


def test_the_collection_is_large_and_names_no_file_twice() -> None:
    assert len(COLLECTION) >= 60
    assert len({one.name for one in COLLECTION}) == len(COLLECTION)
    assert {one.make.__module__ for one in COLLECTION} == {made.__name__ for made in MADE_BY}


@pytest.mark.parametrize("one", QUICK, ids=lambda one: one.name)
def test_a_hostile_file_gets_its_line(
    one: Hostile,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked = one.make(tmp_path)
    monkeypatch.setattr(sys, "argv", ["mount-risk", *asked])
    monkeypatch.chdir(tmp_path)
    try:
        main()
    except SystemExit as ended:
        code = ended.code
    else:
        code = 0
    said = words("".join(capsys.readouterr()))
    assert words(one.line) in said
    assert "Traceback" not in said
    assert (code in {0, None}) == one.line.startswith("no faults")


def bounded() -> None:
    resource.setrlimit(resource.RLIMIT_AS, (ROOM, ROOM))


def in_a_process(one: Hostile, place: Path) -> tuple[str, float, int]:
    """Ask of one file in a process of its own; return what it says, its seconds and peak bytes."""
    # Made by a process of its own, for what a process has used is counted to those it starts.
    with get_context("fork").Pool(1) as maker:
        asked = maker.apply(one.make, (place,))
    said = place / "said.txt"
    with said.open("wb") as out:
        process = subprocess.Popen(
            [sys.executable, "-c", RUN, *asked],
            stdout=out, stderr=subprocess.STDOUT, cwd=place, preexec_fn=bounded,  # noqa: PLW1509
        )  # fmt: skip
        _, _, used = os.wait4(process.pid, 0)
        process.returncode = 0  # waited for already
    seconds = used.ru_utime + used.ru_stime  # of a processor, however busy the machine is
    return words(said.read_text(errors="replace")), seconds, used.ru_maxrss * 1024


@pytest.mark.long
def test_every_hostile_file_is_bounded_in_time_and_memory() -> None:
    """Print a table: file, line given, seconds of a processor, peak memory; each on its own."""
    chosen = os.environ.get("HOSTILE", "")  # of which names alone, to look at some
    failed = []
    report("\n| file | line | s | MB |\n| --- | --- | --- | --- |")
    for one in (one for one in COLLECTION if chosen in one.name or (chosen == HEAVY and one.heavy)):
        with tempfile.TemporaryDirectory() as folder:
            said, seconds, peak = in_a_process(one, Path(folder))
        given = words(one.line) in said
        report(
            f"| {one.name} | {one.line if given else f'**{said[-300:]}**'} "
            f"| {seconds:.1f} | {peak / 2**20:.0f} |"
        )
        if not given or "Traceback" in said or seconds > LONGEST_S or peak > MOST_MEMORY:
            failed.append(one.name)
    assert failed == []


def report(line: str) -> None:
    print(line, flush=True)  # noqa: T201 - a report
