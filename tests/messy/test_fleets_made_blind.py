"""Records of plants that nobody tuned on rank as their clean tables do, with the answers kept."""

import tomllib
from pathlib import Path

import pandas as pd
import pytest
from click.testing import CliRunner

from scoring.cli.main import cli

FLEETS = Path(__file__).parent / "made_blind"
AS_OF = "2026-06-30"
NAMES = sorted(place.parent.name for place in FLEETS.glob("*/kept"))


def call(*given):
    result = CliRunner().invoke(cli, [str(one) for one in given])
    assert result.exit_code == 0, result.output
    return result.output


def ranked(fleet, out, *more):
    call("rank", fleet, "--as-of", AS_OF, "--out", out, "--show", "0", *more)
    return pd.read_csv(out, dtype=str)


def test_there_are_five():
    assert len(NAMES) == 5


@pytest.mark.parametrize("name", NAMES)
def test_a_fleet_made_blind_ranks_as_its_clean_tables(name, tmp_path):
    kept, clean, plan = FLEETS / name / "kept", FLEETS / name / "clean", tmp_path / "plan.toml"
    said = call("reading-plan", kept, "--out", plan)
    told = FLEETS / name / "told.toml"
    stages = tomllib.loads(told.read_text(encoding="utf-8")) if told.exists() else {}
    assert said.count("open: ") <= len(stages.get("answers", ()))
    for stage in stages.values():
        call("reading-plan", kept, "--plan", plan, *(f"--answer={one}" for one in stage))
    found = ranked(kept, tmp_path / "found.csv", "--plan", plan)
    true = ranked(clean, tmp_path / "true.csv")
    pd.testing.assert_frame_equal(found, true)


def test_a_list_of_units_alone_is_enough_to_rank(tmp_path):
    """In cp1252, by the answers about units."""
    german = FLEETS / "german_text_files"
    (tmp_path / "kept").mkdir()
    (tmp_path / "clean").mkdir()
    kept, plan = tmp_path / "kept" / "Antriebe.csv", tmp_path / "plan.toml"
    kept.write_bytes((german / "kept" / "Antriebe.csv").read_bytes())
    (tmp_path / "clean" / "units.csv").write_bytes((german / "clean" / "units.csv").read_bytes())
    (tmp_path / "clean" / "walkdowns.csv").write_text("walkdown_id,unit_id,inspected_on,kind\n")
    told = tomllib.loads((german / "told.toml").read_text(encoding="utf-8"))["answers"]
    call("reading-plan", kept, "--out", plan)
    answers = [f"--answer={one}" for one in told if one.startswith("units.")]
    call("reading-plan", kept, "--plan", plan, *answers)
    found = ranked(kept, tmp_path / "found.csv", "--plan", plan)
    pd.testing.assert_frame_equal(found, ranked(tmp_path / "clean", tmp_path / "true.csv"))


@pytest.mark.parametrize(
    ("told", "said"),
    [
        ("units.environment.staubig=dustyy", "is no word of environment"),
        ("column.Umgebung=walkdowns.notes", "is of another table"),
        ("dates=year first", "is none of: day month year; month day year"),
    ],
)
def test_a_correction_that_could_not_be_heeded_is_refused(told, said, tmp_path):
    kept, plan = FLEETS / "german_text_files" / "kept" / "Antriebe.csv", tmp_path / "plan.toml"
    call("reading-plan", kept, "--out", plan)
    given = ["reading-plan", str(kept), "--plan", str(plan), f"--answer={told}"]
    result = CliRunner().invoke(cli, given)
    assert result.exit_code != 0
    assert said in str(result.exception)


def test_the_order_of_days_is_corrected_where_nothing_was_asked(tmp_path):
    kept, plan = FLEETS / "german_text_files" / "kept" / "Antriebe.csv", tmp_path / "plan.toml"
    call("reading-plan", kept, "--out", plan)
    call("reading-plan", kept, "--plan", plan, "--answer=dates=month day year")
    assert tomllib.loads(plan.read_text(encoding="utf-8"))["table"][0]["dates"] == "month day year"
