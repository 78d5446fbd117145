"""Verdicts: what makes a unit quiet, what keeps it in sight, and what is accepted."""

import pytest
from small_fleets import TODAY, UNIT, WALKDOWN, fleet_of, judged, ranked, rules_of, verdict_of

from scoring.assessment import FleetAssessor
from scoring.contract import CHECKS, RANKING
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.contract.rework import ACTION_BY_NAME
from scoring.rules.rule import Severity
from scoring.rules.rulebook import RULE_BY_NAME, RULEBOOK
from scoring.rules.slip import SLIP_RULES

GOOD = {
    "bore_condition": "clean_dry",
    "clamp_seat_condition": "clean_dry",
    "support_bushings": "seated",
    "shaft_end": "reaches",
    "key_condition": "right",
    "torque_passes": 3,
    "screws_low": 0,
    "arm_bolts": "tight",
    "isolator_stack": "complete",
    "isolators_free": 1,
    "metal_contact": "no",
    "oil_level": "right",
    "guard": "fitted",
}


def good_for(mounting):
    """Every critical check of a mounting, seen and good."""
    critical = [check for check in CHECKS if mounting in check.critical_for]
    return {c.name: GOOD[c.name] if c.name in GOOD else c.words_on(mounting)[0] for c in critical}


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_no_finding_only_where_every_critical_check_was_seen_and_good(mounting):
    good = good_for(mounting)
    assert verdict_of(ranked({"mounting": mounting}, **good)) == "no_finding"
    for left_out in good:
        seen = {name: value for name, value in good.items() if name != left_out}
        assessment = ranked({"mounting": mounting}, **seen)
        assert verdict_of(assessment) == "watch"
        assert assessment.ranking["not_seen"].iloc[0]


def test_a_measured_engagement_shows_the_shaft_end_where_the_requirement_is_known():
    good = {n: v for n, v in good_for("shrink_disc").items() if n != "shaft_end"}
    assert verdict_of(judged(None, **good, engagement_mm=150)) == "watch"
    known = {"required_engagement_mm": 100}
    assert verdict_of(judged(known, **good, engagement_mm=150)) == "no_finding"
    assert verdict_of(judged(known, **good, engagement_mm=100)) == "no_finding"


@pytest.mark.parametrize(
    ("mounting", "little", "enough"),
    [
        ("keyed_bore", 89, 90),
        ("tapered_bushing", 107, 108),
        ("shrink_disc", 134, 135),
        ("shrink_disc_support_bushings", 25, 135),
    ],
)
def test_little_shaft_is_never_more_than_to_be_corrected_where_the_manual_is_not_on_record(
    mounting, little, enough
):
    unit = {"mounting": mounting, "shaft_diameter_mm": 90}
    short, right = (
        ranked(unit, **good_for(mounting) | {"engagement_mm": seen}) for seen in (little, enough)
    )
    assert (verdict_of(short), verdict_of(right)) == ("correct", "no_finding")
    assert "what the manual asks for is not recorded" in short.ranking["main_reasons"].iloc[0]
    assert "shaft diameter" in short.ranking["assumed"].iloc[0]
    stated = unit | {"required_engagement_mm": 150}
    held = verdict_of(ranked(stated, **good_for(mounting) | {"engagement_mm": little}))
    assert held == ("correct" if mounting == "keyed_bore" else "hold")


def test_a_good_look_two_years_old_is_due_again():
    unit = {"installed_on": "2023-01-01"}
    assessment = ranked(unit, **good_for("shrink_disc"), inspected_on="2023-01-02")
    assert verdict_of(assessment) == "watch"
    assert "due to be looked at again" in assessment.ranking["main_reasons"].iloc[0]


def rework_then(days, **tables):
    """Assess a unit with an oily bore, then re-work, then what else is given."""
    fleet = fleet_of(
        units=[UNIT],
        walkdowns=[
            {**WALKDOWN, **good_for("shrink_disc"), "bore_condition": "oil_film"},
            *tables.get("walkdowns", []),
        ],
        rework=[
            {
                "rework_id": "R1",
                "unit_id": "U1",
                "done_on": "2026-02-01",
                "actions": "clean_and_refit",
            }
        ],
    )
    return FleetAssessor(fleet).assess(TODAY.replace(month=2, day=days))


def test_a_hold_reported_cured_is_watched_until_it_is_seen_again():
    cured = rework_then(2)
    assert verdict_of(cured) == "watch"
    assert "bore and shaft surface" in cured.ranking["main_reasons"].iloc[0]
    again = {**WALKDOWN, "walkdown_id": "W2", "kind": "after_rework", "inspected_on": "2026-02-03"}
    seen_good = rework_then(4, walkdowns=[{**again, **good_for("shrink_disc")}])
    assert verdict_of(seen_good) == "watch"
    assert "tightening order" in seen_good.look_status.reported_cured[0]
    seen_bad = rework_then(4, walkdowns=[{**again, "bore_condition": "oil_film"}])
    assert verdict_of(seen_bad) == "hold"


def accepted(**changes):
    """Assess a unit with a clamped arm that somebody accepts."""
    row = {
        "accepted_id": "A1",
        "unit_id": "U1",
        "check": "isolators_free",
        "accepted_by": "engineer 3",
        "reason": "spare unit, stands still",
        "accepted_on": "2026-02-01",
        "until_on": "2026-12-31",
        **changes,
    }
    looks = [{**WALKDOWN, **good_for("shrink_disc"), "isolators_free": 0}]
    looks += changes.get("more", [])
    row.pop("more", None)
    return FleetAssessor(fleet_of(units=[UNIT], walkdowns=looks, accepted=[row])).assess(TODAY)


def test_an_accepted_finding_leaves_the_verdict_and_stays_in_sight():
    assessment = accepted()
    assert verdict_of(assessment) == "watch"
    reason = assessment.ranking["main_reasons"].iloc[0]
    assert "both isolators clamped" in reason
    assert "accepted by engineer 3 until 2026-12-31: spare unit, stands still" in reason


@pytest.mark.parametrize(
    "changes",
    [
        {"until_on": "2026-06-29"},
        {"accepted_on": "2026-01-10"},
        {"check": "guard"},
    ],
    ids=["its date has passed", "accepted before it was found", "another check"],
)
def test_an_acceptance_that_does_not_cover_the_finding_changes_nothing(changes):
    assert verdict_of(accepted(**changes)) == "correct"


def test_an_acceptance_lapses_when_the_check_is_found_worse():
    worse = {**WALKDOWN, "walkdown_id": "W2", "inspected_on": "2026-03-01", "kind": "periodic"}
    same = accepted(
        check="arm_misset_mm",
        more=[
            {**worse, "isolators_free": 1, "arm_misset_mm": 2, "inspected_on": "2026-01-20"},
            {**worse, "walkdown_id": "W3", "arm_misset_mm": 2},
        ],
    )
    assert verdict_of(same) == "watch"
    grown = accepted(
        check="arm_misset_mm",
        more=[
            {**worse, "isolators_free": 1, "arm_misset_mm": 2, "inspected_on": "2026-01-20"},
            {**worse, "walkdown_id": "W3", "arm_misset_mm": 4},
        ],
    )
    assert verdict_of(grown) == "correct"


def test_a_finding_of_the_worst_kind_is_told_first_and_its_cure_named():
    assessment = ranked(None, isolators_free=0, guard="missing", breather="plugged")
    assert rules_of(assessment) == ["guard_missing", "isolators_clamped", "breather_plugged"]
    ranking = assessment.ranking.iloc[0]
    assert ranking["main_reasons"].startswith("guard missing; both isolators clamped")
    assert ranking["first_action"] == "fit guard: fit the guard"


def test_checks_that_contradict_each_other_are_told_and_the_worse_counts():
    unit = {"required_engagement_mm": 100}
    assessment = ranked(unit, engagement_mm=60, shaft_end="reaches")
    assert verdict_of(assessment) == "hold"
    reported = assessment.contradictions.iloc[0]
    assert (reported["one"], reported["other"]) == ("shaft in the bore", "shaft end")


HOLDS = {
    "metal touches metal": {"metal_to_metal", "touches"},
    "shaft short on a friction joint": {
        "shaft_short_in_friction_joint",
        "shaft_end_short_in_friction_joint",
    },
    "lubricant on a friction surface that carries torque": {"lubricant_on_bore"},
    "a part is missing": {
        "key_missing",
        "screws_missing",
        "arm_bolt_missing",
        "isolator_missing",
        "guard_missing",
        "retention_missing",
        "support_bushing_missing",
    },
    "oil low": {"oil_low"},
    "backstop in the wrong direction": {"backstop_turned_wrong"},
    "the joint is not clamped, or must slip": {
        "no_torque_pass",
        "many_screws_low",
        "grip_not_relied_on",
        "joint_slips",
        "joint_slips_by_torque_read",
    },
}
"""Why a unit must not run; common practice, no source."""


def test_a_unit_is_held_for_these_reasons_and_for_no_other():
    held = {rule.name for rule in RULE_BY_NAME.values() if rule.severity == Severity.HOLD}
    assert held == set().union(*HOLDS.values())


def test_every_value_of_a_listed_check_but_the_best_has_a_rule():
    judged = {rule.check for rule in RULEBOOK}
    assert judged == {check.name for check in CHECKS}


def test_every_rule_has_its_reason_and_its_origin_and_every_cure_is_an_action():
    for rule in RULEBOOK:
        assert rule.reason
        assert rule.why
        assert rule.origin
        assert (rule.action in ACTION_BY_NAME) is (rule.severity > Severity.WATCH)
    assert set(RULE_BY_NAME) == {rule.name for rule in (*RULEBOOK, *SLIP_RULES)}


def test_the_ranking_has_the_columns_of_the_contract_in_their_order():
    ranking = ranked(None, guard="missing").ranking
    assert list(ranking.columns) == [column.name for column in RANKING.columns]
    assert ranking["basis"].tolist() == ["handbook"]
    assert ranking["horizon_days"].tolist() == [365]
