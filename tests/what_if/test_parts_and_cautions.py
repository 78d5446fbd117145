"""What-if asks for parts where they are needed, and work says what to mind."""

import numpy as np
import pandas as pd
import pytest
from small_fleets import TODAY, fleet_of_one

from scoring.assessment import FleetAssessor
from scoring.contract.rework import ACTIONS
from scoring.what_if.action_arrays import ACTION_AT, ACTION_NAMES, actions_of
from scoring.what_if.candidates import candidates_of
from scoring.what_if.rework_success import rework_success
from scoring.what_if.site_efforts import SiteEfforts
from scoring.what_if.what_if import what_if

NO_LOOKS = np.zeros(len(ACTION_NAMES), dtype=np.int64)
USUAL = rework_success(NO_LOOKS, NO_LOOKS)


def answer(actions, seen, **unit):
    """Return what work would change at one unit that was seen once."""
    assessor = FleetAssessor(fleet_of_one(unit, seen))
    assessment = assessor.assess(TODAY)
    asked = candidates_of(assessment.known, np.array([0]), actions_of(actions)[np.newaxis])
    return what_if(assessor, assessment, asked, USUAL, SiteEfforts()).iloc[0]


@pytest.mark.parametrize(
    ("work", "missing", "other"),
    [
        ("retorque_in_passes", {"screws_low": 2, "screws_missing": 1}, {"screws_low": 2}),
        ("tighten_arm_bolts", {"arm_bolts": "missing"}, {"arm_bolts": "loose"}),
    ],
)
def test_parts_and_their_lead_time_are_asked_for_only_where_one_is_missing(work, missing, other):
    with_part, without = answer(work, missing), answer(work, other)
    assert with_part["lead_days"] > without["lead_days"] == 0
    assert with_part["cost"] > without["cost"]
    assert with_part["hours"] == without["hours"]


def test_a_retaining_screw_that_is_missing_is_a_part_too():
    unit = {"mounting": "keyed_bore"}
    assert answer("tighten_retention", {"retention": "missing"}, **unit)["lead_days"] > 0
    assert answer("tighten_retention", {"retention": "loose"}, **unit)["lead_days"] == 0


def test_where_nothing_is_known_only_parts_that_are_always_needed_count():
    site = pd.Series(["quarry"])
    work = SiteEfforts().work(site, actions_of("retorque_in_passes;renew_key")[np.newaxis])
    key = SiteEfforts().work(site, actions_of("renew_key")[np.newaxis])
    assert work["lead_days"].tolist() == key["lead_days"].tolist()


def test_work_off_the_shaft_says_so_and_what_opens_a_joint_says_to_block_the_load_first():
    for action in ACTIONS:
        if action.off_shaft:
            assert action.does.startswith("take the unit off") or "take the unit off" in action.does
            assert "block the load first" in action.effort.caution
    opened = (
        "back_off_isolators replace_isolators restore_isolation realign_arm tighten_arm_bolts "
        "reset_collar_gap recentre_disc renew_seal true_shaft exchange_unit"
    )
    for name in opened.split():
        caution = ACTIONS[ACTION_AT[name]].effort.caution
        assert all(word in caution for word in ("backstop", "brake", "belt tension"))
