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
