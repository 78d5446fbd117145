"""Fleets written to files for tests, by hand and in every format."""

import re
import zipfile
from collections.abc import Callable, Sequence
from pathlib import Path

import openpyxl
import pandas as pd

from scoring.files.read_fleet import read_fleet
from scoring.intake import CheckedFleet, check_fleet

TODAY = pd.Timestamp("2026-06-30")
UNITS = (
    "unit_id,site,installed_on,mounting,shaft_diameter_mm,unit_mass_kg\n"
    "0012,North pit,2024-01-10,shrink_disc,80,412.5\n"
    "12,South yard,2024-02-10,keyed_bore,60,\n"
)
WALKDOWNS = (
    "walkdown_id,unit_id,inspected_on,kind,isolators_free,breather,notes\n"
    "W-1,0012,2024-01-11T14:30,post_install,1,open,\n"
    "W-2,12,2024-03-01,periodic,0,plugged,all well\n"
)


def write_fleet(
    folder: Path, *, units: str | bytes = UNITS, walkdowns: str | bytes = WALKDOWNS, **more: str
) -> Path:
    """Write a folder of CSV files."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, content in {"units": units, "walkdowns": walkdowns, **more}.items():
        data = content.encode() if isinstance(content, str) else content
        (folder / f"{name}.csv").write_bytes(data)
    return folder


def check_place(place: Path, *add: Path) -> CheckedFleet:
    """Read and check a fleet."""
    return check_fleet(read_fleet(str(place), add=tuple(map(str, add))).tables, TODAY)


def good_place(place: Path, *add: Path) -> CheckedFleet:
    """Read and check a fleet in which no fault is expected."""
    checked = check_place(place, *add)
    assert checked.faults.empty, checked.faults.to_string()
    return checked


def rows_of(text: str) -> list[list[str]]:
    """Return the cells of a plain CSV text."""
    return [line.split(",") for line in text.splitlines()]


def write_workbook(
    path: Path,
    *,
    units: Sequence[Sequence[object]] | None = None,
    walkdowns: Sequence[Sequence[object]] | None = None,
    change: Callable[[openpyxl.Workbook], None] | None = None,
) -> Path:
    """Write a workbook of both tables as text cells, unless other cells are given."""
    book = openpyxl.Workbook()
    book.remove(book.active)  # type: ignore[arg-type]
    for name, rows in (
        ("units", units or rows_of(UNITS)),
        ("walkdowns", walkdowns or rows_of(WALKDOWNS)),
    ):
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append([None if cell == "" else cell for cell in row])
    if change:
        change(book)
    book.save(path)
    return path


def change_sheet(path: Path, pattern: bytes, new: bytes) -> None:
    """Change the inside of the first sheet of a workbook, as another program may write it."""
    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    name = "xl/worksheets/sheet1.xml"
    parts[name], count = re.subn(pattern, new, parts[name], flags=re.DOTALL)
    assert count
    with zipfile.ZipFile(path, "w") as archive:
        for part, data in parts.items():
            archive.writestr(part, data)


def same_frames(one: CheckedFleet, other: CheckedFleet) -> None:
    """Fail unless both hold the same tables, row for row."""
    for name in ("units", "walkdowns", "events", "rework", "accepted"):
        pd.testing.assert_frame_equal(
            one.fleet.table(name), other.fleet.table(name), check_exact=True, check_like=True
        )
