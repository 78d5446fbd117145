"""``mount-risk look`` as a person uses it, and what takes its route."""

import pandas as pd
import pytest
from click.testing import CliRunner

from scoring.cli.main import cli
from scoring.contract import CHECK_BY_NAME, Seen
from scoring.errors import FaultyRecordsError, FixableError

FLEET = "demo:small_quarry"


def run(*args):
    return CliRunner().invoke(cli, [*map(str, args)])


def look(out, *more, hours=6):
    return run("look", FLEET, "--as-of", "2026-06-30", "--hours", hours, "--out", out, *more)


@pytest.fixture(scope="module")
def route(tmp_path_factory):
    folder = tmp_path_factory.mktemp("route")
    result = look(folder / "route.csv", "--looks", folder / "looks.csv", "--handbook-only")
    assert result.exit_code == 0, result.output
    return result.output, folder / "route.csv", folder / "looks.csv"


def test_it_writes_a_route_within_the_hours_and_says_what_it_is_worth(route):
    words, path, looks = route
    visits, every = pd.read_csv(path), pd.read_csv(looks)
    assert {"unit_id", "checks", "minutes", "value", "site", "line"} <= set(visits)
    assert 0 < visits.groupby("site")["minutes"].sum().max() <= 360
    assert (visits["value"] > 0).all()
    assert (every["value"] >= 0).all()
    assert "no route is worth more than" in words
    assert "worth: expected loss" in words
    checks = [name for text in visits["checks"] for name in text.split(";")]
    assert all(CHECK_BY_NAME[name].seen is Seen.STOPPED for name in checks)


def test_a_template_and_a_page_without_network_take_the_route(route, tmp_path):
    _, path, _ = route
    units = pd.read_csv(path)["unit_id"].tolist()
    result = run("template", tmp_path / "begun", "--for", FLEET, "--route", path)
    assert result.exit_code == 0, result.output
    assert f"{len(units)} walkdown" in result.output
    page = tmp_path / "walk.html"
    result = run("offline", path, "--fleet", FLEET, "--out", page)
    assert result.exit_code == 0, result.output
    assert all(unit in page.read_text(encoding="utf-8") for unit in units)


def test_what_a_person_can_put_right_is_said(tmp_path):
    out = tmp_path / "route.csv"
    assert "sites are" in str(look(out, "--site", "Moon", "--handbook-only").exception)
    assert isinstance(look(tmp_path / "route.doc").exception, FixableError)
    assert look(out, hours=0).exit_code == 2
    ours = tmp_path / "minutes.csv"
    ours.write_text("site,what,minutes\n,walking,-4\n", encoding="utf-8")
    fault = look(out, "--minutes", ours, "--handbook-only").exception
    assert isinstance(fault, FaultyRecordsError)
    assert "row 2, minutes: '-4'" in str(fault)
    assert not out.exists()


def test_running_machines_take_other_checks(tmp_path):
    out = tmp_path / "looks.csv"
    result = look(tmp_path / "route.csv", "--state", "running", "--handbook-only", "--looks", out)
    assert result.exit_code == 0, result.output
    seen_running = {"running_temperature_c", "vibration_mm_s", "backstop_direction"}
    assert set(pd.read_csv(out)["check"]) <= seen_running
