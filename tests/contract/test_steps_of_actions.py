import re
from itertools import product

import pytest

from scoring.contract.effort import SET_UPS
from scoring.contract.mountings import CLAMPED, EVERY_MOUNTING
from scoring.contract.rework import ACTIONS
from scoring.contract.step_of_work import When
from scoring.contract.steps_of_a_job import own_steps, set_ups_of, steps_of_a_job
from scoring.contract.steps_of_actions import STEPS_OF_ACTIONS
from scoring.contract.steps_of_set_ups import STEPS_OF_SET_UPS
from scoring.contract.where_actions_fit import done_with, fits

EACH = [
    (action, mounting)
    for action, mounting in product(ACTIONS, EVERY_MOUNTING)
    if fits(action.name, mounting)
]
EVERY_STEP = {
    step for steps in (*STEPS_OF_ACTIONS.values(), *STEPS_OF_SET_UPS.values()) for step in steps
}


def test_every_action_and_set_up_says_its_steps():
    assert set(STEPS_OF_ACTIONS) == {action.name for action in ACTIONS}
    assert set(STEPS_OF_SET_UPS) == {one.name for one in SET_UPS}


@pytest.mark.parametrize(("action", "mounting"), EACH, ids=lambda one: getattr(one, "name", one))
def test_a_job_says_what_is_its_own(action, mounting):
    names = done_with(action.name, mounting)
    steps = steps_of_a_job(names, mounting)
    own = [step for step in own_steps(action.name) if mounting in step.mountings]
    assert own
    assert set(own) & set(steps)
    assert [step.when for step in steps] == sorted(step.when for step in steps)
    assert steps[0].when is When.STOP
    assert steps[-1].when is When.START
    assert len(steps) == len(set(steps))
    said = [step.words for step in steps]
    assert len(said) == len(set(said))
    hung = "off_and_on" in set_ups_of(names)
    tightened = any(step.when is When.TIGHTEN for step in steps)
    assert tightened == (mounting in CLAMPED and (hung or "retorque_in_passes" in names))
    anchored = [step for step in steps if step.words.startswith("anchor the arm")]
    assert anchored or not hung


@pytest.mark.parametrize("step", sorted(EVERY_STEP, key=str), ids=str)
def test_a_step_is_short_and_gives_no_value(step):
    assert len(step.words) <= 110
    assert step.words[0].islower()
    assert not step.words.endswith(".")
    assert not re.search(r"\d", step.words)  # a torque, a gap, a time is the manual's
    assert step.mountings


def test_the_weight_is_let_go_once_joint_and_arm_hold():
    words = [step.words for step in steps_of_a_job(["reseat_on_shaft"], "shrink_disc")]
    (let_go,) = (n for n, said in enumerate(words) if said.startswith("let the crane go"))
    last = max(n for n, said in enumerate(words) if "torque wrench" in said or "isolator" in said)
    assert last < let_go
