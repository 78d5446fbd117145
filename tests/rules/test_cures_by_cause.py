"""A first action can cure the reason that it stands beside: against a table written by hand.

The table is common practice, no source: it knows the trade, and nothing of what the contract says
that actions cure.
"""

from functools import cache

import numpy as np
import pandas as pd
import pytest
from generated_fleets import AS_OF, generated_assessor
from small_fleets import ranked

from scoring.assessment import FleetAssessor
from scoring.contract import CHECKS
from scoring.contract.details import CONTACT_PLACES
from scoring.entering.unit_verdict import verdict_in
from scoring.explanation import explain
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet
from scoring.planning.bundles import weigh_bundles
from scoring.planning.plan import make_plan
from scoring.planning.sets_of_actions import possible_cures, useful_actions
from scoring.planning.shutdowns import one_shutdown
from scoring.rules.cure_of_a_finding import first_cures
from scoring.what_if.action_arrays import ACTION_NAMES
from scoring.what_if.rework_success import learn_rework_success
from scoring.what_if.site_efforts import SiteEfforts

DAY = pd.Timestamp("2026-06-30")

HOME_NOT_KNOWN = "only if it is not home"

BY_PART = {  # what was found -> work that brings the part, or takes the damage away
    ("support_bushings", "missing"): "renew_support_bushings",
    ("key_condition", "missing"): "renew_key",
    ("key_condition", "short"): "renew_key",
    ("key_condition", "loose"): "renew_key",
    ("isolator_stack", "isolator_missing"): "replace_isolators",
    ("isolator_stack", "damaged"): "replace_isolators",
    ("arm_bolts", "missing"): "tighten_arm_bolts",
    ("retention", "missing"): "tighten_retention",
    ("guard", "missing"): "fit_guard",
    ("oil_condition", "metal"): "renew_bearing",
    ("shaft_seat", "worn"): "renew_shaft",
    ("shaft_seat", "fretted"): "renew_shaft",
}

ANY_FINDING = {
    "bore_condition": "clean_and_refit",
    "clamp_seat_condition": "clean_and_refit",
    "seated": "reseat_on_shaft",
    "support_bushings": "reseat_on_shaft",
    "shaft_diameter_measured_mm": "renew_shaft",
    "shaft_runout_mm": "true_shaft",
    "witness_mark": "clean_and_refit",  # the seat is seen while the unit is off
    "retention": "tighten_retention",
    "torque_passes": "retorque_in_passes",
    "tightening_order": "retorque_in_passes",
    "final_torque_nm": "retorque_in_passes",
    "screws_low": "retorque_in_passes",
    "screws_missing": "retorque_in_passes",
    "screws_rechecked": "retorque_in_passes",
    "collar_gap_mm": "reset_collar_gap",
    "disc_offset_mm": "recentre_disc",
    "arm_bolts": "tighten_arm_bolts",
    "isolator_stack": "restore_isolation",
    "isolators_free": "back_off_isolators",
    "isolator_squeeze_mm": "back_off_isolators",
    "smallest_clearance_mm": "restore_clearance",
    "arm_misset_mm": "realign_arm",
    "arm_angle_deg": "realign_arm",
    "breather": "open_breather",
    "oil_level": "correct_oil_level",
    "oil_condition": "change_oil",
    "mounting_position": "move_plugs",
    "backstop_direction": "turn_backstop",
    "seal_lip": "renew_seal",
    "seal_weep": "renew_seal",
}

GRIP = {  # what a joint that slips may be cured by -> findings one of which must stand at the unit
    "clean_and_refit": ("bore_condition",),
    "retorque_in_passes": (
        "torque_passes",
        "tightening_order",
        "final_torque_nm",
        "screws_low",
        "screws_missing",
    ),
    "renew_shaft": ("shaft_diameter_measured_mm", "engagement_mm", "shaft_end"),
    "reseat_on_shaft": ("engagement_mm", "shaft_end"),
    "recentre_disc": ("disc_offset_mm",),
}

CLEARED = ("arm_bracket", "housing", "motor", "guard")


def cures_by_hand(known, unit, check):
    """Return the sets of work each of which can cure a finding, and words that must be said."""
    found = {name: known.found[name].iloc[unit] for name in known.found}
    if check in ("engagement_mm", "shaft_end"):
        if found["seated"] == "home":
            return [{"renew_shaft"}, {"exchange_unit"}], ""
        return [{"reseat_on_shaft"}], "" if found["seated"] == "short" else HOME_NOT_KNOWN
    if check == "metal_contact":
        said = known.history["contact_at"].iloc[unit]
        places = set(said.split(";")) if isinstance(said, str) else set()
        isolate, clear = "washer_stack" in places, bool(places & {*CLEARED})
        if not places:
            return [{"restore_isolation", "restore_clearance"}], "not on record"
        cure = {"restore_isolation"} if isolate else set()
        return [cure | ({"restore_clearance"} if clear else set())], ""
    word = found.get(check)
    if (check, word) in BY_PART:
        return [{BY_PART[check, word]}], ""
    return [{ANY_FINDING[check]}], ""


def what_is_wrong(assessment, rows):
    """Return the findings whose named work cannot cure them, by the table."""
    known, wrong = assessment.known, []
    for row in rows.to_dict("records"):
        named = set(row["action"].split(";"))
        if row["check"] == "slip_margin":
            bad = known.exceedance.iloc[row["unit"]]
            (action,) = named
            short_at_home = bad["seated"] == 0 and action == "reseat_on_shaft"
            if short_at_home or not any(bad[name] > 0 for name in GRIP[action]):
                wrong.append(row)
            continue
        allowed, words = cures_by_hand(known, row["unit"], row["check"])
        if named not in allowed or words not in row["do"]:
            wrong.append(row)
    return wrong


@cache
def demo(name):
    fleet = check_fleet(read_fleet(f"demo:{name}").tables, DAY).fleet
    assessor = FleetAssessor(fleet)
    return assessor, assessor.assess(DAY)


@cache
def generated(seed):
    assessor = generated_assessor(200, seed)
    return assessor, assessor.assess(AS_OF)


def every_assessment():
    yield from (demo(name)[1] for name in ("small_quarry", "grain_port", "ore_works"))
    yield from (generated(seed)[1] for seed in (931, 932, 933))


def test_every_finding_names_work_that_can_cure_it():
    checked = 0
    for assessment in every_assessment():
        open_findings = assessment.findings.open()
        named = open_findings[open_findings["action"] != ""]
        assert what_is_wrong(assessment, named) == []
        checked += len(named)
    assert checked > 1000


def test_every_unit_s_first_action_is_that_of_its_gravest_finding_and_can_cure_it():
    units = 0
    for assessment in every_assessment():
        first = first_cures(assessment.findings.open())
        assert (first["action"] != "").all()
        assert what_is_wrong(assessment, first) == []
        said = assessment.ranking.set_index("unit_id")["first_action"]
        named = first["action"].str.replace(";", "; ").str.replace("_", " ")
        expected = (named + ": " + first["do"]).to_numpy()
        assert said.reindex(first["unit_id"]).tolist() == expected.tolist()
        units += len(first)
    assert units > 600


def test_the_table_knows_every_check():
    by_cause = {"engagement_mm", "shaft_end", "metal_contact", "key_condition", "guard"}
    symptoms = {check.name for check in CHECKS if check.symptom} - {"seal_weep"}
    by_cause |= {"shaft_seat"} | symptoms
    assert {*ANY_FINDING} | by_cause == {check.name for check in CHECKS}
    assert {*CLEARED, "washer_stack"} == {*CONTACT_PLACES}


@pytest.mark.parametrize("name", ["small_quarry", "grain_port"])
def test_ranking_page_explanation_verdict_and_plan_name_the_same_first_action(name):
    assessor, assessment = demo(name)
    said = assessment.ranking.set_index("unit_id")["first_action"].dropna()
    first = first_cures(assessment.findings.open()).set_index("unit_id")
    judged = assessor.judge(DAY)
    for unit_id, row in first.iterrows():
        findings = explain(assessment, unit_id).findings
        gravest = findings[findings["accepted"] == ""].iloc[0]
        verdict = verdict_in(judged, unit_id)
        on_page = (*verdict.holds, *verdict.corrects)[0]
        told = said[unit_id].partition(": ")
        assert told[0].replace("; ", ";").replace(" ", "_") == row["action"] == gravest["action"]
        assert told[2] == row["do"] == gravest["do"] == on_page.do
        assert set(row["action"].split(";")) <= {*on_page.cures}
    useful = useful_actions(assessment)
    names = np.array(ACTION_NAMES, dtype=object)
    success = learn_rework_success(assessor.timeline, DAY)
    bundles = weigh_bundles(assessor, assessment, success, SiteEfforts())
    for hours in (60, 300, 3000):
        jobs = make_plan(bundles, assessment.ranking, one_shutdown(DAY, hours)).jobs
        for job in jobs.to_dict("records"):
            done, asked = set(job["actions"].split(";")), first.loc[job["unit_id"]]
            offered = names[useful.actions[asked["unit"]]]
            assert done <= {*offered, "retorque_in_passes"}
            if job["verdict"] == "hold" and job["verdict_after"] != "hold":
                assert set(asked["action"].split(";")) <= done


def test_nothing_is_offered_beside_a_finding_that_it_cannot_cure():
    unit = {"required_engagement_mm": 100}

    def offered(**seen):
        assessment = ranked(unit, **seen)
        flags = possible_cures(assessment)[0]
        return {name for name, one in zip(ACTION_NAMES, flags, strict=True) if one}

    assert offered(engagement_mm=60, seated="home") == {"renew_shaft", "exchange_unit"}
    assert "reseat_on_shaft" in offered(engagement_mm=60)
    assert "reseat_on_shaft" in offered(engagement_mm=60, seated="short")
    assert offered(metal_contact="yes", contact_at="motor;guard") == {"restore_clearance"}
    assert offered(metal_contact="yes", contact_at="washer_stack") == {"restore_isolation"}
    both = {"restore_clearance", "restore_isolation"}
    assert offered(metal_contact="yes") == both
    assert offered(metal_contact="yes", contact_at="arm_bracket; washer_stack") == both
