"""What-if, plan, looks and what was learned: as the commands write them."""

import pandas as pd
import pytest
from click.testing import CliRunner
from demo_frames import DAY
from kept_plants import GRAIN_PORT
from kept_plants import SMALL_QUARRY as PLANT

import scoring
from scoring.cli.main import cli


@pytest.fixture(scope="module")
def stands():
    return scoring.assess(scoring.read(PLANT), as_of=DAY)


def run(*words):
    done = CliRunner().invoke(cli, [*map(str, words)], catch_exceptions=False)
    assert done.exit_code == 0, done.output
    return done.output


def same(ours, written, tmp_path):
    ours.to_parquet(tmp_path / "ours.parquet", index=False)
    read = (pd.read_parquet(path) for path in (tmp_path / "ours.parquet", written))
    pd.testing.assert_frame_equal(*read, check_exact=True)


def test_a_plan(stands, tmp_path):
    out, weighed = tmp_path / "plan.parquet", tmp_path / "weighed.parquet"
    run("plan", PLANT, "--as-of", DAY, "--crew-hours", 60, "--out", out, "--candidates", weighed)
    plan = stands.plan(60)
    same(plan.jobs, out, tmp_path)
    same(plan.weighed, weighed, tmp_path)


def test_a_plan_of_several_windows_with_wishes(stands, tmp_path):
    windows = pd.DataFrame(
        {"window": ["autumn", "winter"], "crew_hours": [30, 20.5], "crane": ["no", "yes"]}
    )
    windows.to_csv(tmp_path / "windows.csv", index=False)
    out, first = tmp_path / "plan.parquet", stands.plan(60).jobs["unit_id"].iloc[0]
    run(
        *("plan", PLANT, "--as-of", DAY, "--windows", tmp_path / "windows.csv"),
        *("--must-out", first, "--by-loss-alone", "--out", out),
    )
    same(stands.plan(windows=windows, must_out=[first], holds_first=False).jobs, out, tmp_path)


def test_a_plan_that_lifts_holds(stands, tmp_path):
    out = tmp_path / "plan.parquet"
    run("plan", PLANT, "--as-of", DAY, "--crew-hours", 30, "--lift", 1, "--out", out)
    same(stands.plan(30, lift=1).jobs, out, tmp_path)


def test_where_to_look(stands, tmp_path):
    out, looks = tmp_path / "route.parquet", tmp_path / "looks.parquet"
    run("look", PLANT, "--as-of", DAY, "--hours", 5, "--out", out, "--looks", looks)
    found = stands.look(5)
    same(found.route.visits, out, tmp_path)
    same(found.looks, looks, tmp_path)


def test_what_re_work_would_change(stands):
    job = stands.plan(60).jobs.iloc[0]
    told = run("what-if", PLANT, "--as-of", DAY, "--unit", job["unit_id"], "--do", job["actions"])
    row = stands.what_if(job["unit_id"], do=job["actions"].split(";")).iloc[0]
    assert f"verdict: {row['verdict']} -> {row['verdict_after']}" in told
    losses = (f"{row[name]:,.0f}" for name in ("expected_loss", "expected_loss_after"))
    assert f"expected loss: {' -> '.join(losses)}" in told
    assert row["loss_avoided"] == job["loss_avoided"]


def test_what_was_learned_is_kept_and_used_again(stands, tmp_path):
    learned = scoring.learn(scoring.read(PLANT), as_of=DAY)
    learned.save(tmp_path / "kept")
    run("learn", PLANT, "--as-of", DAY, "--out", tmp_path / "theirs")
    ours, theirs = (tmp_path / place / "learned.json" for place in ("kept", "theirs"))
    assert ours.read_bytes() == theirs.read_bytes()
    records = scoring.read(PLANT)
    for one in (learned, tmp_path / "kept"):
        again = scoring.assess(records, as_of=DAY, learned=one)
        pd.testing.assert_frame_equal(again.ranking, stands.ranking, rtol=1e-9)
    assert {"effects", "findings"} <= set(learned.effects["part"])


def test_other_plants_are_where_learning_begins(tmp_path):
    prior, out = tmp_path / "prior", tmp_path / "ranking.parquet"
    run("learn", PLANT, GRAIN_PORT, "--as-of", DAY, "--out", prior)
    run("rank", PLANT, "--as-of", DAY, "--prior", prior, "--out", out)
    stands = scoring.assess(scoring.read(PLANT), as_of=DAY, prior=prior)
    same(stands.ranking, out, tmp_path)
    assert stands.notes[-1].endswith("its own share was left out")


def test_what_re_work_takes_at_a_site(stands, tmp_path):
    settings = pd.DataFrame({"action": ["fit_guard"], "hours": [99.5], "site": [None]})
    settings.to_csv(tmp_path / "settings.csv", index=False)
    unit = stands.ranking.loc[0, "unit_id"]
    asked = ("--actions", tmp_path / "settings.csv", "--unit", unit, "--do", "fit_guard")
    told = run("what-if", PLANT, "--as-of", DAY, "--handbook-only", *asked)
    records = scoring.read(PLANT)
    ours = scoring.assess(records, as_of=DAY, handbook_only=True, rework_settings=settings)
    hours = ours.what_if(unit, do="fit_guard")["hours"].item()
    assert hours >= 99.5
    assert f"work: {hours:g} hours of one person" in told
    wrong = settings.assign(hours="long").set_index(pd.Index(["mine"]))
    with pytest.raises(scoring.FixableError, match="index label 'mine', hours: 'long'"):
        scoring.assess(records, as_of=DAY, rework_settings=wrong)


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (lambda s: s.what_if("nobody", do="fit_guard"), "no unit 'nobody' was in service on"),
        (lambda s: s.what_if("nobody"), "nothing is asked: give do=, found= or both"),
        (lambda s: s.plan(), "say when work can be done: give crew_hours or windows"),
        (lambda s: s.plan(0), "0 crew-hours; right is a number above 0"),
        (lambda s: s.plan(8, people=0), "0 people; right is a whole number of at least 1"),
        (lambda s: s.plan(8, starts_on="2020-01-01"), "2020-01-01, which is before 2026-06-30"),
        (lambda s: s.plan(8, site="moon"), "no unit in service stands at 'moon'"),
        (lambda s: s.plan(8, must_in=["nobody"]), "nobody: no unit in service on that day"),
        (
            lambda s: s.plan(8, windows=pd.DataFrame()),
            "windows holds hours, sites, people",
        ),
        (
            lambda s: s.plan(windows=pd.DataFrame({"window": ["x"], "crew_hours": ["many"]})),
            "the DataFrame windows, index label 0, crew_hours: 'many'",
        ),
        (lambda s: s.look(0), "0 hours at"),
        (lambda s: s.look({"moon": 3}), "no unit in service stands at 'moon'"),
        (lambda s: s.look(3, state="asleep"), "state is 'asleep'; right is one of stopped"),
        (lambda s: s.explain("nobody"), "no unit 'nobody' was in service on"),
    ],
)
def test_what_a_person_can_put_right_is_said(stands, ask, words):
    with pytest.raises(scoring.FixableError) as told:
        ask(stands)
    assert words in str(told.value)
