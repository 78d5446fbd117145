"""What re-work cures, what hanging a unit anew makes void, and who hung it."""

import numpy as np
import pandas as pd
import pytest
from fleets import Book
from naive_timeline import CURES, GOOD_IS_LOST, HANGING, MADE_ANEW, OFF_SHAFT

from scoring.contract import CHECKS, Seen
from scoring.contract.rework import ACTIONS, with_brought
from scoring.timeline import Status

EVERY_CHECK = {
    "bore_condition": "oil_film",
    "seated": "short",
    "shaft_diameter_measured_mm": "79",
    "torque_passes": "1",
    "tightening_order": "circular",
    "final_torque_nm": "40",
    "collar_gap_mm": "3",
    "oil_level": "low",
    "vibration_mm_s": "9",
    "seal_weep": "damp",
}


@pytest.mark.parametrize("action", ACTIONS, ids=lambda action: action.name)
def test_every_action_cures_what_the_rules_say(action: object) -> None:
    name = action.name  # type: ignore[attr-defined]
    cured = {check for one in with_brought(name) for check in one.cures}
    assert cured == {*CURES[name]}
    assert any(one.off_shaft for one in with_brought(name)) == (name in OFF_SHAFT)


def test_checks_seen_only_while_hanging_are_the_ones_the_rules_name() -> None:
    assert {check.name for check in CHECKS if check.seen is Seen.HANGING} == {*HANGING}


def test_what_hanging_does_to_each_check_is_what_the_rules_name() -> None:
    assert {check.name for check in CHECKS if check.made_anew_by_hanging} == {*MADE_ANEW}
    lost = {check.name for check in CHECKS if check.good_is_lost_by_hanging}
    assert lost - {*MADE_ANEW} == {*GOOD_IS_LOST}


def test_a_cured_check_becomes_reported_cured() -> None:
    book = Book().unit().look("2024-01-02", guard="missing").reworked("2024-02-01", "fit_guard")
    assert book.status("guard", "2024-01-31") == Status.SEEN
    assert book.status("guard", "2024-02-01") == Status.REPORTED_CURED
    assert book.found("guard", "2024-02-01") is None
    known = book.known("2024-02-05")
    assert str(known.seen_on["guard"].iloc[0].date()) == "2024-02-01"


def test_reported_cured_lasts_until_it_is_seen_again() -> None:
    book = Book().unit().reworked("2024-02-01", "fit_guard").look("2024-03-01", guard="missing")
    assert book.status("guard", "2024-02-29") == Status.REPORTED_CURED
    assert book.found("guard", "2024-03-01") == "missing"


def test_what_was_seen_again_and_forgotten_is_no_longer_reported_cured() -> None:
    book = Book().unit().reworked("2024-02-01", "renew_seal").look("2024-03-01", seal_weep="damp")
    assert book.status("seal_weep", "2025-03-02") == Status.NOT_SEEN


def test_a_check_that_was_never_seen_can_be_reported_cured() -> None:
    book = Book().unit().reworked("2024-02-01", "open_breather")
    assert book.status("breather", "2024-02-01") == Status.REPORTED_CURED


def test_these_actions_bring_a_retorque() -> None:
    book = Book()
    for action in ("clean_and_refit", "reset_collar_gap", "recentre_disc"):
        book.unit(action).look("2024-01-02", action, torque_passes="1", screws_low="2")
        book.reworked("2024-02-01", action, action)
    cured = ["torque_passes", "tightening_order", "final_torque_nm", "screws_low"]
    status = book.known("2024-02-01").status[cured]
    assert (status == Status.REPORTED_CURED).all(axis=None)


def test_one_visit_may_hold_several_actions() -> None:
    book = Book().unit().reworked("2024-02-01", "fit_guard; open_breather")
    assert book.status("guard", "2024-02-01") == Status.REPORTED_CURED
    assert book.status("breather", "2024-02-01") == Status.REPORTED_CURED


def test_an_action_leaves_other_checks_as_they_were() -> None:
    book = Book().unit().look("2024-01-02", **EVERY_CHECK).reworked("2024-02-01", "fit_guard")
    statuses = book.known("2024-02-01").status[list(EVERY_CHECK)]
    assert (statuses == Status.SEEN).all(axis=None)


def test_taken_off_the_shaft_findings_stand_but_for_what_hanging_makes_anew() -> None:
    book = Book()
    for action in OFF_SHAFT:
        book.unit(action).look("2024-01-02", action, **EVERY_CHECK)
        book.reworked("2024-02-01", action, action)
    status = book.known("2024-02-01").status[list(EVERY_CHECK)]
    for place, action in enumerate(OFF_SHAFT):
        expected = {
            check: Status.REPORTED_CURED
            if check in CURES[action]
            else (Status.NOT_SEEN if check in MADE_ANEW else Status.SEEN)
            for check in EVERY_CHECK
        }
        if action == "renew_bearing":
            expected["vibration_mm_s"] = Status.NOT_SEEN
        assert status.iloc[place].to_dict() == expected


ALL_IS_WELL = {
    "bore_condition": "clean_dry",
    "seated": "home",
    "shaft_diameter_measured_mm": "80",
    "shaft_runout_mm": "0.01",
    "torque_passes": "3",
    "arm_bolts": "tight",
    "smallest_clearance_mm": "30",
    "oil_level": "right",
    "guard": "fitted",
    "breather": "open",
    "mounting_position": "as_required",
    "vibration_mm_s": "1",
    "seal_weep": "dry",
}
THE_SHAFTS = ("shaft_diameter_measured_mm", "shaft_runout_mm")
THE_HOUSINGS = ("breather", "mounting_position", "vibration_mm_s", "seal_weep")


def test_taken_off_the_shaft_good_looks_stand_at_shaft_and_housing_alone() -> None:
    book = Book().unit().look("2024-01-02", **ALL_IS_WELL).reworked("2024-02-01", "renew_key")
    status = book.known("2024-02-01").status[list(ALL_IS_WELL)].iloc[0]
    seen = status[status == Status.SEEN].index
    assert {*seen} == {*THE_SHAFTS, *THE_HOUSINGS}
    assert (status.drop(seen) == Status.NOT_SEEN).all()


def test_a_bearing_failure_hangs_the_unit_anew() -> None:
    book = Book().unit().look("2024-01-02", **EVERY_CHECK)
    book.failed("2024-02-01", "low_speed_bearing")
    expected = {
        check: Status.NOT_SEEN if check in MADE_ANEW else Status.SEEN for check in EVERY_CHECK
    }
    expected |= {"seal_weep": Status.REPORTED_CURED, "vibration_mm_s": Status.NOT_SEEN}
    assert book.known("2024-02-01").status[list(EVERY_CHECK)].iloc[0].to_dict() == expected
    assert book.history("hung_on", "2024-01-31") == "2024-01-01"
    assert book.history("hung_on", "2024-02-01") == "2024-02-01"


def test_other_failures_leave_the_unit_on_its_shaft() -> None:
    book = Book()
    for mode in ("seal_leak", "other"):
        book.unit(mode).look("2024-01-02", mode, guard="fitted", vibration_mm_s="9")
        book.failed("2024-02-01", mode, mode)
    known = book.known("2024-02-01")
    assert (known.found["guard"] == "fitted").all()
    assert (known.found["vibration_mm_s"] == 9).all()
    assert (known.history["hung_on"] == "2024-01-01").all()


def test_a_seal_renewed_outboard_leaves_the_unit_on_its_shaft() -> None:
    book = Book()
    for side in ("outboard", "inboard", "both", ""):
        name = side or "blank"
        book.unit(name, installer="crew A").look(
            "2024-01-02", name, guard="fitted", seal_weep="damp"
        )
        book.reworked("2024-02-01", "renew_seal", name, seal_side=side)
    known = book.known("2024-02-01")
    assert (known.status["seal_weep"] == Status.REPORTED_CURED).all()
    assert known.found["guard"].tolist()[0] == "fitted"
    assert known.found["guard"].isna().tolist() == [False, True, True, True]
    assert known.history["crew"].isna().tolist() == [False, True, True, True]


def test_a_finding_at_the_arm_stands_until_it_is_cured_or_seen_good() -> None:
    book = Book().unit().look("2024-01-02", arm_bolts="loose", guard="missing")
    book.reworked("2024-02-01", "renew_key").reworked("2024-03-01", "renew_key;tighten_arm_bolts")
    book.look("2024-04-01", guard="fitted").reworked("2024-05-01", "renew_key")
    assert book.found("arm_bolts", "2024-02-01") == "loose"
    assert book.status("arm_bolts", "2024-03-01") == Status.REPORTED_CURED
    assert book.found("guard", "2024-03-01") == "missing"
    assert book.found("guard", "2024-04-01") == "fitted"
    assert book.status("guard", "2024-05-01") == Status.NOT_SEEN
    assert book.status("arm_bolts", "2024-05-01") == Status.NOT_SEEN


def test_a_cure_of_shaft_or_housing_outlasts_hanging_anew() -> None:
    book = Book().unit().reworked("2024-02-01", "true_shaft;open_breather")
    book.reworked("2024-03-01", "renew_key")
    assert book.status("shaft_runout_mm", "2024-03-01") == Status.REPORTED_CURED
    assert book.status("breather", "2024-03-01") == Status.REPORTED_CURED


def test_where_the_unit_was_home_engagement_is_the_shafts() -> None:
    """Pushing home again mends no short shaft; a longer shaft, or another unit, does."""
    book = Book()
    for name, action in (("A", "reseat_on_shaft"), ("B", "renew_shaft"), ("C", "exchange_unit")):
        book.unit(name).look("2024-01-02", name, seated="home", shaft_end="short")
        book.reworked("2024-02-01", "renew_key", name).reworked("2024-03-01", action, name)
    known = book.known("2024-03-01")
    assert known.found["shaft_end"].tolist()[0] == "short"
    assert known.status["shaft_end"].tolist()[1:] == [Status.REPORTED_CURED] * 2
    assert known.history["shaft_end_at_home"].tolist() == [True, False, False]


def test_where_the_unit_was_not_seen_home_engagement_is_the_joints() -> None:
    book = Book()
    for name, seated in (("A", "short"), ("B", "")):
        book.unit(name).look("2024-01-02", name, seated=seated, shaft_end="short")
        book.reworked("2024-02-01", "reseat_on_shaft", name)
    assert (book.known("2024-02-01").status["shaft_end"] == Status.REPORTED_CURED).all()


def test_a_shaft_that_reaches_at_home_still_reaches_when_hung_anew() -> None:
    book = Book()
    for name, seated in (("A", "home"), ("B", "short"), ("C", "")):
        book.unit(name).look("2024-01-02", name, shaft_end="reaches")
        book.look("2024-01-09", name, seated=seated)
        book.reworked("2024-02-01", "renew_key", name)
    known = book.known("2024-02-01")
    assert known.status["shaft_end"].tolist() == [Status.SEEN, Status.NOT_SEEN, Status.NOT_SEEN]
    assert (known.status["seated"] == Status.NOT_SEEN).all()


def test_home_on_another_hanging_says_nothing_of_this_one() -> None:
    book = Book().unit().look("2024-01-02", seated="home").reworked("2024-02-01", "renew_key")
    book.look("2024-03-01", shaft_end="reaches").reworked("2024-04-01", "renew_key")
    assert book.status("shaft_end", "2024-04-01") == Status.NOT_SEEN


def test_home_known_late_counts_from_then() -> None:
    book = Book().unit().look("2024-01-02", shaft_end="reaches")
    book.look("2024-01-09", seated="home", recorded_at="2024-06-01")
    book.reworked("2024-02-01", "renew_key")
    assert book.status("shaft_end", "2024-05-31") == Status.NOT_SEEN
    assert book.found("shaft_end", "2024-06-01") == "reaches"


def test_a_slip_takes_the_unit_off_and_its_seat_is_worn_until_seen() -> None:
    book = Book().unit(installer="crew A")
    book.look("2024-01-02", guard="fitted", breather="plugged", shaft_seat="sound", seated="home")
    book.failed("2024-02-01", "joint_slip", crew="crew B").look("2024-03-01", shaft_seat="sound")
    assert book.found("shaft_seat", "2024-01-31") == "sound"
    assert book.found("shaft_seat", "2024-02-01") == "worn"
    assert book.found("shaft_seat", "2024-02-29") == "worn"
    assert book.found("shaft_seat", "2024-03-01") == "sound"
    for check in ("guard", "seated"):
        assert book.status(check, "2024-02-01") == Status.NOT_SEEN
    assert book.found("breather", "2024-02-01") == "plugged"
    assert book.history("crew", "2024-02-01") == "crew B"
    assert book.history("hung_on", "2024-02-01") == "2024-02-01"
    seen_on = book.known("2024-02-15").seen_on["shaft_seat"].iloc[0]
    assert str(seen_on.date()) == "2024-02-01"


def test_only_another_shaft_cures_a_worn_seat() -> None:
    book = Book()
    for name, action in (("A", "clean_and_refit"), ("B", "true_shaft"), ("C", "renew_shaft")):
        book.unit(name).failed("2024-02-01", "joint_slip", name)
        book.reworked("2024-03-01", action, name)
    known = book.known("2024-03-01")
    assert known.found["shaft_seat"].tolist()[:2] == ["worn", "worn"]
    assert known.status["shaft_seat"].iloc[2] == Status.REPORTED_CURED


def test_a_mark_that_moved_stands_until_the_seat_was_seen() -> None:
    book = Book().unit().look("2024-01-02", witness_mark="moved")
    book.look("2024-02-01", witness_mark="in_line").reworked("2024-03-01", "clean_and_refit")
    book.look("2024-04-01", shaft_seat="fretted").look("2024-05-01", witness_mark="in_line")
    assert book.found("witness_mark", "2024-02-01") == "moved"
    assert book.ignored("2024-02-01") == [("W2", "witness_mark", "in_line")]
    assert book.found("witness_mark", "2024-03-31") == "moved"
    assert book.status("witness_mark", "2024-04-01") == Status.NOT_SEEN
    assert book.found("witness_mark", "2024-05-01") == "in_line"


def test_a_mark_seen_with_the_seat_is_not_ended_by_it() -> None:
    book = Book().unit().look("2024-01-02", witness_mark="moved", shaft_seat="fretted")
    book.look("2024-02-01", witness_mark="in_line")
    assert book.found("witness_mark", "2024-02-01") == "moved"


def test_a_missing_bushing_outlasts_pushing_the_unit_home() -> None:
    book = Book()
    for name, said in (("A", "proud"), ("B", "missing"), ("C", "missing")):
        book.unit(name, mounting="shrink_disc_support_bushings")
        book.look("2024-01-02", name, support_bushings=said)
        action = "renew_support_bushings" if name == "C" else "reseat_on_shaft"
        book.reworked("2024-02-01", action, name)
    assert book.known("2024-02-01").status["support_bushings"].tolist() == [2, 1, 2]


def test_metal_in_the_oil_outlasts_a_change_of_oil() -> None:
    book = Book()
    for name, said in (("A", "water"), ("B", "metal"), ("C", "metal")):
        book.unit(name).look("2024-01-02", name, oil_condition=said)
        book.reworked("2024-02-01", "renew_bearing" if name == "C" else "change_oil", name)
    known = book.known("2024-02-01")
    assert known.found["oil_condition"].iloc[1] == "metal"
    assert known.status["oil_condition"].tolist() == [2, 1, 2]


def test_a_cure_reported_before_does_not_outlast_hanging_anew() -> None:
    book = Book().unit().reworked("2024-02-01", "fit_guard").reworked("2024-03-01", "renew_key")
    assert book.status("guard", "2024-03-01") == Status.NOT_SEEN


def test_a_new_bearing_makes_temperature_and_vibration_void() -> None:
    book = Book().unit().look("2024-01-02", running_temperature_c="95", vibration_mm_s="9")
    book.reworked("2024-02-01", "renew_bearing")
    assert book.status("running_temperature_c", "2024-02-01") == Status.NOT_SEEN
    assert book.status("vibration_mm_s", "2024-02-01") == Status.NOT_SEEN


def test_the_crew_takes_the_first_crews_place_when_hung_anew() -> None:
    book = Book().unit(installer="crew A").reworked("2024-02-01", "renew_key", crew="crew B")
    assert book.history("crew", "2024-01-31") == "crew A"
    assert book.history("crew", "2024-02-01") == "crew B"


def test_the_crew_that_repaired_a_bearing_hung_the_unit() -> None:
    book = Book().unit(installer="crew A").failed("2024-02-01", "low_speed_bearing", crew="crew B")
    assert book.history("crew", "2024-02-01") == "crew B"


def test_rework_on_the_shaft_leaves_the_crew_in_place() -> None:
    book = Book().unit(installer="crew A").reworked("2024-02-01", "fit_guard", crew="crew B")
    assert book.history("crew", "2024-02-01") == "crew A"


def test_hung_anew_by_nobody_knows_whom_the_first_crew_is_not_blamed() -> None:
    book = Book().unit(installer="crew A").reworked("2024-02-01", "renew_key")
    assert book.history("crew", "2024-02-01") is None


def test_rework_without_a_crew_takes_the_crew_of_the_event_it_names() -> None:
    book = Book().unit(installer="crew A").failed("2024-02-01", "joint_slip", crew="crew B")
    book.reworked("2024-02-03", "renew_key", event_id="E1")
    assert book.history("crew", "2024-02-03") == "crew B"


def test_a_crew_of_its_own_goes_before_the_crew_of_the_event() -> None:
    book = Book().unit().failed("2024-02-01", "joint_slip", crew="crew B")
    book.reworked("2024-02-03", "renew_key", event_id="E1", crew="crew C")
    assert book.history("crew", "2024-02-03") == "crew C"


def test_the_crew_of_an_event_is_not_known_before_the_event_is() -> None:
    book = Book().unit()
    book.failed("2024-02-01", "joint_slip", crew="crew B", recorded_at="2024-04-01")
    book.reworked("2024-02-03", "renew_key", event_id="E1")
    assert book.history("crew", "2024-03-31") is None
    assert book.history("crew", "2024-04-01") == "crew B"


def test_rework_written_down_late_is_not_known_before() -> None:
    book = Book().unit(installer="crew A").look("2024-01-02", guard="missing")
    book.reworked("2024-02-01", "renew_key; fit_guard", crew="crew B", recorded_at="2024-03-01")
    assert book.found("guard", "2024-02-29") == "missing"
    assert book.history("crew", "2024-02-29") == "crew A"
    assert book.status("guard", "2024-03-01") == Status.REPORTED_CURED


def test_where_nothing_stood_no_part_is_needed_to_cure():
    book = Book().unit().look("2024-01-02", oil_condition="metal")
    book = book.reworked("2024-02-01", "change_oil").reworked("2024-03-01", "renew_bearing")
    stands = book.timeline().what_stands(pd.Timestamp("2024-06-30"))["oil_condition"]
    nothing, metal = np.array([-1, -1]), np.array([0, 0])
    assert stands.are_cured(stands.resets, nothing).tolist() == [True, True]
    assert stands.are_cured(stands.resets, metal).tolist() == [False, True]
