"""The commands as a person meets them."""

import csv
import sys
from pathlib import Path
from subprocess import run

import click
import pandas as pd
import pytest
from click.testing import CliRunner

from scoring.cli.main import COMMANDS, cli
from scoring.contract import FLEET_TABLES, RANKING

AS_OF = "2026-06-30"
DEMO_PLANTS = ("small_quarry", "grain_port", "ore_works")


def call(*arguments: str, expect: int = 0):
    result = CliRunner().invoke(cli, list(arguments))
    if expect == 0:
        assert result.exit_code == 0, result.output + repr(result.exception)
    else:
        assert getattr(result.exception, "exit_code", result.exit_code) == expect
    return result


def test_the_installed_command_ranks_a_demo_plant_from_any_folder(tmp_path):
    command = str(Path(sys.executable).parent / "mount-risk")
    arguments = ["rank", "demo:small_quarry", "--as-of", AS_OF, "--out", "ranking.csv"]
    done = run([command, *arguments], cwd=tmp_path, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert "units in service on 2026-06-30" in done.stdout
    assert "lock out and tag out" in done.stdout
    ranking = pd.read_csv(tmp_path / "ranking.csv")
    assert list(ranking.columns) == [column.name for column in RANKING.columns]


def test_what_a_person_can_put_right_is_told_without_a_traceback(tmp_path):
    command = str(Path(sys.executable).parent / "mount-risk")
    done = run(
        [command, "rank", str(tmp_path / "nowhere")], capture_output=True, text=True, check=False
    )
    assert done.returncode == 3
    assert "there is no folder or workbook" in done.stderr
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize("suffix", ["csv", "parquet", "xlsx"])
def test_the_ranking_is_the_same_in_every_format(tmp_path, suffix):
    path = tmp_path / f"ranking.{suffix}"
    call("rank", "demo:small_quarry", "--as-of", AS_OF, "--out", str(path))
    read = {"csv": pd.read_csv, "parquet": pd.read_parquet, "xlsx": pd.read_excel}[suffix](path)
    assert read["rank"].tolist() == list(range(1, len(read) + 1))
    rest = read["verdict"] != "hold"
    assert rest.is_monotonic_increasing
    assert read.loc[rest, "expected_loss"].is_monotonic_decreasing


def test_an_unknown_suffix_is_refused_before_any_work(tmp_path):
    result = call("rank", "demo:small_quarry", "--out", str(tmp_path / "r.pdf"), expect=2)
    assert ".csv, .parquet, .xlsx" in str(result.exception)


def test_a_day_on_which_nothing_was_in_service_is_told():
    result = call("rank", "demo:small_quarry", "--as-of", "1999-01-01", expect=2)
    assert "no unit was in service on 1999-01-01" in str(result.exception)


@pytest.mark.parametrize("plant", DEMO_PLANTS)
def test_the_demo_plants_have_no_fault(plant):
    assert "no faults" in call("check", f"demo:{plant}").output


def broken_copy(tmp_path, **change):
    """Copy a small fleet in which one walkdown is broken."""
    units = [["unit_id", "site", "installed_on", "mounting", "shaft_diameter_mm"]]
    units += [[f"U{n}", "quarry", "2026-01-10", "keyed_bore", "80"] for n in (1, 2)]
    walkdowns = [["walkdown_id", "unit_id", "inspected_on", "kind", "guard"]]
    walkdowns += [[f"W{n}", f"U{n}", "2026-01-11", "post_install", "missing"] for n in (1, 2)]
    walkdowns[2][4] = change.get("guard", "gone")
    for name, rows in (("units", units), ("walkdowns", walkdowns)):
        with (tmp_path / f"{name}.csv").open("w", newline="", encoding="utf-8") as file:
            csv.writer(file).writerows(rows)
    return tmp_path


def test_check_prints_each_fault_and_fails(tmp_path):
    result = call("check", str(broken_copy(tmp_path)), expect=4)
    line = result.output.splitlines()[-1]
    assert line == (
        "walkdowns.csv, row 3, column guard: 'gone' is not on the list; "
        "right is one of fitted, missing"
    )


def test_nothing_is_done_with_faulty_rows_unless_asked_for(tmp_path):
    folder, out = broken_copy(tmp_path), tmp_path / "out" / "ranking.csv"
    result = call("rank", str(folder), "--as-of", AS_OF, "--out", str(out), expect=4)
    assert "--keep-good" in str(result.exception)
    assert not out.exists()


def test_rejected_rows_are_mended_and_read_again(tmp_path):
    folder = broken_copy(tmp_path)
    rejected, out = tmp_path / "rejected", tmp_path / "ranking.csv"
    options = ["--as-of", AS_OF, "--keep-good", "--rejected", str(rejected), "--out", str(out)]
    call("rank", str(folder), *options)
    kept = pd.read_csv(out)
    assert kept["verdict"].tolist() == ["hold", "watch"]
    path = rejected / "walkdowns.csv"
    text = path.read_text(encoding="utf-8")
    assert text.splitlines()[1] == "W2,U2,2026-01-11,post_install,gone"
    path.write_text(text.replace("gone", "missing"), encoding="utf-8")
    call("rank", str(folder), "--add", str(rejected), *options)
    assert pd.read_csv(out)["verdict"].tolist() == ["hold", "hold"]


def test_columns_explains_every_column_of_every_table():
    output = call("columns").output
    for table in FLEET_TABLES:
        for column in table.columns:
            assert f"  {column.name}" in output


def test_columns_of_one_table():
    output = call("columns", "events").output
    assert "occurred_on (required)" in output
    assert "shaft_diameter_mm" not in output


def test_template_is_written_once_and_never_over_something(tmp_path):
    folder = tmp_path / "fleet"
    call("template", str(folder))
    assert (folder / "units.csv").read_text(encoding="utf-8").startswith("unit_id,asset_id,site")
    result = call("template", str(folder), expect=2)
    assert "is not empty" in str(result.exception)


def test_headings_are_proposed_edited_and_used(tmp_path):
    folder = broken_copy(tmp_path, guard="fitted")
    text = (folder / "units.csv").read_text(encoding="utf-8")
    theirs = text.replace("unit_id", "Unit ID").replace("shaft_diameter_mm", "Shaft diameter mm")
    (folder / "units.csv").write_text(theirs, encoding="utf-8")
    call("check", str(folder), expect=4)
    proposal = tmp_path / "headings.csv"
    call("headings", str(folder), "--out", str(proposal))
    rows = pd.read_csv(proposal)
    assert dict(zip(rows["heading"], rows["column"], strict=True))["Unit ID"] == "unit_id"
    assert "no faults" in call("check", str(folder), "--headings", str(proposal)).output


def test_tighten_prints_torque_and_order_of_each_pass_and_a_check_pass():
    arguments = ["--mounting", "tapered_bushing", "--screws", "8", "--final-torque-nm", "120"]
    output = call("tighten", *arguments).output
    for line in ("pass 1: 30 N·m (25%)", "pass 2: 60 N·m (50%)", "pass 3: 120 N·m (100%)"):
        assert line in output
    assert "screws 1 5 3 7 2 6 4 8" in output
    assert "pass check, until no screw turns" in output


@pytest.mark.parametrize(
    ("option", "value"), [("--screws", "1"), ("--final-torque-nm", "0"), ("--passes", "2")]
)
def test_tighten_refuses_numbers_that_make_no_sense(option, value):
    good = {"--mounting": "shrink_disc", "--screws": "8", "--final-torque-nm": "120"}
    arguments = [part for pair in {**good, option: value}.items() for part in pair]
    result = call("tighten", *arguments, expect=5)
    assert "this formula holds for" in str(result.exception)


def test_rows_that_may_have_been_mended_are_never_written_over(tmp_path):
    folder, rejected = broken_copy(tmp_path), tmp_path / "rejected"
    options = ["--as-of", AS_OF, "--keep-good", "--rejected", str(rejected)]
    call("rank", str(folder), *options)
    result = call("rank", str(folder), *options, expect=2)
    assert "may have been mended" in str(result.exception)


def test_two_currencies_cannot_be_ranked_together(tmp_path):
    folder = broken_copy(tmp_path, guard="fitted")
    text = (folder / "units.csv").read_text(encoding="utf-8").replace("\r\n", "\n")
    head, one, two = text.splitlines()
    mixed = f"{head},currency\n{one},EUR\n{two},CAD\n"
    (folder / "units.csv").write_text(mixed, encoding="utf-8")
    result = call("rank", str(folder), "--as-of", AS_OF, expect=2)
    assert "CAD (1 units), EUR (1 units); one ranking has one currency" in str(result.exception)
    alike = mixed.replace(",CAD", ",")
    (folder / "units.csv").write_text(alike, encoding="utf-8")
    out = tmp_path / "ranking.csv"
    call("rank", str(folder), "--as-of", AS_OF, "--out", str(out))
    assert pd.read_csv(out)["currency"].tolist() == ["EUR", "EUR"]


def test_the_help_says_of_each_command_what_it_says_of_itself():
    said = call("--help").output
    context = click.Context(cli)
    for name in COMMANDS:
        command = cli.get_command(context, name)
        assert f"{name} " in said
        words = command.get_short_help_str(300)
        line = next(one for one in said.splitlines() if one.split()[:1] == [name])
        shown = line.split(maxsplit=1)[1].removesuffix("...")
        assert words.startswith(shown)


def test_the_help_imports_no_command():
    script = (
        "import sys; from scoring.cli.main import cli\n"
        "cli(['--help'], standalone_mode=False)\n"
        "sys.exit(' '.join({'numpy', 'pandas', 'rich'} & set(sys.modules)) or None)"
    )
    done = run([sys.executable, "-c", script], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
