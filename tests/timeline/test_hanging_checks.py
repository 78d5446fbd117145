"""What can be seen only while hanging gets better only by hanging the unit anew."""

from fleets import Book

from scoring.contract import CHECKS
from scoring.contract.rework import ACTIONS
from scoring.timeline import Status
from scoring.timeline.resets import MENDED_BY_PARTS
from scoring.timeline.what_hanging_does import outlasts_looks


def twice(first: str, second: str) -> Book:
    book = Book().unit().look("2024-01-02", bore_condition=first)
    return book.look("2024-02-02", bore_condition=second)


def test_a_better_look_does_not_mend_a_finding_and_is_reported() -> None:
    book = twice("oil_film", "clean_dry")
    assert book.found("bore_condition", "2024-03-01") == "oil_film"
    assert book.ignored("2024-03-01") == [("W2", "bore_condition", "clean_dry")]
    known = book.known("2024-03-01")
    assert known.better_but_ignored["standing"].tolist() == ["oil_film"]
    assert known.better_but_ignored["unit_id"].tolist() == ["U1"]


def test_a_better_finding_does_not_mend_a_worse_one() -> None:
    assert twice("antiseize_or_grease", "oil_film").found("bore_condition", "2024-03-01") == (
        "antiseize_or_grease"
    )


def test_a_worse_look_takes_the_place_of_a_finding() -> None:
    book = twice("dust_or_dirt", "oil_film")
    assert book.found("bore_condition", "2024-03-01") == "oil_film"
    assert book.ignored("2024-03-01") == []


def test_a_better_look_stays_reported_when_the_finding_is_made_again_or_worse() -> None:
    for third in ("oil_film", "antiseize_or_grease"):
        book = twice("oil_film", "clean_dry").look("2024-02-20", bore_condition=third)
        assert book.found("bore_condition", "2024-03-01") == third
        assert book.ignored("2024-03-01") == [("W2", "bore_condition", "clean_dry")]


def test_of_equal_findings_the_newest_counts() -> None:
    known = twice("oil_film", "oil_film").known("2024-03-01")
    assert str(known.seen_on["bore_condition"].iloc[0].date()) == "2024-02-02"


def test_among_good_looks_the_newest_counts() -> None:
    book = Book().unit(collar_gap_min_mm="1", collar_gap_max_mm="2")
    book.look("2024-01-02", collar_gap_mm="1.2").look("2024-02-02", collar_gap_mm="1.8")
    assert book.found("collar_gap_mm", "2024-03-01") == 1.8
    assert book.ignored("2024-03-01") == []


def test_worse_is_measured_by_how_far_it_lies_outside_its_range() -> None:
    book = Book().unit(collar_gap_min_mm="1", collar_gap_max_mm="2")
    book.look("2024-01-02", collar_gap_mm="4").look("2024-02-02", collar_gap_mm="0.5")
    assert book.found("collar_gap_mm", "2024-03-01") == 4
    assert book.ignored("2024-03-01") == [("W2", "collar_gap_mm", 0.5)]


def test_the_right_order_depends_on_the_mounting() -> None:
    for mounting, stands in (("tapered_bushing", "circular"), ("shrink_disc", "star")):
        book = Book().unit(mounting=mounting)
        book.look("2024-01-02", tightening_order="star")
        book.look("2024-02-02", tightening_order="circular")
        book.look("2024-03-02", tightening_order="star")
        assert book.found("tightening_order", "2024-04-01") == stands


def test_a_rehang_is_no_look_but_lets_a_better_one_count() -> None:
    book = twice("oil_film", "clean_dry").reworked("2024-03-01", "renew_key")
    book.look("2024-04-01", bore_condition="clean_dry")
    assert book.found("bore_condition", "2024-03-01") == "oil_film"
    assert book.ignored("2024-03-01") == [("W2", "bore_condition", "clean_dry")]
    assert book.found("bore_condition", "2024-04-01") == "clean_dry"
    assert book.ignored("2024-04-01") == []


def test_a_finding_of_an_earlier_hanging_gives_way_to_a_milder_one_of_a_later() -> None:
    book = twice("oil_film", "clean_dry").reworked("2024-03-01", "renew_key")
    book.look("2024-04-01", bore_condition="dust_or_dirt")
    book.look("2024-05-01", bore_condition="clean_dry")
    assert book.found("bore_condition", "2024-06-01") == "dust_or_dirt"
    assert book.ignored("2024-06-01") == [("W4", "bore_condition", "clean_dry")]


def test_passes_and_order_get_better_by_a_retorque() -> None:
    book = Book().unit().look("2024-01-02", torque_passes="1", bore_condition="oil_film")
    book.reworked("2024-02-01", "retorque_in_passes")
    book.look("2024-02-01", kind="after_rework", torque_passes="3", bore_condition="clean_dry")
    assert book.found("torque_passes", "2024-03-01") == 3
    assert book.found("bore_condition", "2024-03-01") == "oil_film"


def test_a_retorque_alone_is_reported_cured() -> None:
    book = Book().unit().look("2024-01-02", torque_passes="1")
    book.reworked("2024-02-01", "retorque_in_passes")
    assert book.status("torque_passes", "2024-03-01") == Status.REPORTED_CURED


def test_what_can_be_seen_on_a_stopped_machine_gets_better_by_looking() -> None:
    book = Book().unit().look("2024-01-02", final_torque_nm="10", guard="missing")
    book.look("2024-02-02", final_torque_nm="60", guard="fitted")
    assert book.found("guard", "2024-03-01") == "fitted"
    assert book.ignored("2024-03-01") == []


def test_only_units_in_service_are_reported() -> None:
    book = Book().unit(out_of_service_on="2024-02-10").unit("U2")
    book.look("2024-01-02", bore_condition="oil_film")
    book.look("2024-02-02", bore_condition="clean_dry")
    assert len(book.ignored("2024-02-09")) == 1
    assert book.ignored("2024-02-10") == []


def test_what_ends_a_lasting_finding_ends_its_damage_too():
    """Where this changes, who reads a lasting finding has to tell damage from all else."""
    lasting = [check.name for check in CHECKS if outlasts_looks(check)]
    assert {"shaft_seat", "witness_mark", "torque_passes"} <= set(lasting)
    for name in MENDED_BY_PARTS.intersection(lasting):
        for action in ACTIONS:
            assert (name in action.cures) == (name in action.cures_damage), (name, action.name)
