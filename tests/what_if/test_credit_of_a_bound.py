"""The cure of a joint that is judged by the worst is credited what the joint likely lost."""

import numpy as np
import pandas as pd
import pytest
from fleets import Book

from scoring.assessment import FleetAssessor
from scoring.contract.events import JOINT_SLIP
from scoring.handbook.grip_loss import HOLDS_NOTHING
from scoring.what_if.action_arrays import actions_of
from scoring.what_if.candidates import candidates_of
from scoring.what_if.rework_success import learn_rework_success
from scoring.what_if.site_efforts import SiteEfforts
from scoring.what_if.what_if import what_if

AS_OF = pd.Timestamp("2025-06-30")
DISC = {"mounting": "shrink_disc", "required_engagement_mm": "160"}


def answers(*asked):
    """Answer for a unit whose shaft is short, and for one that is good, what some work would do."""
    book = Book().unit("SHORT", **DISC).unit("GOOD", **DISC)
    book.look("2025-01-05", "SHORT", engagement_mm="150").look(
        "2025-01-05", "GOOD", engagement_mm="160"
    )
    assessor = FleetAssessor(book.fleet())
    assessment = assessor.assess(AS_OF)
    flags = np.array([actions_of(one) for one in asked])
    place = assessment.known.units["unit_id"].tolist().index("SHORT")
    sets = candidates_of(assessment.known, np.full(len(asked), place), flags)
    success = learn_rework_success(assessor.timeline, AS_OF)
    table = what_if(assessor, assessment, sets, success, SiteEfforts())
    return table, assessment, place


def test_a_longer_shaft_is_credited_what_the_joint_likely_lost_by_hand():
    table, assessment, place = answers("renew_shaft")
    row = table.iloc[0]
    cost = assessment.risk.costs.of_failure(JOINT_SLIP)[place]
    predicted = (row["p_joint_slip"] - row["p_joint_slip_after"]) * cost
    kept = row["loss_after_credited"] - row["expected_loss_after"]
    assert kept > 0
    # of the bound at least all but what some such joints, which hold nothing, slip
    assert kept > 0.8 * (1 - HOLDS_NOTHING) * predicted
    assert row["loss_avoided"] == pytest.approx(row["expected_loss"] - row["loss_after_credited"])
    assert row["loss_avoided"] > 0


def test_work_that_leaves_the_joint_unreliable_is_credited_as_predicted():
    table, *_ = answers("open_breather")
    assert table["loss_after_credited"].tolist() == table["expected_loss_after"].tolist()


def test_work_besides_is_never_credited_less():
    table, *_ = answers("renew_shaft", "renew_shaft;retorque_in_passes", "renew_shaft;change_oil")
    assert (table["loss_avoided"].iloc[1:] >= table["loss_avoided"].iloc[0] - 1e-9).all()


def test_a_joint_that_cannot_be_relied_on_keeps_its_hold_and_the_worst_chance():
    _, assessment, place = answers("renew_shaft")
    p = assessment.risk.modes[JOINT_SLIP].probability
    assert assessment.verdicts.verdict[place] == "hold"
    assert p[place] > 20 * p[1 - place]
