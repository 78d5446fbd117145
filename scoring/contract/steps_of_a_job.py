"""The steps of a whole job at one unit, in the order in which they are done."""

from collections.abc import Sequence

from scoring.contract.effort import OFF_AND_ON, SET_UPS
from scoring.contract.rework import ACTION_BY_NAME
from scoring.contract.step_of_work import Step, When
from scoring.contract.steps_of_actions import STEPS_OF_ACTIONS
from scoring.contract.steps_of_set_ups import STEPS_OF_SET_UPS


def set_ups_of(actions: Sequence[str]) -> tuple[str, ...]:
    """Return the set-ups that a job needs, each once, in their order.

    Examples
    --------
    >>> set_ups_of(["back_off_isolators", "tighten_retention"])
    ('lock_out', 'guard_off')
    """
    needed = {name for one in actions for name in ACTION_BY_NAME[one].effort.set_ups}
    return tuple(one.name for one in SET_UPS if one.name in needed)


def own_steps(action: str) -> tuple[Step, ...]:
    """Return the steps of an action; where none are declared, what it does in its own words.

    Examples
    --------
    >>> [step.words for step in own_steps("fit_guard")]
    ['fit the guard; nothing that turns can be reached or touched by it']
    """
    return STEPS_OF_ACTIONS.get(action, (Step(When.HOUSING, ACTION_BY_NAME[action].does),))


def steps_of_a_job(actions: Sequence[str], mounting: str) -> tuple[Step, ...]:
    """Return the steps of a job, each once, from stopping the line to starting it again.

    Parameters
    ----------
    actions : sequence of str
        Names of what is done, brought actions included.
    mounting : str
        The unit's mounting.

    Returns
    -------
    tuple of Step
        By stage; within one those of the set-ups, then of the actions in their order.

    Examples
    --------
    >>> [step.when.name for step in steps_of_a_job(["fit_guard"], "shrink_disc")]
    ['STOP', 'STOP', 'STOP', 'CLOSE', 'START', 'START']
    """
    of_set_ups = [step for name in set_ups_of(actions) for step in STEPS_OF_SET_UPS.get(name, ())]
    of_actions = [step for name in actions for step in own_steps(name)]
    anew = OFF_AND_ON.name in set_ups_of(actions)
    here = [
        step
        for step in (*of_set_ups, *of_actions)
        if mounting in step.mountings and not (step.in_place and anew)
    ]
    return tuple(sorted(dict.fromkeys(here), key=lambda step: step.when))
