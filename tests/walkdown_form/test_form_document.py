"""The form as data: what is asked of whom, in which order, and that nothing is answered."""

import json
import sys

import pytest
from units_to_walk import AS_OF, HOSTILE, LEAST, fleet, fleet_of, rows_of_units

from scoring.assessment import FleetAssessor
from scoring.contract import CHECK_BY_NAME, CHECKS, WALKDOWNS, Check, Kind
from scoring.contract.cautions import CAUTIONS
from scoring.contract.declaration import Worse
from scoring.contract.mountings import CLAMPED, EVERY_MOUNTING
from scoring.contract.not_seen import NOT_SEEN_REASONS
from scoring.contract.version import CONTRACT_VERSION
from scoring.contract.walkdowns import WALKDOWN_KINDS
from scoring.drawing.walk_stations import STATIONS
from scoring.errors import FixableError
from scoring.intake.headings import known_names
from scoring.walkdown_form.document import form_document
from scoring.walkdown_form.shared_steps import share_steps
from scoring.walkdown_form.steps import WALKING_ORDER

IDS = [row["unit_id"] for row in rows_of_units()]


@pytest.fixture(scope="module")
def document() -> dict:
    return form_document(fleet().units, IDS)


def steps_of(document: dict, unit_id: str) -> list[dict]:
    return next(unit for unit in document["units"] if unit["unit_id"] == unit_id)["steps"]


def test_the_walk_passes_each_check_once() -> None:
    assert sorted(WALKING_ORDER) == sorted(check.name for check in CHECKS)


@pytest.mark.parametrize("unit_id", IDS)
def test_a_unit_is_asked_what_its_mounting_has_in_walking_order(document, unit_id: str) -> None:
    mounting = unit_id.split(" ")[1]
    asked = [step["check"] for step in steps_of(document, unit_id)]
    there = [name for name in WALKING_ORDER if mounting in CHECK_BY_NAME[name].mountings]
    if unit_id.startswith("least"):
        there.remove("backstop_direction")  # nobody says that it has one
    assert asked == there
    letters = [step["station"] for step in steps_of(document, unit_id)]
    assert letters == sorted(letters)


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
@pytest.mark.parametrize(("state", "seen"), [("hanging", "HS"), ("stopped", "S"), ("running", "R")])
def test_only_what_can_be_seen_now_is_asked(document, mounting: str, state: str, seen: str) -> None:
    of_state = next(one for one in document["states"] if one["value"] == state)
    assert of_state["seen"] == list(seen)
    asked = {s["check"] for s in steps_of(document, f"full {mounting}") if s["seen"] in seen}
    there = [check for check in CHECKS if mounting in check.mountings]
    assert asked == {check.name for check in there if check.seen.value in seen}
    assert asked


def test_every_step_says_how_to_look_and_what_is_good(document) -> None:
    for unit in document["units"]:
        for step in unit["steps"]:
            check = CHECK_BY_NAME[step["check"]]
            assert step["label"] == check.label
            assert step["how_to_look"] == check.how_to_look
            assert step["good"] == check.good
            station = next(s for s in STATIONS if s.letter == step["station"])
            assert step["station_words"] == station.words
            assert check.name in station.checks


def test_nothing_is_answered_and_nothing_says_good_by_itself(document) -> None:
    answers = {"answer", "answers", "value", "default", "chosen", "selected", "heading", "reason"}
    for unit in document["units"]:
        assert answers.isdisjoint(unit)
        for step in unit["steps"]:
            assert answers.isdisjoint(step)
            for option in step["options"]:
                assert set(option) == {"value", "words", "good", "severity", "what", "do"}


def test_words_of_the_contract_all_have_words_for_a_person(document) -> None:
    choices = {check.name for check in CHECKS if check.kind is Kind.CHOICE}
    steps = [step for unit in document["units"] for step in unit["steps"] if step["options"]]
    offered = {step["check"]: {o["value"]: o["words"] for o in step["options"]} for step in steps}
    assert choices | {"isolators_free"} == set(offered)
    for check in choices:
        assert set(offered[check]) == set(CHECK_BY_NAME[check].allowed)
    for words in offered.values():
        assert len(set(words.values())) == len(words)
        assert all("_" not in said for said in words.values())
    assert offered["isolators_free"] == {"2": "both turn", "1": "one turns", "0": "neither turns"}
    assert offered["oil_level"]["low"] == "too low"


def test_answers_offered_are_the_allowed_ones_the_worst_last(document) -> None:
    for unit in document["units"]:
        for step in unit["steps"]:
            check = CHECK_BY_NAME[step["check"]]
            values = [option["value"] for option in step["options"]]
            if check.kind is Kind.CHOICE:
                assert sorted(values) == sorted(check.allowed)
                assert values[-1] == check.allowed[-1]
                assert step["options"][0]["good"]
            if check.worse is Worse.BY_MOUNTING:
                right = "star" if unit["mounting"] == "tapered_bushing" else "circular"
                assert [o["value"] for o in step["options"] if o["good"]] == [right]
            goods = [option["good"] for option in step["options"]]
            assert goods == sorted(goods, reverse=True)


def test_the_same_of_an_assessment_as_of_its_fleet(document) -> None:
    assessment = FleetAssessor(fleet()).assess(AS_OF)
    assert form_document(assessment.known.units, IDS) == document


def test_a_walk_goes_in_the_order_asked_for() -> None:
    some = [IDS[5], IDS[0], IDS[3]]
    reported = form_document(fleet().units, some)["units"]
    assert [unit["unit_id"] for unit in reported] == some


def test_a_unit_alone_is_asked_as_among_others(document) -> None:
    for place, unit_id in enumerate(IDS):
        alone = form_document(fleet().units, [unit_id])
        assert alone["units"] == [document["units"][place]]
        assert set(alone["pictures"]) == {step["picture"] for step in alone["units"][0]["steps"]}


def test_a_row_of_its_own_index_makes_no_difference(document) -> None:
    shuffled = fleet().units.sample(frac=1, random_state=3)
    assert form_document(shuffled, IDS) == document


def test_unknown_and_repeated_units_are_refused() -> None:
    with pytest.raises(FixableError, match="there is no unit 'nobody'"):
        form_document(fleet().units, ["nobody"])
    with pytest.raises(FixableError, match="stands twice"):
        form_document(fleet().units, [IDS[0], IDS[1], IDS[0]])


def test_what_holds_for_all_comes_from_the_contract(document) -> None:
    assert document["contract"] == CONTRACT_VERSION
    assert document["cautions"] == CAUTIONS
    reasons = [one["reason"] for one in document["not_seen"]]
    assert reasons == list(NOT_SEEN_REASONS) == ["guard_on", "running", "no_access", "not_asked"]
    assert [one["value"] for one in document["kinds"]] == list(WALKDOWN_KINDS)
    assert [one["value"] for one in document["measures"]] == ["metric", "inch"]


def test_a_hostile_name_stays_the_text_it_is() -> None:
    rows = [LEAST | {"unit_id": HOSTILE[:64].strip(), "mounting": "keyed_bore", "site": HOSTILE,
                     "line": HOSTILE, "driven_equipment": HOSTILE}]  # fmt: skip
    reported = form_document(fleet_of(rows).units, [rows[0]["unit_id"]])
    back = json.loads(json.dumps(reported, allow_nan=False))
    assert back == reported
    unit = back["units"][0]
    kept = HOSTILE.strip()
    assert (unit["site"], unit["line"], unit["driven_equipment"]) == (kept, kept, kept)
    assert "<img" not in json.dumps([unit["steps"], reported["pictures"]])


def test_headings_are_those_that_records_are_read_by(document) -> None:
    names = known_names(WALKDOWNS)
    for unit in document["units"]:
        for step in unit["steps"]:
            check = CHECK_BY_NAME[step["check"]]
            entries = step["entries"]
            assert bool(entries) is check.is_numeric
            assert {entry["heading"] for entry in entries} <= set(names)
            assert not any(entry["heading"].endswith("_peak") for entry in entries)
            if entries:
                assert entries[0] == {"heading": check.name, "unit": check.unit,
                                      "measure": "metric", "factor": 1, "offset": 0}  # fmt: skip


def test_what_is_written_in_inches_is_read_as_the_contract_has_it(document) -> None:
    steps = {step["check"]: step for step in steps_of(document, "full tapered_bushing")}
    given = {"engagement_mm": (2.5, 63.5), "running_temperature_c": (212, 100),
             "vibration_mm_s": (0.1, 2.54), "final_torque_nm": (100, 135.5818)}  # fmt: skip
    for check, (written, kept) in given.items():
        entry = next(one for one in steps[check]["entries"] if one["measure"] == "inch")
        assert (written - entry["offset"]) * entry["factor"] == pytest.approx(kept)


def test_names_that_are_not_recorded_are_empty(document) -> None:
    unit = document["units"][IDS.index("least keyed_bore")]
    assert (unit["line"], unit["driven_equipment"]) == ("", "")
    assert json.loads(json.dumps(document, allow_nan=False)) == document


def test_the_help_on_tightening_goes_with_clamp_screws(document) -> None:
    for unit in document["units"]:
        beside = {step["check"] for step in unit["steps"] if step["tightening"]}
        assert bool(beside) is (unit["mounting"] in CLAMPED)
        assert (unit["tightening"] is not None) is (unit["mounting"] in CLAMPED)


def test_steps_that_units_share_stand_once_and_can_be_put_back(document) -> None:
    shared = share_steps(document)
    back = [{**unit, "steps": [shared["steps"][place] for place in unit["steps"]]}
            for unit in shared["units"]]  # fmt: skip
    assert back == document["units"]
    assert len(shared["steps"]) < sum(len(unit["steps"]) for unit in document["units"])
    texts = [json.dumps(step) for step in shared["steps"]]
    assert len(set(texts)) == len(texts)


def test_every_measured_check_says_what_is_allowed(document) -> None:
    for unit in document["units"]:
        for step in unit["steps"]:
            check = CHECK_BY_NAME[step["check"]]
            assert isinstance(check, Check)
            if check.is_numeric:
                allowed = step["allowed"]
                assert allowed["minimum"] == check.minimum
                assert allowed["above"] == check.above
                if check.at_most and unit["unit_id"].startswith("full"):
                    assert check.name in ("screws_low", "screws_missing")
                    assert (allowed["maximum"], allowed["words"]) == (
                        8,
                        "a whole number from 0 to 8",
                    )
                else:
                    assert allowed["maximum"] == check.maximum
                    assert allowed["words"] == check.allowed_words


def test_a_place_of_contact_and_a_side_of_the_seal_are_asked_beside_their_checks(document) -> None:
    for unit in document["units"]:
        beside = {s["check"]: [d["name"] for d in s["details"]] for s in unit["steps"]}
        assert {check: names for check, names in beside.items() if names} == {
            "metal_contact": ["contact_at"],
            "seal_lip": ["seal_side"],
            "seal_weep": ["seal_side"],
        }
    details = {d["name"]: d for s in steps_of(document, IDS[0]) for d in s["details"]}
    contact, side = details["contact_at"], details["seal_side"]
    assert [one["value"] for one in contact["options"]] == [
        "arm_bracket", "washer_stack", "housing", "motor", "guard",
    ]  # fmt: skip
    assert [one["value"] for one in side["options"]] == ["inboard", "outboard", "both"]
    assert (contact["several"], contact["says"]) == (True, "yes")
    assert (side["several"], side["says"]) == (False, "")


def test_screws_are_asked_about_again_only_once_the_unit_has_run(document) -> None:
    asked = {s["check"]: s["asked_on"] for unit in document["units"] for s in unit["steps"]}
    assert {check: kinds for check, kinds in asked.items() if kinds} == {
        "screws_rechecked": ["after_start", "periodic", "after_rework"]
    }


def test_missing_screws_are_a_part_of_the_low_ones(document) -> None:
    parts = {
        s["check"]: s["allowed"]["part_of"]
        for s in steps_of(document, "full shrink_disc")
        if s["allowed"] and s["allowed"]["part_of"]
    }
    assert parts == {"screws_missing": "screws_low"}


def calls_made(ids, units) -> int:
    """Count the Python functions called: work that no other programme on the machine changes."""
    calls = 0

    def count(_, event, __) -> None:
        nonlocal calls
        calls += event == "call"

    sys.setprofile(count)
    try:
        form_document(units, ids)
    finally:
        sys.setprofile(None)
    return calls


def test_ten_times_as_many_units_take_ten_times_the_work_and_a_short_page() -> None:
    rows = [LEAST | {"unit_id": f"U-{n}", "mounting": EVERY_MOUNTING[n % 4],
                     "shaft_diameter_mm": str(40 + n)} for n in range(200)]  # fmt: skip
    units, ids = fleet_of(rows).units, [row["unit_id"] for row in rows]
    form_document(units, ids[:1])  # what is kept is made by the first
    few, many = (calls_made(ids[:n], units.iloc[:n]) for n in (8, 80))
    assert many < 11 * few
    assert len(json.dumps(share_steps(form_document(units, ids)))) < 3_000_000
