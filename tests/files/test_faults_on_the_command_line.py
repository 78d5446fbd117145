"""Bad input through the command itself: clear lines, no traceback, an exit code."""

import os
import subprocess
import sys
from pathlib import Path

import pandas as pd
import pytest
from click.testing import CliRunner, Result
from written_fleets import UNITS, WALKDOWNS, write_fleet

from scoring.cli.main import cli
from scoring.errors import FaultyRecordsError

MANY_UNITS = """\
unit_id,site,installed_on,started_on,out_of_service_on,asset_id,mounting,shaft_diameter_mm,\
shaft_diameter_in,hub_outer_mm,screw_thread,currency,peak_factor,screw_count
U-01,North pit,2024-01-10,,,,shrink_disc,80,,,,,,
U-02,North pit,2024-01-10,,,,shrink_disc,"1,5",,,,,,
,North pit,2024-01-10,,,,shrink_disc,80,,,,,,
U-04,North pit,2024-13-10,,,,shrink_disc,80,,,,,,
U-05,North pit,10.01.2024,,,,shrink_disc,80,,,,,,
U-06,North pit,2024-01-10T14:30Z,,,,shrink_disc,80,,,,,,
U-07,North pit,1850-01-10,,,,shrink_disc,80,,,,,,
U-08,North pit,2099-01-10,,,,shrink_disc,80,,,,,,
U-09,North pit,2024-01-10,2023-01-01,,,shrink_disc,80,,,,,,
U-10,North pit,2024-01-10,,,,glued,80,,,,,,
U-11,North pit,2024-01-10,,,,shrink_disc,80,3.5,,,,,
U-12,North pit,2024-01-10,,,,shrink_disc,80,,70,,,,
U-13,North pit,2024-01-10,,,,shrink_disc,80,,,ten,,,
U-14,North pit,2024-01-10,,,,shrink_disc,80,,,,euro,,
U-15,North pit,2024-01-10,,,,shrink_disc,80,,,,,0.5,
U-16,North pit,2024-01-10,,,,shrink_disc,80,,,,,,2.5
U-17,North pit,2024-01-10,,,,shrink_disc,#N/A,,,,,,
U-18,North pit,2024-01-10,,,,shrink_disc,NA,,,,,,
U-19,North pit,2024-01-10,,,,shrink_disc,80 mm,,,,,,
U-20,North pit,2024-01-10,,,,shrink_disc,1e400,,,,,,
U-21,North pit,2024-01-10,,,,shrink_disc,2 15/16,,,,,,
U-22,North pit,2024-01-10,,2024-05-01,G-1,shrink_disc,80,,,,,,
U-23,North pit,2024-04-01,,,G-1,shrink_disc,80,,,,,,
U-24,North pit,2024-01-10,,,,shrink_disc,80,,,,,,
U-24,South yard,2024-01-10,,,,shrink_disc,80,,,,,,
U-26,North pit,2024-01-10,,,,shrink_disc,80,,,,,,,one too many
"""
MANY_WALKDOWNS = """\
walkdown_id,unit_id,inspected_on,kind,key_condition,isolators_free
W-1,U-99,2024-02-01,periodic,,
W-2,U-01,2023-02-01,post_install,,
W-3,U-01,2024-02-01,periodic,right,
W-4,U-02,2024-02-01,periodic,,
W-5,U-01,2024-02-01,periodic,,3
"""
KINDS_OF_FAULT = (
    "row 3, column shaft_diameter_mm: '1,5' has a comma; write a decimal point",
    "row 4, column unit_id: is empty; right is text of 1 to 64 characters",
    "row 5, column installed_on: '2024-13-10' is not a day of the calendar",
    "row 6, column installed_on: '10.01.2024' is not a date; right is a date as 2026-03-31",
    "row 7, column installed_on: '2024-01-10T14:30Z' has a time zone",
    "row 8, column installed_on: '1850-01-10' is a date before 1900",
    "row 9, column installed_on: '2099-01-10' is more than one day in the future",
    "row 10, column started_on: '2023-01-01' is before installed_on, 2024-01-10",
    "row 11, column mounting: 'glued' is not on the list; right is one of keyed_bore",
    "row 12, column shaft_diameter_in: '3.5' in is 88.9 mm and differs from shaft_diameter_mm",
    "row 13, column hub_outer_mm: '70 mm' is not above the shaft's diameter, 80 mm",
    "row 14, column screw_thread: 'ten' is not a thread",
    "row 15, column currency: 'euro' is not a currency code",
    "row 16, column peak_factor: '0.5' is outside what is allowed; right is a number from 1 to 20",
    "row 17, column screw_count: '2.5' is outside what is allowed; right is a whole number",
    "row 18, column shaft_diameter_mm: '#N/A' is an error value of a spreadsheet",
    "row 19, column shaft_diameter_mm: 'NA' is text, and this column must be filled",
    "row 20, column shaft_diameter_mm: '80 mm' has something beside the number",
    "row 21, column shaft_diameter_mm: '1e400' is too large for a number",
    "row 22, column shaft_diameter_mm: '2 15/16' is a fraction",
    "row 24, column installed_on: '2024-04-01' was hung while its asset was still on the shaft",
    "row 25, column unit_id: 'U-24' names two different rows, this one and row 26 of units.csv",
    "row 27: 'U-26,North pit,2024-01-10,,,,shrink_disc,80,,,,,,,one too...' has 15 cells where the",
    "walkdowns.csv, row 2, column unit_id: 'U-99' is not a unit of this fleet",
    "walkdowns.csv, row 3, column inspected_on: '2023-02-01' is before the unit was hung on",
    "walkdowns.csv, row 4, column key_condition: 'right' is given for a shrink_disc",
    "walkdowns.csv, row 5, column unit_id: 'U-02' is a unit whose own row is faulty, row 3 of",
    "walkdowns.csv, row 6, column isolators_free: '3' is outside what is allowed; right is a",
)


def _run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(cli, [str(a) for a in arguments], env={"COLUMNS": "400"})


def _words(text: str) -> str:
    return " ".join(text.split())


def test_many_kinds_of_fault_in_one_go_give_a_clear_line_each(tmp_path: Path) -> None:
    result = _run("check", write_fleet(tmp_path, units=MANY_UNITS, walkdowns=MANY_WALKDOWNS))
    assert isinstance(result.exception, FaultyRecordsError)
    assert result.exit_code != 0
    reported = _words(result.output)
    assert [kind for kind in KINDS_OF_FAULT if _words(kind) not in reported] == []
    assert len(KINDS_OF_FAULT) >= 20
    assert "Traceback" not in result.output


def test_the_installed_command_ends_with_a_code_and_no_traceback(tmp_path: Path) -> None:
    write_fleet(tmp_path, units=MANY_UNITS, walkdowns=MANY_WALKDOWNS)
    script = "import sys; from scoring.cli.main import main; sys.exit(main())"
    done = subprocess.run(
        [sys.executable, "-c", script, "check", str(tmp_path)],
        capture_output=True, text=True, check=False, env={**os.environ, "COLUMNS": "400"},
    )  # fmt: skip
    assert done.returncode == FaultyRecordsError.exit_code
    assert "Traceback" not in done.stdout + done.stderr
    assert "faults" in done.stderr


@pytest.mark.parametrize(
    "units", [b"", UNITS.encode("utf-16"), UNITS.replace(",", ";").encode(), b"PK\x03\x04"]
)
def test_a_file_that_cannot_be_read_ends_with_its_own_code(tmp_path: Path, units: bytes) -> None:
    result = _run("check", write_fleet(tmp_path, units=units))
    assert getattr(result.exception, "exit_code", None) == 3
    assert "units.csv" in str(result.exception)


def test_nothing_is_ranked_unless_the_person_keeps_the_good(tmp_path: Path) -> None:
    fleet = write_fleet(tmp_path / "fleet", units=UNITS.replace("60", "6O"))
    out = tmp_path / "ranking.csv"
    result = _run("rank", fleet, "--out", out)
    assert isinstance(result.exception, FaultyRecordsError)
    assert "--keep-good" in str(result.exception)
    assert not out.exists()
    kept = _run("rank", fleet, "--out", out, "--keep-good", "--rejected", tmp_path / "rejected")
    assert kept.exit_code == 0, kept.output
    assert pd.read_csv(out, dtype=str)["unit_id"].tolist() == ["0012"]


def test_rejected_rows_can_be_mended_and_read_again_with_add(tmp_path: Path) -> None:
    fleet = write_fleet(tmp_path / "fleet", units=UNITS.replace("60", "6O"))
    rejected = tmp_path / "rejected"
    assert _run("check", fleet, "--rejected", rejected).exit_code != 0
    assert (rejected / "units.csv").read_text() == UNITS.splitlines()[0] + (
        "\n12,South yard,2024-02-10,keyed_bore,6O,\n"
    )
    assert (rejected / "walkdowns.csv").read_text() == WALKDOWNS.splitlines()[0] + (
        "\nW-2,12,2024-03-01,periodic,0,plugged,all well\n"
    )
    units = rejected / "units.csv"
    units.write_text(units.read_text().replace("6O", "60"))
    again = _run("check", fleet, "--add", rejected)
    assert again.exit_code == 0, again.output
    assert "no faults: 2 units, 2 walkdowns" in again.output


def test_a_blank_never_erases_an_earlier_value(tmp_path: Path) -> None:
    walkdowns = (
        "walkdown_id,unit_id,inspected_on,kind,metal_contact\n"
        "W-1,12,2024-03-01,periodic,yes\nW-2,12,2024-04-01,periodic,\n"
    )
    fleet = write_fleet(tmp_path / "fleet", walkdowns=walkdowns)
    out = tmp_path / "ranking.csv"
    assert _run("rank", fleet, "--out", out, "--as-of", "2024-06-01").exit_code == 0
    verdicts = pd.read_csv(out, dtype=str).set_index("unit_id")["verdict"]
    assert verdicts["12"] == "hold"
    assert verdicts["0012"] == "watch"  # blank is not seen, never good


def test_rejected_rows_run_in_no_spreadsheet_and_come_back_as_they_were(tmp_path: Path) -> None:
    formula = "=cmd|' /C calc'!A0"
    row = f"{formula},North pit,2024-01-10,shrink_disc,+80mm,-1.5\n"
    fleet = write_fleet(tmp_path / "fleet", units=UNITS + row)
    rejected = tmp_path / "rejected"
    assert _run("check", fleet, "--rejected", rejected).exit_code != 0
    path = rejected / "units.csv"
    cells = path.read_text().splitlines()[1]
    assert cells == f"'{formula},North pit,2024-01-10,shrink_disc,'+80mm,-1.5"
    path.write_text(path.read_text().replace("'+80mm,-1.5", "80,1.5"))
    again = _run("check", fleet, "--add", rejected)
    assert "no faults: 3 units" in again.output
