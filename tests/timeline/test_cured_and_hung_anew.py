"""What re-work cures, what hanging a unit anew makes void, and who hung it."""

import pytest
from fleets import Book
from naive_timeline import CURES, HANGING, OFF_SHAFT

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


def test_taken_off_the_shaft_every_other_hanging_or_stopped_check_is_not_seen() -> None:
    book = Book()
    for action in OFF_SHAFT:
        book.unit(action).look("2024-01-02", action, **EVERY_CHECK)
        book.reworked("2024-02-01", action, action)
    status = book.known("2024-02-01").status[list(EVERY_CHECK)]
    for place, action in enumerate(OFF_SHAFT):
        expected = {
            check: Status.REPORTED_CURED if check in CURES[action] else Status.NOT_SEEN
            for check in EVERY_CHECK
        }
        if action != "renew_bearing":
            expected["vibration_mm_s"] = Status.SEEN
        assert status.iloc[place].to_dict() == expected


def test_a_bearing_failure_hangs_the_unit_anew() -> None:
    book = Book().unit().look("2024-01-02", **EVERY_CHECK)
    book.failed("2024-02-01", "low_speed_bearing")
    expected = dict.fromkeys(EVERY_CHECK, Status.NOT_SEEN)
    expected["seal_weep"] = Status.REPORTED_CURED
    assert book.known("2024-02-01").status[list(EVERY_CHECK)].iloc[0].to_dict() == expected
    assert book.history("hung_on", "2024-01-31") == "2024-01-01"
    assert book.history("hung_on", "2024-02-01") == "2024-02-01"


def test_other_failures_leave_the_unit_on_its_shaft() -> None:
    book = Book()
    for mode in ("seal_leak", "joint_slip", "other"):
        book.unit(mode).look("2024-01-02", mode, guard="missing", vibration_mm_s="9")
        book.failed("2024-02-01", mode, mode)
    known = book.known("2024-02-01")
    assert (known.found["guard"] == "missing").all()
    assert (known.found["vibration_mm_s"] == 9).all()
    assert (known.history["hung_on"] == "2024-01-01").all()


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
