"""A plan for a generated fleet: its bundles, its columns, its words, its windows."""

import numpy as np
import pandas as pd
import pytest
from drawn_work import AS_OF, draw_sets
from questions import asked_fleet

from scoring.contract.rework import ACTION_BY_NAME
from scoring.contract.where_actions_fit import fits
from scoring.contract.windows import PLAN
from scoring.errors import FaultyRecordsError
from scoring.intake import RawTable
from scoring.planning.bundles import candidate_sets, weigh_bundles, worth_weighing
from scoring.planning.choose import choose
from scoring.planning.curve import curve_of_hours
from scoring.planning.plan import make_plan
from scoring.planning.sets_of_actions import useful_actions
from scoring.planning.shutdowns import one_shutdown, read_windows, table_of_windows
from scoring.rules.rule import Severity
from scoring.what_if.action_arrays import OFF_SHAFT
from scoring.what_if.rework_success import learn_rework_success
from scoring.what_if.site_efforts import SiteEfforts
from scoring.what_if.what_if import what_if


@pytest.fixture(scope="module")
def bundles():
    assessor, assessment = asked_fleet()
    success = learn_rework_success(assessor.timeline, AS_OF)
    return weigh_bundles(assessor, assessment, success, SiteEfforts())


@pytest.fixture(scope="module")
def made(bundles):
    return make_plan(bundles, asked_fleet()[1].ranking, one_shutdown(AS_OF, 60, people=4))


def candidates():
    assessor, assessment = asked_fleet()
    success = learn_rework_success(assessor.timeline, AS_OF)
    useful = useful_actions(assessment)
    sets = candidate_sets(assessor, assessment, useful, success, SiteEfforts())
    return useful, sets, what_if(assessor, assessment, sets, success, SiteEfforts())


def cures_of_findings(assessment):
    """Return every unit with each action that one of its findings names, one by one."""
    pairs, mounting = set(), assessment.known.units["mounting"]
    for found in assessment.findings.open().itertuples():
        if found.severity > Severity.WATCH:
            cures = {*found.action.split(";")} - {""}
            pairs |= {(found.unit, name) for name in cures if fits(name, mounting[found.unit])}
    return pairs


def test_every_cure_that_a_finding_names_is_weighed_by_itself_and_all_together():
    useful, sets, weighed = candidates()
    mounting = asked_fleet()[1].known.units["mounting"]
    names = np.array(list(ACTION_BY_NAME), dtype=object)
    unit, action = np.nonzero(useful.actions)
    alone = cures_of_findings(asked_fleet()[1])
    assert {*zip(unit, names[action], strict=True)} == alone
    weighed_alone = set(zip(weighed["unit"], weighed["actions"].str.split(";").str[0], strict=True))
    last = set(zip(weighed["unit"], weighed["actions"].str.split(";").str[-1], strict=True))
    assert alone <= weighed_alone | last
    for one in sorted({unit for unit, _ in alone})[:40]:
        own = {name for unit, name in alone if unit == one}
        brought = {brings for name in own for brings in ACTION_BY_NAME[name].brings}
        own |= {name for name in brought if fits(name, mounting[one])}
        of_unit = sets.actions[sets.unit == one]
        assert own in [set(names[flags]) for flags in of_unit]


def test_no_set_is_weighed_twice():
    _, sets, _ = candidates()
    rows = np.column_stack([sets.unit, sets.actions])
    assert len(np.unique(rows, axis=0)) == len(rows)


def test_units_without_an_open_finding_are_left_alone(bundles):
    assessment = asked_fleet()[1]
    with_finding = set(assessment.findings.open()["unit"])
    assert set(bundles["unit"]) <= with_finding


def test_work_that_avoids_nothing_and_lifts_no_hold_is_left_out(bundles):
    assert ((bundles["loss_avoided"] > 0) | bundles["clears_hold"]).all()
    again = worth_weighing(bundles)
    assert len(again) == len(bundles)


def test_a_unit_comes_off_its_shaft_once_for_all_its_work(bundles):
    names = np.array(list(ACTION_BY_NAME), dtype=object)[OFF_SHAFT]
    off = bundles["actions"].str.split(";").apply(lambda done: sum(name in names for name in done))
    several = bundles[off >= 2]
    for row in several.to_dict("records"):
        own = sum(
            SiteEfforts().work(pd.Series(["x"]), _flags(name))["hours"].iloc[0]
            for name in row["actions"].split(";")
        )
        assert row["hours"] <= own - 13.0


def _flags(name):
    return np.array([[other == name for other in ACTION_BY_NAME]])


def test_the_plan_has_the_contract_s_columns_and_adds_up(made):
    assert made.jobs.columns.tolist() == [column.name for column in PLAN.columns]
    assert made.weighed.columns.tolist() == made.jobs.columns.tolist()
    assert made.jobs["order"].tolist() == list(range(1, len(made.jobs) + 1))
    assert made.jobs["loss_avoided"].sum() == pytest.approx(made.choice.avoided)
    assert made.jobs["hours"].sum() <= 60
    assert made.windows["used"].sum() == made.jobs["hours"].sum()
    saved = made.jobs["expected_loss"] - made.jobs["expected_loss_after"]
    assert (made.jobs["loss_avoided"] <= saved.clip(lower=0) + 1e-6).all()
    assert made.jobs["loss_avoided"].sum() > 0.5 * saved.clip(lower=0).sum()
    chosen = made.weighed.dropna(subset="window")
    assert sorted(chosen["unit_id"]) == sorted(made.jobs["unit_id"])


def test_why_is_said_in_words_and_numbers(made):
    assert made.jobs["why"].str.contains("avoids [0-9,]+ of [0-9,]+").all()
    lifted = made.jobs[(made.jobs["verdict"] == "hold") & (made.jobs["verdict_after"] != "hold")]
    assert lifted["why"].str.startswith("lifts the hold").all()
    left = made.weighed[made.weighed["window"].isna()]
    assert (left["why"] != "").all()
    assert not made.missed["unit_id"].isin(made.jobs["unit_id"]).any()
    by_hour = made.missed["loss_avoided"] / made.missed["hours"]
    assert by_hour.is_monotonic_decreasing


def test_every_hold_is_lifted_or_reported(made):
    ranking = asked_fleet()[1].ranking
    held = set(ranking.loc[ranking["verdict"] == "hold", "unit_id"])
    lifted = set(made.jobs.loc[made.jobs["why"].str.startswith("lifts the hold"), "unit_id"])
    assert held == lifted | set(made.holds_left["unit_id"])
    assert (made.holds_left["why"] != "").all()


@pytest.mark.parametrize(
    ("holds_first", "said"), [(True, "not enough hours"), (False, "loss alone decides")]
)
def test_holds_that_could_be_lifted_say_what_was_in_their_way(bundles, holds_first, said):
    ranking, a_shift = asked_fleet()[1].ranking, one_shutdown(AS_OF, 6)
    left = make_plan(bundles, ranking, a_shift, holds_first=holds_first).holds_left
    assert left["why"].str.startswith(said).any()


def test_holds_that_fit_nowhere_say_why(bundles):
    ranking = asked_fleet()[1].ranking
    row = {"window": "w", "sites": None, "starts_on": AS_OF, "crew_hours": 500.0, "people": 1}
    windows = one_shutdown(AS_OF, 1)
    windows = type(windows)(table_of_windows([row | {"crane": "no"}]), AS_OF)
    made = make_plan(bundles, ranking, windows)
    assert (made.jobs["people"] == 1).all()
    assert (made.jobs["crane"] == "no").all()
    assert (made.jobs["lead_days"] == 0).all()
    said = set(made.holds_left["why"])
    assert said <= {
        "it needs more people than any window has",
        "it needs a crane",
        "its parts come too late",
        "no re-work on record lifts it: look at it",
    }


def test_jobs_run_by_window_then_site_and_line(bundles):
    rows = [
        {"window": name, "starts_on": AS_OF + pd.Timedelta(days=day), "crew_hours": 30.0}
        for name, day in (("first", 10), ("second", 40))
    ]
    windows = type(one_shutdown(AS_OF, 1))(table_of_windows(rows), AS_OF)
    made = make_plan(bundles, asked_fleet()[1].ranking, windows)
    order = made.jobs[["starts_on", "site", "line"]].astype(str)
    assert order.sort_values(
        ["starts_on", "site", "line"], kind="stable"
    ).index.is_monotonic_increasing
    assert (made.windows["used"] <= 30 + 1e-6).all()


def test_a_plan_of_no_work_says_so(bundles):
    made = make_plan(bundles.iloc[:0], asked_fleet()[1].ranking, one_shutdown(AS_OF, 8))
    assert made.jobs.empty
    assert made.curve["hours"].tolist() == [0.0]


@pytest.mark.parametrize("seed", range(10))
def test_no_plan_passes_the_curve_and_it_bends_down(seed):
    sets = draw_sets(np.random.default_rng(seed), n_units=30)
    curve = curve_of_hours(sets)
    slopes = np.diff(curve["loss_avoided"]) / np.diff(curve["hours"])
    assert (np.diff(slopes) <= 1e-6).all()
    assert (slopes >= 0).all()
    for hours in (5, 20, 80):
        choice = choose(sets, one_shutdown(AS_OF, hours), holds_first=False, gap=0.0)
        most = np.interp(hours, curve["hours"], curve["loss_avoided"])
        assert choice.avoided <= most + 1e-6
    best = sets.groupby("unit")["loss_avoided"].max().sum()
    assert curve["loss_avoided"].iloc[-1] == pytest.approx(best)


def windows_file(*rows):
    headings = ["window", "sites", "starts_on", "crew_hours", "people", "crane"]
    return RawTable.from_rows("windows", "windows.csv", headings, [list(row) for row in rows])


def test_windows_are_read_in_the_order_of_their_beginning():
    sites = pd.Series(["pit", "quay"])
    read = read_windows(
        windows_file(
            ("late", "pit; quay", "2026-09-01", "24", "4", "yes"),
            ("soon", "", "2026-07-04", "12.5", "", "no"),
        ),
        sites,
        AS_OF,
    )
    assert read.table["window"].tolist() == ["soon", "late"]
    assert read.hours.tolist() == [12.5, 24.0]


def test_faults_in_windows_are_named_by_row_and_column():
    raw = windows_file(
        ("a", "moon", "2026-07-04", "12", "", ""),
        ("a", "pit", "2026-01-01", "-3", "2.5", "maybe"),
    )
    with pytest.raises(FaultyRecordsError) as fault:
        read_windows(raw, pd.Series(["pit"]), AS_OF)
    for words in (
        "row 2, sites: 'moon'",
        "row 3, window: 'a' stands twice",
        "row 3, starts_on: '2026-01-01' is before",
        "row 3, crew_hours: '-3'",
        "row 3, people: '2.5'",
        "row 3, crane: 'maybe'",
    ):
        assert words in str(fault.value)
