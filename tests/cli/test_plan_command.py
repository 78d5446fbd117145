"""``mount-risk plan`` as a person uses it."""

import subprocess
import sys

import pandas as pd
from click.testing import CliRunner

from scoring.cli.main import cli
from scoring.contract.rework import ACTION_BY_NAME
from scoring.errors import FaultyRecordsError, FixableError

PLAN = ("plan", "demo:small_quarry", "--as-of", "2026-06-30")


def run(*more):
    return CliRunner().invoke(cli, [*PLAN, *map(str, more)])


def test_a_plan_is_told_and_written_with_all_that_was_weighed(tmp_path):
    plan, weighed = tmp_path / "plan.csv", tmp_path / "all.csv"
    result = run("--crew-hours", 24, "--people", 4, "--out", plan, "--candidates", weighed)
    assert result.exit_code == 0, result.output
    assert "lock out and tag out" in result.output
    jobs, every = pd.read_csv(plan), pd.read_csv(weighed)
    assert {"unit_id", "actions", "hours", "loss_avoided", "window"} <= set(jobs)
    assert jobs.columns.tolist() == every.columns.tolist()
    assert jobs["hours"].sum() <= 24
    assert not jobs["unit_id"].duplicated().any()
    assert every["window"].notna().sum() == len(jobs)
    assert len(every) > len(jobs)


def test_windows_from_a_file(tmp_path):
    windows = tmp_path / "windows.csv"
    windows.write_text(
        "window,sites,starts_on,crew_hours,people,crane\n"
        "Saturday,Stone shed,2026-07-04,6,2,no\nAugust,,2026-08-10,40,4,yes\n",
        encoding="utf-8",
    )
    out = tmp_path / "plan.xlsx"
    result = run("--windows", windows, "--out", out)
    assert result.exit_code == 0, result.output
    jobs = pd.read_excel(out)
    assert set(jobs["window"]) <= {"Saturday", "August"}
    saturday = jobs[jobs["window"] == "Saturday"]
    assert saturday["hours"].sum() <= 6
    assert (saturday["people"] <= 2).all()
    assert (saturday["crane"] == "no").all()
    assert (saturday["lead_days"] <= 4).all()


def test_what_a_person_can_put_right_is_said(tmp_path):
    assert run().exit_code == 2
    bad = tmp_path / "windows.csv"
    bad.write_text("window,crew_hours\nSaturday,many\n", encoding="utf-8")
    assert isinstance(run("--windows", bad).exception, FaultyRecordsError)
    assert run("--windows", bad, "--crew-hours", 5).exit_code == 2
    assert run("--windows", bad, "--people", 5).exit_code == 2
    assert "no unit in service stands at" in str(run("--crew-hours", 5, "--site", "x").exception)
    early = run("--crew-hours", 5, "--starts-on", "2026-01-01").exception
    assert isinstance(early, FixableError)
    assert "is before" in str(early)


def test_a_day_leaves_out_parts_that_come_later(tmp_path):
    with_parts, soon = tmp_path / "with_parts.csv", tmp_path / "soon.csv"
    assert run("--crew-hours", 200, "--out", with_parts).exit_code == 0
    result = run("--crew-hours", 200, "--starts-on", "2026-07-01", "--out", soon)
    assert result.exit_code == 0, result.output
    assert (pd.read_csv(with_parts)["lead_days"] > 1).any()
    assert (pd.read_csv(soon)["lead_days"] <= 1).all()


def test_work_is_said_in_words_on_the_screen_and_by_its_codes_in_the_file(tmp_path):
    plan = tmp_path / "plan.csv"
    result = run("--crew-hours", 24, "--out", plan)
    codes = {name for text in pd.read_csv(plan)["actions"] for name in text.split(";")}
    assert codes <= set(ACTION_BY_NAME)
    assert any("_" in name for name in codes)
    assert not [name for name in ACTION_BY_NAME if "_" in name and name in result.output]
    assert all(name.split("_")[0] in result.output for name in codes)


def test_ranking_and_what_if_do_without_scipy():
    code = (
        "import sys, scoring.planning.plan, scoring.cli.plan_command, scoring.cli.what_if_command; "
        "sys.exit('scipy' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_the_front_is_shown_and_a_point_of_it_is_taken(tmp_path):
    result = run("--crew-hours", 8, "--front")
    assert result.exit_code == 0, result.output
    assert "from most holds lifted to most loss avoided" in result.output
    assert "most loss avoided" in result.output
    plan = tmp_path / "plan.csv"
    none = run("--crew-hours", 8, "--lift", 0, "--out", plan)
    assert none.exit_code == 0, none.output
    assert "by loss alone; no plan avoids more" in none.output
    least = pd.read_csv(plan)
    first = run("--crew-hours", 8, "--out", plan)
    assert "no plan lifts more holds" in first.output
    assert pd.read_csv(plan)["loss_avoided"].sum() <= least["loss_avoided"].sum() + 1e-6


def test_units_are_forced_into_a_plan_and_out_of_it(tmp_path):
    plan = tmp_path / "plan.csv"
    run("--crew-hours", 8, "--out", plan)
    done = pd.read_csv(plan)["unit_id"]
    forced = run(
        "--crew-hours", 8, "--must-out", done[0], "--must-in", "SS-035", "--out", plan, "--lift", 0
    )
    assert forced.exit_code == 0, forced.output
    other = pd.read_csv(plan)["unit_id"].tolist()
    assert done[0] not in other
    assert ("SS-035" in other) or ("SS-035 must be in and is not:" in forced.output)
    short = run("--crew-hours", 0.5, "--must-in", done[0])
    assert f"{done[0]} must be in and is not: it takes more hours" in short.output


def test_wishes_that_cannot_be_are_refused():
    assert "both" in run("--crew-hours", 8, "--by-loss-alone", "--lift", 2).output
    assert "no unit in service" in str(run("--crew-hours", 8, "--must-in", "ZZ-1").exception)
    twice = run("--crew-hours", 8, "--must-in", "SS-035", "--must-out", "SS-035").exception
    assert "asked to be in and to be left out" in str(twice)
