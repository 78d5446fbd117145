"""The rules against what crews do: common practice, no source."""

import pytest
from small_fleets import judged, ranked, rules_of, verdict_of

from scoring.contract.mountings import CLAMPED, EVERY_MOUNTING, SHRINK_DISCS
from scoring.rules.rule import Severity
from scoring.rules.rulebook import RULE_BY_NAME
from scoring.rules.tightening_schedule import torque_shares


@pytest.mark.parametrize("passes", range(3, 10))
def test_our_schedules_rise_from_a_quarter_over_the_middle_to_all_of_the_torque(passes):
    """The first pass at 20 to 30 %, one between at 50 to 70 %: good practice, from memory."""
    shares = torque_shares(passes)

    assert len(shares) == passes
    assert sorted(set(shares)) == shares
    assert 0.2 <= shares[0] <= 0.3
    assert any(0.5 <= share <= 0.7 for share in shares[1:-1])
    assert shares[-1] == 1


@pytest.mark.parametrize(
    ("gap", "found"), [(0.9, True), (1.0, False), (1.5, False), (2.0, False), (2.1, True)]
)
def test_collar_gap_is_good_from_one_to_two_millimetres(gap, found):
    """Common practice, no source."""
    assessment = judged({"mounting": "tapered_bushing"}, collar_gap_mm=gap)
    assert ("collar_gap_off" in rules_of(assessment)) is found


@pytest.mark.parametrize(("free", "clamped"), [(2, False), (1, False), (0, True)])
@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_over_clamped_is_when_no_isolator_turns_by_hand(free, clamped, mounting):
    """Common practice, no source."""
    assessment = judged({"mounting": mounting}, isolators_free=free)
    assert ("isolators_clamped" in rules_of(assessment)) is clamped
    assert verdict_of(assessment) == ("correct" if clamped else "watch")


@pytest.mark.parametrize(
    ("mounting", "order", "wrong"),
    [
        ("shrink_disc", "star", True),
        ("shrink_disc_support_bushings", "star", True),
        ("tapered_bushing", "circular", True),
        ("shrink_disc", "circular", False),
        ("tapered_bushing", "star", False),
        ("shrink_disc", "no_order", True),
        ("tapered_bushing", "no_order", True),
    ],
)
def test_star_for_a_tapered_bushing_circle_for_a_disc(mounting, order, wrong):
    """Common practice, no source."""
    assessment = judged({"mounting": mounting}, tightening_order=order)
    assert ("wrong_order" in rules_of(assessment)) is wrong


@pytest.mark.parametrize("mounting", CLAMPED)
def test_shaft_at_40_percent_of_its_engagement_is_a_hold(mounting):
    """Common practice, no source: a joint short of shaft is not fit to transmit torque."""
    unit = {"mounting": mounting, "required_engagement_mm": 100}
    assessment = ranked(unit, engagement_mm=40)
    assert rules_of(assessment) == ["shaft_short_in_friction_joint"]
    assert verdict_of(assessment) == "hold"
    reason = assessment.ranking["main_reasons"].iloc[0]
    assert "40 mm in the bore, 100 mm asked for" in reason


@pytest.mark.parametrize("mounting", CLAMPED)
def test_one_torque_pass_where_three_are_asked_for_is_to_be_retorqued(mounting):
    """Common practice, no source."""
    assessment = ranked({"mounting": mounting}, torque_passes=1)
    assert verdict_of(assessment) == "correct"
    assert assessment.ranking["first_action"].iloc[0].startswith("retorque in passes: ")


def test_lubricant_holds_a_friction_joint_and_is_to_be_cleaned_from_a_keyed_bore():
    for mounting in CLAMPED:
        for surface in ("oil_film", "antiseize_or_grease"):
            assert verdict_of(judged({"mounting": mounting}, bore_condition=surface)) == "hold"
        dirty = judged({"mounting": mounting}, bore_condition="dust_or_dirt")
        assert verdict_of(dirty) == "correct"
    keyed = judged({"mounting": "keyed_bore"}, bore_condition="oil_film")
    assert verdict_of(keyed) == "correct"


@pytest.mark.parametrize("mounting", SHRINK_DISCS)
@pytest.mark.parametrize("surface", ["dust_or_dirt", "oil_film", "antiseize_or_grease"])
def test_the_outer_seat_of_a_disc_carries_no_torque_and_is_only_to_be_cleaned(mounting, surface):
    """Common practice, no source: the torque goes through the bore alone."""
    seat = judged({"mounting": mounting}, clamp_seat_condition=surface)
    assert verdict_of(seat) == "correct"


@pytest.mark.parametrize(
    ("mounting", "check", "value"),
    [
        ("keyed_bore", "key_condition", "missing"),
        ("keyed_bore", "retention", "missing"),
        ("shrink_disc_support_bushings", "support_bushings", "missing"),
        ("shrink_disc", "screws_missing", 1),
        ("shrink_disc", "screws_low", 2),
        ("tapered_bushing", "torque_passes", 0),
        ("tapered_bushing", "shaft_end", "short"),
        ("keyed_bore", "arm_bolts", "missing"),
        ("keyed_bore", "isolator_stack", "isolator_missing"),
        ("keyed_bore", "guard", "missing"),
        ("keyed_bore", "metal_contact", "yes"),
        ("keyed_bore", "smallest_clearance_mm", 0),
        ("keyed_bore", "oil_level", "low"),
    ],
)
def test_what_is_missing_touching_or_dry_must_not_run(mounting, check, value):
    assert verdict_of(judged({"mounting": mounting}, **{check: value})) == "hold"


@pytest.mark.parametrize(
    ("read", "rule", "severity"),
    [
        (50, "final_torque_not_reached", Severity.CORRECT),
        (89.9, "final_torque_not_reached", Severity.CORRECT),
        (90, "final_torque_barely_reached", Severity.WATCH),
        (94.9, "final_torque_barely_reached", Severity.WATCH),
        (95, None, None),
        (105, None, None),
        (105.1, "final_torque_barely_passed", Severity.WATCH),
        (115, "final_torque_barely_passed", Severity.WATCH),
        (115.1, "final_torque_passed", Severity.CORRECT),
    ],
)
def test_a_torque_is_judged_by_more_than_tools_scatter(read, rule, severity):
    """The bands are planning values of ours."""
    table = judged({"screw_torque_nm": 100}, final_torque_nm=read).findings.table
    assert list(table["rule"]) == ([rule] if rule else [])
    assert list(table["severity"]) == ([severity] if rule else [])
    if rule:
        assert "scatter" in RULE_BY_NAME[rule].origin
    if severity == Severity.WATCH:
        assert "scatter of hand tools" in table["reason"].iloc[0]


@pytest.mark.parametrize(
    ("read", "low", "verdict"),
    [
        (85, 4, "correct"),
        (79, 0, "correct"),
        (79, 1, "correct"),
        (79, 2, "hold"),
        ("", 1, "correct"),
        ("", 2, "hold"),
    ],
)
def test_a_quarter_of_eight_screws_far_below_their_torque_must_not_run(read, low, verdict):
    """A planning value of ours."""
    unit = {"screw_torque_nm": 100, "screw_count": 8}
    assert verdict_of(judged(unit, final_torque_nm=read, screws_low=low)) == verdict


@pytest.mark.parametrize(
    ("read", "rated", "verdict"),
    [(79, 3000, "hold"), (79, 8000, "correct"), (81, 3600, "correct"), (100, 3800, "watch")],
)
def test_a_torque_far_too_low_must_not_run_where_the_margin_agrees(read, rated, verdict):
    unit = {
        "screw_torque_nm": 100,
        "joint_rated_torque_nm": rated,
        "output_torque_nm": 2000,
        "peak_factor": 1.7,
        "mounting": "tapered_bushing",
    }
    assert verdict_of(judged(unit, final_torque_nm=read, torque_passes=3)) == verdict


@pytest.mark.parametrize(
    ("mounting", "check", "value"),
    [
        ("keyed_bore", "key_condition", "loose"),
        ("keyed_bore", "key_condition", "short"),
        ("keyed_bore", "retention", "loose"),
        ("keyed_bore", "seated", "short"),
        ("keyed_bore", "shaft_end", "short"),
        ("shrink_disc_support_bushings", "support_bushings", "proud"),
        ("shrink_disc", "disc_offset_mm", 3),
        ("keyed_bore", "arm_bolts", "loose"),
        ("keyed_bore", "isolator_stack", "washer_missing"),
        ("keyed_bore", "isolator_stack", "damaged"),
        ("keyed_bore", "isolator_squeeze_mm", 5),
        ("keyed_bore", "smallest_clearance_mm", 2),
        ("keyed_bore", "arm_misset_mm", 2),
        ("keyed_bore", "arm_angle_deg", 70),
        ("keyed_bore", "shaft_runout_mm", 0.4),
        ("keyed_bore", "breather", "plugged"),
        ("keyed_bore", "oil_level", "high"),
        ("keyed_bore", "seal_weep", "dripping"),
    ],
)
def test_any_other_finding_with_a_cure_is_to_be_corrected(mounting, check, value):
    assert verdict_of(judged({"mounting": mounting}, **{check: value})) == "correct"


@pytest.mark.parametrize(
    ("check", "value"),
    [("running_temperature_c", 95), ("vibration_mm_s", 6), ("seal_weep", "damp")],
)
def test_a_symptom_is_watched(check, value):
    assessment = judged(None, kind="periodic", inspected_on="2026-03-01", **{check: value})
    assert verdict_of(assessment) == "watch"
    assert len(rules_of(assessment)) == 1
