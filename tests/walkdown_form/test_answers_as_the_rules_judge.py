"""What the form says of an answer is what the whole chain says of a walkdown that holds it."""

import re
from itertools import pairwise

import pytest
from units_to_walk import fleet, found_at, rows_of_units

from scoring.assessment import Assessment
from scoring.contract import CHECK_BY_NAME, CHECKS, Kind
from scoring.contract.rework import ACTION_BY_NAME
from scoring.rules.rule import Severity
from scoring.walkdown_form.document import form_document

UNITS = {row["unit_id"]: row for row in rows_of_units()}
SEVERITY = {Severity.HOLD: "hold", Severity.CORRECT: "correct", Severity.WATCH: ""}


@pytest.fixture(scope="module")
def steps() -> dict[str, list[dict]]:
    reported = form_document(fleet().units, list(UNITS))["units"]
    return {unit["unit_id"]: unit["steps"] for unit in reported}


def finding(assessment: Assessment, place: int, check: str) -> dict | None:
    """Return the one finding of a check at a unit, as a form tells it."""
    table = assessment.findings.table
    mine = table[(table["unit_id"] == f"U-{place}") & (table["check"] == check)]
    assert len(mine) <= 1
    if mine.empty:
        return None
    row = mine.iloc[0]
    return {
        "severity": SEVERITY[Severity(row["severity"])],
        "what": row["reason"],
        "do": row["do"],
    }


@pytest.mark.parametrize("unit_id", UNITS)
def test_each_answer_offered_is_judged_as_by_the_chain(steps, unit_id: str) -> None:
    offered = [(step["check"], o) for step in steps[unit_id] for o in step["options"]]
    assessment = found_at(UNITS[unit_id], [{check: o["value"]} for check, o in offered])
    for place, (check, option) in enumerate(offered):
        found = finding(assessment, place, check)
        assert option["good"] is (found is None), (check, option)
        said = {name: option[name] for name in ("severity", "what", "do")}
        said["what"] = said["what"].replace("{value}", option["value"])
        assert said == (found or {"severity": "", "what": "", "do": ""}), (check, option)


def tried_values(step: dict) -> list[float]:
    """Return values at, within and beyond each end of what is good, as far as allowed."""
    usual = step["usual"] or {"low": None, "high": None}
    ends = [end for end in (usual["low"], usual["high"]) if end is not None]
    fine = 1.0 if step["kind"] == "count" else 0.0625
    tried = {0.0, 1.0, *(end + shift for end in ends for shift in (-fine, 0, fine, 4 * fine))}
    tried |= {(low + high) / 2 for low, high in pairwise(ends)}
    edges = [far.get("below", far.get("above")) for far in step["farther"]]
    tried |= {edge + shift for edge in edges for shift in (-0.5, 0, 0.5)}
    allowed = step["allowed"]
    least = allowed["minimum"] if allowed["minimum"] is not None else -1e9
    above = allowed["above"] if allowed["above"] is not None else -1e9
    most = allowed["maximum"] if allowed["maximum"] is not None else 1e9
    return sorted(v for v in tried if least <= v <= most and v > above
                  and (step["kind"] == "number" or v == int(v)))  # fmt: skip


def as_the_page_judges(step: dict, value: float) -> dict | None:
    """Judge a value as the page does, from the document alone."""
    usual = step["usual"] or {"low": None, "high": None}
    below = usual["low"] is not None and value < usual["low"]
    above = usual["high"] is not None and value > usual["high"]
    if not (below or above):
        return None
    beyond = usual["low"] - value if below else value - usual["high"]
    side = "below" if below else "above"
    if value == 0 and "at_zero" in step["beyond"] and below:
        side = "at_zero"
    said = step["beyond"][side]
    for far in step["farther"] if side != "at_zero" else ():
        if value < far.get("below", -1e9) or value > far.get("above", 1e9):
            said = far
            break
    filled = {"{value}": f"{value:.4g}", "{beyond}": f"{beyond:.4g}"}
    what = said["what"]
    for mark, text in filled.items():
        what = what.replace(mark, text)
    return {"severity": said["severity"], "what": what, "do": said["do"]}


@pytest.mark.parametrize("unit_id", UNITS)
def test_each_value_is_judged_as_by_the_chain(steps, unit_id: str) -> None:
    tried = [(step, value) for step in steps[unit_id] if step["entries"]
             for value in tried_values(step)]  # fmt: skip
    assert len(tried) > 30
    looks = [{step["check"]: f"{value:.9g}"} for step, value in tried]
    assessment = found_at(UNITS[unit_id], looks)
    for place, (step, value) in enumerate(tried):
        expected = finding(assessment, place, step["check"])
        assert as_the_page_judges(step, value) == expected, (step["check"], value)


@pytest.mark.parametrize("unit_id", UNITS)
def test_what_is_good_is_never_questioned(steps, unit_id: str) -> None:
    for step in steps[unit_id]:
        plausible, usual = step["plausible"], step["usual"]
        if plausible and usual:
            if plausible["low"] is not None and usual["low"] is not None:
                assert plausible["low"] <= usual["low"], step["check"]
            if plausible["high"] is not None and usual["high"] is not None:
                assert plausible["high"] >= usual["high"], step["check"]


def by_check(steps: list[dict]) -> dict[str, dict]:
    return {step["check"]: step for step in steps}


def test_limits_are_those_of_the_unit_s_own_record(steps) -> None:
    full = by_check(steps["full tapered_bushing"])
    assert full["engagement_mm"]["usual"]["words"] == "at least 150 mm"
    assert full["engagement_mm"]["usual"]["words_inch"] == "at least 5.9056 in"
    assert full["torque_passes"]["usual"]["words"] == "at least 4"
    assert full["collar_gap_mm"]["usual"]["words"] == "2 to 4 mm"
    assert full["final_torque_nm"]["usual"]["words"] == "114 to 126 N·m"
    assert full["isolator_squeeze_mm"]["usual"]["words"] == "at most 4.5 mm"
    assert full["shaft_diameter_measured_mm"]["usual"]["words"] == "79.926 to 80 mm"
    assert full["shaft_diameter_measured_mm"]["nominal"].endswith(": 80 mm")
    for check in ("engagement_mm", "torque_passes", "collar_gap_mm", "final_torque_nm"):
        assert full[check]["usual"]["origin"].startswith("from the record of this unit")


def test_what_is_not_recorded_is_assumed_and_said_or_left_open(steps) -> None:
    least = by_check(steps["least tapered_bushing"])
    assert least["engagement_mm"]["usual"]["words"] == "at least 96 mm"
    assert "planning value of ours" in least["engagement_mm"]["usual"]["origin"]
    assert least["final_torque_nm"]["usual"] is None
    assert least["final_torque_nm"]["plausible"] is None
    assert least["collar_gap_mm"]["usual"]["words"] == "1 to 2 mm"
    assert least["collar_gap_mm"]["usual"]["origin"] == "common practice, no source"
    assert "planning value of ours" in least["isolator_squeeze_mm"]["usual"]["origin"]
    assert "widest" in least["shaft_diameter_measured_mm"]["usual"]["origin"]


@pytest.mark.parametrize("unit_id", UNITS)
def test_a_limit_written_as_its_words_say_lies_within(steps, unit_id: str) -> None:
    for step in steps[unit_id]:
        for limits in (step["usual"], step["plausible"]):
            for words, measure in (("words", "metric"), ("words_inch", "inch")):
                if limits:
                    assert_within(step, limits, limits[words], measure)


def assert_within(step: dict, limits: dict, words: str, measure: str) -> None:
    of_measure = [entry for entry in step["entries"] if entry["measure"] == measure]
    entry = (of_measure or step["entries"])[0]
    written = [float(number) for number in re.findall(r"-?[0-9]+(?:\.[0-9]+)?", words)]
    ends = [end for end in (limits["low"], limits["high"]) if end is not None]
    assert len(written) == len(ends) or words.startswith("exactly")
    for number, end in zip(written, ends, strict=False):
        value = (number - entry["offset"]) * entry["factor"]
        assert limits["low"] is None or value >= limits["low"] - 1e-9, words
        assert limits["high"] is None or value <= limits["high"] + 1e-9, words
        assert value == pytest.approx(end, rel=1e-3, abs=5e-3)


@pytest.mark.parametrize("unit_id", UNITS)
def test_every_limit_says_where_it_comes_from(steps, unit_id: str) -> None:
    for step in steps[unit_id]:
        if step["usual"]:
            assert step["usual"]["origin"], step["check"]


def test_a_diameter_off_by_more_than_a_millimetre_is_questioned(steps) -> None:
    plausible = by_check(steps["full keyed_bore"])["shaft_diameter_measured_mm"]["plausible"]
    assert (plausible["low"], plausible["high"]) == (79, 81)


def test_engagement_over_four_diameters_is_questioned(steps) -> None:
    plausible = by_check(steps["full keyed_bore"])["engagement_mm"]["plausible"]
    assert plausible["high"] == 320


def test_more_low_screws_than_there_are_is_questioned(steps) -> None:
    assert by_check(steps["full shrink_disc"])["screws_low"]["plausible"]["high"] == 8


def test_a_symptom_is_not_good_and_asks_for_no_rework(steps) -> None:
    seal = by_check(steps["full keyed_bore"])["seal_weep"]["options"]
    assert [(o["good"], o["severity"]) for o in seal] == [
        (True, ""), (False, ""), (False, "correct"),
    ]  # fmt: skip
    assert seal[1]["what"] == "output seal damp"


def test_every_thing_to_do_is_an_action_of_the_contract(steps) -> None:
    does = {action.does for action in ACTION_BY_NAME.values()}
    reported = {
        part
        for unit in steps.values()
        for step in unit
        for said in (*step["options"], *step["farther"], *step["beyond"].values())
        for part in said["do"].split("; then ")
        if part
    }
    assert all(
        part in does or part.startswith(tuple(f"{one}; " for one in does)) for part in reported
    )
    assert len(reported) > 10


def test_every_kind_of_answer_is_known() -> None:
    assert {check.kind for check in CHECKS} == {Kind.CHOICE, Kind.NUMBER, Kind.COUNT}
    assert CHECK_BY_NAME["isolators_free"].maximum == 2
