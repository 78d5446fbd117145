"""The fleet over time: month-ends, installations, findings that come back."""

from collections import Counter

import numpy as np
import pandas as pd
import pytest
from kept_plants import GRAIN_PORT

from scoring.assessment import FleetAssessor
from scoring.contract import CHECKS
from scoring.contract.events import MODES
from scoring.contract.rework import with_brought
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet
from scoring.risk.chance_of_failing import chance_of_failing
from scoring.rules.rule import Severity
from scoring.trends import (
    first_time_right,
    holds_by_age,
    month_ends,
    never_looked_at,
    recurring_findings,
    state_at,
)

AS_OF = pd.Timestamp("2026-06-30")


@pytest.fixture(scope="module")
def assessor():
    return FleetAssessor(check_fleet(read_fleet(GRAIN_PORT).tables, AS_OF).fleet)


def test_month_ends_end_with_the_day_itself():
    assert [d.day for d in month_ends(pd.Timestamp("2026-05-31"), 3)] == [31, 30, 31]
    assert month_ends(pd.Timestamp("2026-05-10"), 2)[-1] == pd.Timestamp("2026-05-10")


def test_a_month_end_says_what_the_ranking_of_that_day_said(assessor):
    day = pd.Timestamp("2025-03-31")
    state, then = state_at(assessor, day), assessor.assess(day)
    assert state.by_site.groupby("failure_mode")["units"].sum().tolist() == [
        len(then.ranking)
    ] * len(MODES)
    holds = state.by_site[state.by_site["failure_mode"] == MODES[0]]["holds"].sum()
    assert holds == (then.ranking["verdict"] == "hold").sum()
    for mode in MODES:
        rows = state.by_site[state.by_site["failure_mode"] == mode]
        total = (rows["failing_of_100_units"] * rows["units"]).sum() / 100
        risk = then.risk.modes[mode]
        failed = risk.probability == 1
        assert total == pytest.approx(
            np.where(failed, chance_of_failing(risk.expected), risk.probability).sum()
        )


def test_one_hopeless_unit_counts_once(assessor):
    """In January 2025 a bearing ran at 10 mm/s and 77 °C, its arm clamped and mis-set."""
    learning, day = assessor.learn(AS_OF), pd.Timestamp("2025-01-31")
    by_site = state_at(assessor, day, learning).by_site
    risk = assessor.assess(day, learning=learning).risk.modes[MODES[0]]
    rows = by_site[by_site["failure_mode"] == MODES[0]]
    counted = (rows["failing_of_100_units"] * rows["units"]).sum() / 100
    worst = risk.expected.max()
    assert worst > 0.6
    assert counted <= risk.expected.sum() - (worst - (1 - np.exp(-worst)))


def test_what_was_written_down_later_changes_no_earlier_month_end(assessor):
    fleet, day = assessor.fleet, pd.Timestamp("2025-03-31")
    end = day + pd.Timedelta(days=1)
    early = {
        name: getattr(fleet, name)[lambda t, c=column: t[c] < end].reset_index(drop=True)
        for name, column in (
            ("walkdowns", "inspected_on"),
            ("events", "occurred_on"),
            ("rework", "done_on"),
        )
    }
    repaired = early["rework"]["event_id"].isin(early["events"]["event_id"])
    early["rework"].loc[~repaired, "event_id"] = np.nan
    cut = FleetAssessor(type(fleet)(units=fleet.units, accepted=fleet.accepted, **early))
    pd.testing.assert_frame_equal(state_at(cut, day).by_site, state_at(assessor, day).by_site)


def test_ages_of_holds_add_up_to_the_holds(assessor):
    state = state_at(assessor, AS_OF)
    findings = assessor.assess(AS_OF).findings.open()
    held = findings.loc[findings["severity"] == Severity.HOLD, "unit"].nunique()
    assert len(state.held) == held
    assert holds_by_age([state])["holds"].sum() == held


def test_a_fleet_without_units_in_service_has_empty_months(assessor):
    state = state_at(assessor, pd.Timestamp("1999-12-31"))
    assert state.by_site.empty
    assert state.held.empty
    assert holds_by_age([state])["holds"].tolist() == [0, 0, 0]


def test_first_time_right_equals_a_naive_count(assessor):
    fleet = assessor.fleet
    units = fleet.units.set_index("unit_id")
    first_work = fleet.rework.groupby("unit_id", observed=True)["done_on"].min()
    exceedance = assessor.timeline.exceedance
    also = {"shaft_end": "engagement_mm", "screws_low": "final_torque_nm"}
    naive = {}
    for place, row in fleet.walkdowns.sort_values("inspected_on", kind="stable").iterrows():
        unit = row["unit_id"]
        if row["kind"] != "post_install" or unit in naive:
            continue
        if unit in first_work.index and row["inspected_on"] > first_work[unit]:
            continue
        critical = [c.name for c in CHECKS if units.loc[unit, "mounting"] in c.critical_for]
        if all(pd.notna(row[name]) or pd.notna(row[also.get(name, name)]) for name in critical):
            naive[unit] = not (exceedance.loc[place, critical] > 0).any()
    table = first_time_right(assessor, AS_OF).set_index("unit_id")
    judged = table[table["judged"]]
    assert judged["right"].to_dict() == naive
    assert 0 < judged["right"].sum() < len(judged) < len(table)


def test_checks_that_nobody_sees_equal_a_naive_count(assessor):
    judged = assessor.judge(AS_OF)
    naive = Counter(
        label for names in judged.look_status.not_seen for label in names.split("; ") if label
    )
    table = never_looked_at(judged).set_index("check")
    assert table["never_seen"][table["never_seen"] > 0].to_dict() == naive
    guards = judged.known.status["guard"] == 0
    assert table.loc["guard", "never_seen"] == guards.sum()
    assert table.loc["guard", "units"] == len(guards)


def cured_by(actions):
    """Return the checks that a visit of re-work reports cured."""
    done = [action for name in actions.split(";") for action in with_brought(name)]
    return {name for action in done for name in action.cures}


def happenings(assessor):
    """Go through all records in order: unit, checks found bad, checks reported cured."""
    records, fleet = assessor.timeline.records, assessor.fleet
    walk, work = (records.of_table[name] for name in ("walkdowns", "rework"))
    bad = assessor.timeline.exceedance.gt(0)
    for record in records.record_at:
        if walk.start <= record < walk.stop:
            row = bad.iloc[record - walk.start]
            yield records.unit[record], set(row.index[row]), set()
        elif work.start <= record < work.stop:
            actions = fleet.rework["actions"].iloc[record - work.start]
            yield records.unit[record], set(), cured_by(actions)


def test_findings_that_come_back_equal_a_naive_count(assessor):
    came_back = Counter()
    found, cured_since = set(), set()
    for unit, bad, cured in happenings(assessor):
        again = {(unit, name) for name in bad} & cured_since
        came_back.update(name for _, name in again)
        cured_since -= again
        found |= {(unit, name) for name in bad}
        cured_since |= {(unit, name) for name in cured} & found
    labels = {check.name: check.label for check in CHECKS if not check.symptom}
    naive = {labels[name]: count for name, count in came_back.items() if name in labels}
    table = recurring_findings(assessor, AS_OF)
    back = table[table["came_back"] > 0]
    assert dict(zip(back["check"], back["came_back"], strict=True)) == naive
    assert naive
