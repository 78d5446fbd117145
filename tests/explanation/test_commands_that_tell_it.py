"""``effects`` and ``explain`` as a person meets them."""

import csv

import pandas as pd
import pytest
from click.testing import CliRunner
from kept_plants import GRAIN_PORT

from scoring.cli import screen
from scoring.cli.main import cli

AS_OF = ["--as-of", "2026-06-30"]


def call(*arguments, expect=0):
    result = CliRunner().invoke(cli, list(arguments))
    failed = getattr(result.exception, "exit_code", result.exit_code)
    assert failed == expect, result.output + repr(result.exception)
    return result


def test_without_a_fleet_the_handbook_is_told():
    output = call("effects").output
    assert "seal_leak: field rate 0.08 a unit-year" in output
    assert "  breather, plugged: x 3 (1.2 to 7.4); usual in 9%; planning value of ours" in output
    assert "fleet" not in output.replace("planning", "")


@pytest.mark.parametrize("option", [AS_OF, ["--add", "more"]])
def test_what_asks_for_a_fleet_is_refused_without_one(option):
    assert "go with a FLEET" in call("effects", *option, expect=2).output


def test_the_effects_of_a_fleet_fit_a_terminal_of_100_columns(monkeypatch):
    monkeypatch.setattr(screen.out, "width", 100)
    lines = call("effects", GRAIN_PORT, *AS_OF).output.splitlines()
    rules = [place for place, line in enumerate(lines) if line.startswith("───")]
    assert len(rules) == 12  # five tables for each failure, two where the level alone is learned
    assert max(len(lines[place]) for place in rules) <= 100
    assert not any("…" in line for line in lines)
    reported = "\n".join(lines)
    for words in (
        "19 failures where the handbook expected 9.0",
        "Few failures prove little",
        "never found here: support bushings",
        "the handbook's numbers rest on: planning value of ours; (a): our own calculation",
        "North quay",
        "night crew",
        "prior only",
    ):
        assert words in reported


def test_the_effects_of_a_fleet_are_written_as_one_table(tmp_path):
    path = tmp_path / "effects.csv"
    call("effects", "demo:small_quarry", *AS_OF, "--out", str(path))
    table = pd.read_csv(path)
    assert {"effects", "findings", "site", "level", "installer"} <= set(table["part"])
    numbers = table[["handbook", "fleet", "failures", "unit_years", "share_learned"]]
    assert set(numbers.dtypes.map(lambda column: column.kind)) <= {"i", "f"}
    assert table["fleet"].notna().all()


def fleet_without_failures(folder):
    units = [["unit_id", "site", "installed_on", "mounting", "shaft_diameter_mm"]]
    units += [["U1", "quarry", "2026-01-10", "keyed_bore", "80"]]
    walkdowns = [["walkdown_id", "unit_id", "inspected_on", "kind", "breather"]]
    walkdowns += [["W1", "U1", "2026-01-11", "post_install", "plugged"]]
    for name, rows in (("units", units), ("walkdowns", walkdowns)):
        with (folder / f"{name}.csv").open("w", newline="", encoding="utf-8") as file:
            csv.writer(file).writerows(rows)
    return str(folder)


def test_where_failures_are_not_kept_that_is_said_and_the_handbook_told(tmp_path):
    fleet, out = fleet_without_failures(tmp_path), tmp_path / "out.csv"
    output = call("effects", fleet, *AS_OF, "--out", str(out)).stdout
    assert output.startswith("Failures of this fleet are not kept: this is the handbook's word")
    assert output.endswith(call("effects").output)
    assert "usual_share" in pd.read_csv(out).columns


def test_explain_learns_unless_told_not_to(tmp_path):
    unit = ["demo:small_quarry", "--unit", first_unit(), *AS_OF]
    learned, alone = call("explain", *unit).output, call("explain", *unit, "--handbook-only").output
    assert "basis: handbook and fleet" in learned
    assert "too few to speak against it" in learned
    assert "what the fleet's own failures make of it" in learned
    assert "the handbook's own x " in learned
    assert "basis: handbook;" in alone
    assert "fleet's own failures" not in alone
    assert "the handbook's own x " not in alone
    bare = fleet_without_failures(tmp_path)
    output = call("explain", bare, "--unit", "U1", *AS_OF).output
    assert "by handbook: failures of this fleet are not kept" in output


def first_unit():
    output = call("rank", "demo:small_quarry", *AS_OF, "--show", "1").output
    row = next(line for line in output.splitlines() if line.strip().startswith("1 "))
    return row.split()[1]
