"""``rank`` and ``learn``: what the ranking rests on, and what is kept for the next."""

import subprocess
import sys
from pathlib import Path

import pandas as pd
import pytest
from click.testing import CliRunner
from kept_plants import GRAIN_PORT, SMALL_QUARRY

from scoring.assessment import FleetAssessor
from scoring.cli.main import cli, main
from scoring.errors import FixableError
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet

AS_OF = "2026-06-30"
PLANT = SMALL_QUARRY
TABLES = ("units", "walkdowns", "events", "rework", "accepted")


def run(*arguments):
    return CliRunner().invoke(cli, [str(part) for part in arguments])


def good(*arguments):
    result = run(*arguments)
    assert result.exit_code == 0, result.output + repr(result.exception)
    return result


@pytest.fixture(scope="module")
def kept(tmp_path_factory):
    folder = tmp_path_factory.mktemp("learned") / "kept"
    good("learn", PLANT, "--as-of", AS_OF, "--out", folder)
    return folder


def ranked(place, *options, fleet=PLANT, as_of=AS_OF):
    """Return the ranking as it was written, with all digits, and what was printed."""
    path = place / "ranking.parquet"
    result = good("rank", fleet, "--as-of", as_of, "--out", path, *options)
    return pd.read_parquet(path), result.output


@pytest.fixture(scope="module")
def without_failures(tmp_path_factory):
    """Return a folder with the plant as it would be if failures were not written down."""
    folder = tmp_path_factory.mktemp("fleet")
    for name in TABLES:
        table = pd.read_csv(Path(PLANT) / f"{name}.csv", dtype=str, keep_default_na=False)
        if name == "events":
            continue
        for column in ("failures_recorded_from", "event_id"):
            if column in table:
                table[column] = ""
        table.to_csv(folder / f"{name}.csv", index=False)
    return folder


def test_by_default_it_learns_and_says_from_what_and_why(tmp_path):
    ranking, reported = ranked(tmp_path)
    assert set(ranking["basis"]) == {"handbook and fleet"}
    assert (
        "low-speed-bearing failure by handbook and fleet: 5 failures where the handbook" in reported
    )
    assert "seal leak by handbook and fleet: 8 failures where the handbook expected" in reported
    assert reported.count("later failures to try it on: too few to speak against it") == 2
    assert "the handbook's alone" not in reported


def test_the_default_is_learn_and_then_use_to_the_last_digit(tmp_path, kept):
    default, reported = ranked(tmp_path)
    used, told_too = ranked(tmp_path, "--learned", kept)
    pd.testing.assert_frame_equal(default, used, check_exact=True)
    assert reported == told_too


def test_the_handbook_alone_is_an_assessment_without_learning(tmp_path):
    ranking, reported = ranked(tmp_path, "--handbook-only")
    fleet = check_fleet(read_fleet(PLANT).tables, pd.Timestamp(AS_OF)).fleet
    alone = tmp_path / "alone.parquet"
    FleetAssessor(fleet).assess(pd.Timestamp(AS_OF)).ranking.to_parquet(alone, index=False)
    pd.testing.assert_frame_equal(ranking, pd.read_parquet(alone), check_exact=True)
    assert set(ranking["basis"]) == {"handbook"}
    assert "the handbook's alone" in reported


@pytest.mark.parametrize("suffix", ["csv", "parquet"])
def test_where_failures_are_not_kept_the_handbook_stands_alone(tmp_path, without_failures, suffix):
    paths = [tmp_path / f"{name}.{suffix}" for name in ("default", "alone")]
    rank = ("rank", without_failures, "--as-of", AS_OF, "--out")
    reported = good(*rank, paths[0]).output
    good(*rank, paths[1], "--handbook-only")
    assert paths[0].read_bytes() == paths[1].read_bytes()
    assert reported.count("by handbook: failures of this fleet are not kept") == 2


def test_learn_says_so_where_failures_are_not_kept(tmp_path, without_failures):
    folder = tmp_path / "kept"
    reported = good("learn", without_failures, "--as-of", AS_OF, "--out", folder).output
    assert "observed for 0 unit-years" in reported
    assert reported.count("failures of this fleet are not kept") == 2
    ranking, _ = ranked(tmp_path, "--learned", folder, fleet=without_failures)
    alone, _ = ranked(tmp_path, "--handbook-only", fleet=without_failures)
    pd.testing.assert_frame_equal(ranking, alone, check_exact=True)


def test_learn_prints_what_was_learned_and_where_it_is(tmp_path):
    folder = tmp_path / "kept"
    first = good("learn", PLANT, "--as-of", AS_OF, "--out", folder).output
    assert "learned as of 2026-06-30 from 60 units, observed for " in first
    assert "5 failures where the handbook expected" in first
    assert f"written to {folder}: learned.json, manifest.json\n" in first
    assert f"mount-risk rank FLEET --learned {folder}" in first
    again = good("learn", PLANT, "--as-of", AS_OF, "--out", folder).output
    assert "in place of what was learned earlier" in again


def test_learn_never_writes_over_something_else(tmp_path):
    (tmp_path / "units.csv").write_text("unit_id\n", encoding="utf-8")
    result = run("learn", PLANT, "--as-of", AS_OF, "--out", tmp_path)
    assert isinstance(result.exception, FixableError)
    assert "holds something else (units.csv)" in str(result.exception)
    assert [path.name for path in tmp_path.iterdir()] == ["units.csv"]


def test_learn_on_a_day_before_all_records_learns_nothing(tmp_path):
    reported = good("learn", PLANT, "--as-of", "1999-01-01", "--out", tmp_path / "kept").output
    assert "observed for 0 unit-years" in reported


ASKING = {
    "rank": [],
    "explain": ["--unit", "SS-039"],
    "what-if": ["--unit", "SS-039", "--do", "correct_oil_level"],
    "plan": ["--crew-hours", "8"],
    "look": ["--hours", "4", "--out", "route.csv"],
}


@pytest.mark.parametrize("asking", ASKING)
def test_two_bases_at_once_are_refused(asking, kept):
    result = run(asking, PLANT, *ASKING[asking], "--learned", kept, "--handbook-only")
    assert result.exit_code == 2
    assert "--handbook-only and --learned exclude each other" in result.output


@pytest.mark.parametrize("asking", ASKING)
def test_every_question_can_be_asked_of_what_was_kept(asking, kept, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    given = [asking, PLANT, "--as-of", AS_OF, *ASKING[asking]]
    learned = good(*given).stdout
    assert good(*given, "--learned", kept).stdout == learned
    assert good(*given, "--handbook-only").stdout != learned


def test_what_was_kept_serves_later_and_for_others_with_a_note(tmp_path, kept):
    ranking, _ = ranked(tmp_path, "--learned", kept, as_of="2026-09-30")
    assert set(ranking["basis"]) == {"handbook and fleet"}
    later = good("rank", PLANT, "--as-of", "2026-09-30", "--learned", kept)
    assert "learned as of 2026-06-30; what failed since is not in it" in later.stderr
    other = good("rank", GRAIN_PORT, "--as-of", AS_OF, "--learned", kept, "--show", 0)
    assert "note: " in other.stderr
    assert "learned from other records, of 60 units as of 2026-06-30" in other.stderr
    same = good("rank", PLANT, "--as-of", AS_OF, "--learned", kept)
    assert "learned from other records" not in same.stderr


def test_what_cannot_be_used_is_told_without_a_traceback(tmp_path, kept, monkeypatch, capsys):
    damaged = tmp_path / "damaged"
    damaged.mkdir()
    for path in kept.iterdir():
        (damaged / path.name).write_bytes(path.read_bytes())
    (damaged / "learned.json").write_text("{", encoding="utf-8")
    cases = {
        ("--learned", tmp_path / "nowhere"): "there is no folder",
        ("--learned", damaged): "learned.json is not JSON (line 1, column 2",
        ("--learned", kept, "--as-of", "2026-01-01"): "it knows what happened since",
    }
    for options, words in cases.items():
        monkeypatch.setattr("sys.argv", ["mount-risk", "rank", PLANT, *map(str, options)])
        with pytest.raises(SystemExit) as ended:
            main()
        said = capsys.readouterr()
        assert ended.value.code == FixableError.exit_code
        assert words in said.err
        assert "mount-risk learn FLEET" in said.err
        assert "Traceback" not in said.err
        assert said.out == ""


@pytest.mark.parametrize("basis", ["learning", "kept"])
def test_ranking_does_not_wait_for_scikit_learn(kept, basis):
    options = ["--learned", str(kept)] if basis == "kept" else []
    script = (
        "import sys; from scoring.cli.main import cli\n"
        f"cli({['rank', PLANT, '--as-of', AS_OF, *options]!r}, standalone_mode=False)\n"
        "sys.exit('sklearn' in sys.modules)"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert "units in service" in done.stdout
