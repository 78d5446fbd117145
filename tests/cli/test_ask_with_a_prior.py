"""``learn`` of several fleets, and ``--prior`` wherever a fleet is learned from."""

import pandas as pd
import pytest
from click.testing import CliRunner
from kept_plants import GRAIN_PORT, ORE_WORKS, SMALL_QUARRY

from scoring.assessment import FleetAssessor
from scoring.cli.main import cli
from scoring.errors import FixableError
from scoring.files.prior_folder import read_prior
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet

AS_OF = "2026-06-30"
DAY = pd.Timestamp(AS_OF)
UNIT = ["--unit", "SS-039"]
OTHERS_AND_FLEET = "handbook, other plants and fleet"


def run(*arguments):
    return CliRunner().invoke(cli, [str(part) for part in arguments])


def good(*arguments):
    result = run(*arguments)
    assert result.exit_code == 0, result.output + repr(result.exception)
    return result


@pytest.fixture(scope="module")
def kept(tmp_path_factory):
    """Return a folder of what two plants say, and what was printed."""
    folder = tmp_path_factory.mktemp("learned") / "kept"
    reported = good("learn", GRAIN_PORT, ORE_WORKS, "--as-of", AS_OF, "--out", folder)
    return folder, reported.output


def fleet_of(plant):
    return check_fleet(read_fleet(plant).tables, DAY).fleet


def without_failures(folder):
    """Write the small plant as it would be if failures were not written down."""
    for name in ("units", "walkdowns", "rework", "accepted"):
        table = pd.read_csv(f"{SMALL_QUARRY}/{name}.csv", dtype=str, keep_default_na=False)
        for column in ("failures_recorded_from", "event_id"):
            if column in table:
                table[column] = ""
        table.to_csv(folder / f"{name}.csv", index=False)
    return folder


def test_learn_of_several_tells_of_each_and_of_all(kept):
    folder, reported = kept
    others = read_prior(folder, DAY).others
    units = [len(fleet_of(plant).units) for plant in (GRAIN_PORT, ORE_WORKS)]
    assert f"learned as of {AS_OF} from 2 plants of {sum(units)} units: " in reported
    assert f"{others.failures('seal_leak')} seal leaks" in reported
    for plant, count in zip((GRAIN_PORT, ORE_WORKS), units, strict=True):
        assert f"{plant}: {count} units, " in reported
    assert f"written to {folder}: plants.json\n" in reported
    assert f"mount-risk rank FLEET --prior {folder}" in reported


def test_the_head_of_a_ranking_tells_what_the_prior_rests_on(kept, tmp_path):
    path = tmp_path / "ranking.parquet"
    reported = good(
        "rank", SMALL_QUARRY, "--as-of", AS_OF, "--prior", kept[0], "--out", path
    ).output
    others = read_prior(kept[0], DAY).others
    counts = (others.failures("low_speed_bearing"), others.failures("seal_leak"))
    assert f"learning began with 2 other plants of {others.units} units: " in reported
    assert f"{counts[0]} low-speed-bearing failures, {counts[1]} seal leaks, " in reported
    assert f"seal leak by {OTHERS_AND_FLEET}: 8 failures where the handbook" in reported
    ranking = pd.read_parquet(path)
    assert set(ranking["basis"]) == {OTHERS_AND_FLEET}
    assessor = FleetAssessor(fleet_of(SMALL_QUARRY), others)
    expected = assessor.assess(DAY, 365, assessor.learn(DAY)).ranking
    chances = ["p_low_speed_bearing", "p_seal_leak", "p_joint_slip"]
    pd.testing.assert_frame_equal(ranking[chances], expected[chances], check_exact=True)


ASKING = {
    "rank": [],
    "explain": UNIT,
    "what-if": [*UNIT, "--do", "correct_oil_level"],
    "plan": ["--crew-hours", "8"],
    "look": ["--hours", "4", "--out", "route.csv"],
    "effects": [],
    "validate": ["--jobs", "1"],
}


@pytest.mark.parametrize("asking", ASKING)
def test_every_question_can_begin_with_other_plants(asking, kept, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    given = [asking, SMALL_QUARRY, "--as-of", AS_OF, *ASKING[asking]]
    with_others = good(*given, "--prior", kept[0]).stdout
    assert with_others != good(*given).stdout
    assert "Traceback" not in with_others


@pytest.mark.parametrize("asking", ["rank", "explain", "what-if", "plan", "look"])
@pytest.mark.parametrize("other", ["--handbook-only", "--learned"])
def test_two_bases_at_once_are_refused(asking, other, kept):
    options = [other, *([kept[0]] if other == "--learned" else [])]
    result = run(asking, SMALL_QUARRY, *ASKING[asking], "--prior", kept[0], *options)
    assert result.exit_code == 2
    assert f"{other} and --prior exclude each other" in result.output


def test_effects_show_handbook_other_plants_and_this_fleet(kept, tmp_path):
    path = tmp_path / "effects.csv"
    given = ("effects", SMALL_QUARRY, "--as-of", AS_OF, "--prior", kept[0])
    reported = good(*given, "--out", path).output
    assert reported.count("other plants x") >= 6
    table = pd.read_csv(path)
    seals = table[(table["failure_mode"] == "seal_leak") & (table["part"] == "nameplate")]
    assert (seals["others_low"] <= seals["others"]).all()
    assert (seals["others"] < seals["others_high"]).all()
    assert not (seals["others"] == seals["handbook"]).all()
    assert not (seals["others"] == seals["fleet"]).all()
    assert "other plants x" not in good("effects", SMALL_QUARRY, "--as-of", AS_OF).output


def test_effects_of_the_handbook_alone_have_no_prior(kept):
    result = run("effects", "--prior", kept[0])
    assert result.exit_code == 2
    assert "--prior go with a FLEET" in result.output


def test_where_failures_are_not_kept_other_plants_alone_correct_the_handbook(kept, tmp_path):
    fleet = without_failures(tmp_path)
    path = tmp_path / "ranking.parquet"
    given = ("--as-of", AS_OF, "--prior", kept[0])
    reported = good("rank", fleet, *given, "--out", path).output
    ranking = pd.read_parquet(path)
    assert set(ranking["basis"]) == {"handbook and other plants"}
    assert "seal leak by handbook and other plants: failures of this fleet are not kept" in reported
    assert reported.count("other plants' failures alone correct the handbook") == 2  # slips by none
    alone = tmp_path / "alone.parquet"
    good("rank", fleet, "--as-of", AS_OF, "--handbook-only", "--out", alone)
    handbook = pd.read_parquet(alone).set_index("unit_id")["p_seal_leak"]
    corrected = ranking.set_index("unit_id")["p_seal_leak"].loc[handbook.index]
    assert (corrected != handbook).mean() > 0.9
    said = good("effects", fleet, *given).output
    assert "other plants x" in said
    assert "Nothing to validate" in good("validate", fleet, *given).output
    assert "handbook and other plants" in good("explain", fleet, *given, "--unit", "SS-039").output


def test_a_fleet_learned_from_after_others_is_kept_and_ranks_the_same(kept, tmp_path):
    given = (SMALL_QUARRY, "--as-of", AS_OF)
    folder = tmp_path / "kept"
    reported = good("learn", *given, "--prior", kept[0], "--out", folder).output
    assert "learning began with 2 other plants" in reported
    paths = [tmp_path / name for name in ("with_prior.parquet", "learned.parquet")]
    good("rank", *given, "--prior", kept[0], "--out", paths[0])
    good("rank", *given, "--learned", folder, "--out", paths[1])
    rankings = [pd.read_parquet(path) for path in paths]
    pd.testing.assert_frame_equal(*rankings, check_exact=True)


def test_without_failures_what_others_say_can_be_kept_too(kept, tmp_path):
    fleet = without_failures(tmp_path)
    folder = tmp_path / "kept"
    good("learn", fleet, "--as-of", AS_OF, "--prior", kept[0], "--out", folder)
    path = tmp_path / "ranking.parquet"
    good("rank", fleet, "--as-of", AS_OF, "--learned", folder, "--out", path)
    assert set(pd.read_parquet(path)["basis"]) == {"handbook and other plants"}
    result = run("rank", SMALL_QUARRY, "--as-of", AS_OF, "--prior", folder)
    assert isinstance(result.exception, FixableError)  # it says nothing by itself
    assert "it says nothing of other plants" in str(result.exception)


def test_a_plant_of_the_folder_is_told_that_it_was_left_out(kept):
    reported = good("rank", GRAIN_PORT, "--as-of", AS_OF, "--prior", kept[0], "--show", 0)
    assert "its own share was left out" in reported.stderr
    assert "learning began with 1 other plant of " in reported.stdout


def test_a_fleet_given_twice_is_refused(tmp_path):
    result = run("learn", GRAIN_PORT, GRAIN_PORT, "--as-of", AS_OF, "--out", tmp_path / "kept")
    assert isinstance(result.exception, FixableError)
    assert "is the same plant as a fleet before it; give each once" in str(result.exception)
    assert not (tmp_path / "kept").exists()


@pytest.mark.parametrize("option", ["--add", "--prior"])
def test_what_belongs_to_one_fleet_goes_with_one(tmp_path, kept, option):
    given = ("learn", GRAIN_PORT, ORE_WORKS, "--out", tmp_path / "kept", option, kept[0])
    result = run(*given)
    assert result.exit_code == 2
    assert "--add and --prior go with one FLEET" in result.output
