"""What-if credits work only where it can cure what was found."""

import numpy as np
import pytest
from small_fleets import TODAY, fleet_of_one

from scoring.assessment import FleetAssessor
from scoring.what_if.action_arrays import ACTION_AT, ACTION_NAMES, actions_of
from scoring.what_if.candidates import candidates_of
from scoring.what_if.known_after import known_after
from scoring.what_if.rework_success import rework_success
from scoring.what_if.site_efforts import SiteEfforts
from scoring.what_if.what_if import what_if

NO_LOOKS = np.zeros(len(ACTION_NAMES), dtype=np.int64)
USUAL = rework_success(NO_LOOKS, NO_LOOKS)

HELD_BY_CONTACT = {"metal_contact": "yes", "isolators_free": 1}
SHORT = {"engagement_mm": 60}


def answer(actions, seen, **unit):
    """Return what work would change at one unit that was seen once."""
    assessor = FleetAssessor(fleet_of_one(unit, seen))
    assessment = assessor.assess(TODAY)
    asked = candidates_of(assessment.known, np.array([0]), actions_of(actions)[np.newaxis])
    return what_if(assessor, assessment, asked, USUAL, SiteEfforts()).iloc[0]


@pytest.mark.parametrize(
    ("place", "lifting"),
    [
        ("", {"restore_isolation;restore_clearance"}),
        ("washer_stack", {"restore_isolation", "restore_isolation;restore_clearance"}),
        ("motor; arm_bracket", {"restore_clearance", "restore_isolation;restore_clearance"}),
        ("washer_stack; motor", {"restore_isolation;restore_clearance"}),
    ],
)
def test_metal_contact_is_lifted_by_the_cure_of_its_place_alone(place, lifting):
    seen = HELD_BY_CONTACT | {"contact_at": place}
    every = ("restore_isolation", "restore_clearance", "restore_isolation;restore_clearance")
    assert {work for work in every if answer(work, seen)["verdict_after"] != "hold"} == lifting


def test_where_both_are_needed_both_must_succeed():
    assessor = FleetAssessor(fleet_of_one(None, HELD_BY_CONTACT))
    assessment = assessor.assess(TODAY)
    both = actions_of("restore_isolation;restore_clearance")[np.newaxis]
    asked = candidates_of(assessment.known, np.array([0]), both)
    chance = np.full(len(ACTION_NAMES), 0.9)
    chance[ACTION_AT["restore_clearance"]] = 0.6
    after = known_after(assessment.known, assessment.limits, asked, chance)
    assert after.hypothetical.success["metal_contact"].iloc[0] == pytest.approx(0.9 * 0.6)
    assert after.hypothetical.success["isolator_stack"].iloc[0] == pytest.approx(0.9)


@pytest.mark.parametrize(
    ("seated", "work", "lifts"),
    [
        ("home", "reseat_on_shaft", False),
        ("home", "renew_shaft", True),
        ("home", "exchange_unit", True),
        ("short", "reseat_on_shaft", True),
        ("", "reseat_on_shaft", True),
    ],
)
def test_pushing_a_unit_home_that_is_home_cures_no_short_shaft(seated, work, lifts):
    found = answer(work, SHORT | {"seated": seated}, required_engagement_mm=100)
    assert found["verdict"] == "hold"
    assert (found["verdict_after"] != "hold") is lifts


def test_a_missing_support_bushing_needs_its_part():
    unit = {"mounting": "shrink_disc_support_bushings"}
    seen = {"support_bushings": "missing"}
    assert answer("reseat_on_shaft", seen, **unit)["verdict_after"] == "hold"
    renewed = answer("renew_support_bushings", seen, **unit)
    assert renewed["verdict_after"] != "hold"
    assert renewed["lead_days"] > 0
    proud = answer("reseat_on_shaft", {"support_bushings": "proud"}, **unit)
    assert proud["verdict"] == "correct"
    assert proud["verdict_after"] == "watch"
