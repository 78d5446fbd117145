"""``mount-risk validate`` as a person meets it."""

import subprocess
import sys

import pandas as pd
import pytest
from click.testing import CliRunner

from demo_data.generate import generate_fleet
from demo_data.write import write_fleet
from scoring.cli.main import cli
from scoring.cli.validate_command import few_failures_prove_little
from scoring.validation.validate import SCORES

AS_OF = "2026-06-30"


def call(*arguments):
    result = CliRunner().invoke(cli, ["validate", *arguments])
    assert result.exit_code == 0, result.output + repr(result.exception)
    return result.output


@pytest.mark.slow
def test_a_demo_plant_is_validated_and_the_scores_are_written(tmp_path):
    path = tmp_path / "scores.parquet"
    output = call("demo:small_quarry", "--as-of", AS_OF, "--jobs", "1", "--out", str(path))
    for words in (
        "As of 2023-07-01, 2024-06-30, 2025-06-30 it was learned from what was recorded by then",
        "later failures of the same units",
        "later failures of other units",
        "count of findings",
        "Is it better than what a plant could do without it?",
        "This plant cannot tell yet whether ours is better than counting findings or a plain",
        "order: of two units",
        "few failures prove little: with ",
        "used now for seal leak: handbook and fleet; only ",
        "Other sites were not tried: there is but one.",
    ):
        assert words in output
    assert "later failures of other sites" not in output
    assert max(len(line) for line in output.splitlines() if "handbook" in line[:20]) <= 110
    read = pd.read_parquet(path)
    assert tuple(read.columns) == SCORES
    assert len(read) == 21


@pytest.mark.slow
def test_failures_that_are_not_kept_are_told_with_what_to_do(tmp_path):
    write_fleet(generate_fleet(20, 1), tmp_path)
    since = ("failures_recorded_from", "slips_recorded_from")
    for name, columns in (("units", since), ("rework", ("event_id",))):
        table = pd.read_csv(tmp_path / f"{name}.csv", dtype=str, keep_default_na=False)
        blank = table.assign(**dict.fromkeys(columns, ""))
        blank.to_csv(tmp_path / f"{name}.csv", index=False)
    (tmp_path / "events.csv").unlink()
    out = tmp_path / "scores.csv"
    output = call(str(tmp_path), "--as-of", AS_OF, "--out", str(out))
    assert "failures of this fleet are not kept" in output
    assert "Write every failure down in events; fill failures_recorded_from" in output
    assert tuple(pd.read_csv(out).columns) == SCORES


def test_too_short_a_history_is_told_with_what_to_do():
    output = call("demo:small_quarry", "--as-of", "2015-01-30")
    assert "Nothing to validate: on 2014-01-30, a year before 2015-01-30, no unit" in output
    assert "give a later --as-of" in output


def test_an_unknown_suffix_is_refused_before_any_work():
    result = CliRunner().invoke(cli, ["validate", "nowhere", "--out", "scores.pdf"])
    assert "write one of" in str(result.exception)


@pytest.mark.slow
def test_who_only_ranks_does_not_wait_for_what_validating_needs():
    code = (
        "import scoring.cli.rank_command, scoring.cli.validate_command, sys; "
        "sys.exit('sklearn' "
        "in "
        "sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_luck_grows_as_failures_get_fewer():
    assert few_failures_prove_little(0).startswith("no failure came")
    assert "few failures" in few_failures_prove_little(99)
    assert few_failures_prove_little(300) == (
        "with 300, chance alone may move the order by 0.03 either way"
    )
