"""``mount-risk offline``: which units its file holds, in which order, and what it refuses."""

import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner
from kept_plants import GRAIN_PORT

from scoring.cli.offline_command import offline
from scoring.errors import FixableError
from scoring.files.route_list import read_route_list

DEMO = GRAIN_PORT


def data_in(path: Path) -> dict:
    text = path.read_text(encoding="utf-8")
    (data,) = re.findall(r'<script type="application/json" id="data">(.*?)</script>', text)
    return json.loads(data)


def units_in(path: Path) -> list[str]:
    return [unit["unit_id"] for unit in data_in(path)["form"]["units"]]


def run(*words: str) -> str:
    result = CliRunner().invoke(offline, list(words), catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return result.output


def test_named_units_are_in_the_order_named(tmp_path: Path):
    out = tmp_path / "route.html"
    said = run(DEMO, "--unit", "SH-012", "--unit", "NQ-001", "--out", str(out))
    assert units_in(out) == ["SH-012", "NQ-001"]
    assert data_in(out)["route"] == "grain_port, SH-012 to NQ-001"
    assert "No verdict here is a permission to run" in said


def test_a_list_of_units_gives_the_order_of_the_walk(tmp_path: Path):
    walk, out = tmp_path / "walk.csv", tmp_path / "route.html"
    walk.write_text("note,unit_id\nfirst,NQ-007\n,SH-002\n", encoding="utf-8")
    run(str(walk), "--fleet", DEMO, "--out", str(out))
    assert units_in(out) == ["NQ-007", "SH-002"]
    assert data_in(out)["route"] == "walk"


def test_a_unit_that_stands_twice_in_a_list_is_said(tmp_path: Path):
    walk = tmp_path / "walk.csv"
    walk.write_text("unit_id\nNQ-007\nSH-002\nNQ-007\n", encoding="utf-8")
    with pytest.raises(FixableError, match="'NQ-007' stands twice"):
        run(str(walk), "--fleet", DEMO, "--out", str(tmp_path / "route.html"))


def test_a_site_is_what_is_on_it(tmp_path: Path):
    out = tmp_path / "route.html"
    run(DEMO, "--site", "North quay", "--name", "round A", "--out", str(out))
    form = data_in(out)["form"]
    assert {unit["site"] for unit in form["units"]} == {"North quay"}
    assert data_in(out)["route"] == "round A"
    assert len(form["steps"]) < sum(len(unit["steps"]) for unit in form["units"]) / 4


@pytest.mark.parametrize(
    ("words", "advice"),
    [
        ((), "372 units are too many"),
        (("--site", "Nowhere"), "there is no site 'Nowhere'"),
        (("--unit", "nq-001"), "there is no unit 'nq-001'"),
        (("--site", "Rail shed", "--unit", "NQ-001"), "there is no unit 'NQ-001' here"),
    ],
)
def test_what_cannot_be_is_said(tmp_path: Path, words: tuple[str, ...], advice: str):
    out = tmp_path / "route.html"
    with pytest.raises(FixableError, match=advice):
        run(DEMO, *words, "--out", str(out))
    assert not out.exists()


def test_a_folder_that_is_not_there_is_said(tmp_path: Path):
    with pytest.raises(FixableError, match="give another file: --out"):
        run(DEMO, "--unit", "NQ-001", "--out", str(tmp_path / "no" / "route.html"))


@pytest.mark.parametrize(
    ("text", "advice"),
    [("unit,x\nNQ-001,1\n", "needs one column unit_id"), ("unit_id,x\n,1\n", "no unit")],
)
def test_a_list_without_units_is_refused(tmp_path: Path, text: str, advice: str):
    walk = tmp_path / "walk.csv"
    walk.write_text(text, encoding="utf-8")
    with pytest.raises(FixableError, match=advice):
        read_route_list(walk)


def test_the_form_speaks_the_language_asked_for(tmp_path: Path):
    out = tmp_path / "route.html"
    run(DEMO, "--unit", "SH-012", "--language", "de", "--out", str(out))
    assert '<html lang="de">' in out.read_text(encoding="utf-8")
    assert dict(data_in(out)["words"]["sentences"])["breather"] == "Entlüfter"
    run(DEMO, "--unit", "SH-012", "--out", str(out))
    assert data_in(out)["words"] is None
