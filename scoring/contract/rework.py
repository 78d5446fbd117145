"""The table ``rework``: one row, one visit that changed something; and the actions there are."""

from scoring.contract.action import Action
from scoring.contract.actions_at_the_arm import ARM_ACTIONS
from scoring.contract.actions_at_the_housing import HOUSING_ACTIONS
from scoring.contract.actions_at_the_joint import JOINT_ACTIONS
from scoring.contract.actions_at_the_shaft import SHAFT_ACTIONS
from scoring.contract.declaration import Column, Kind, Table
from scoring.contract.details import seal_side
from scoring.contract.parts import BEARING, SEAL

__all__ = [
    "ACTIONS",
    "ACTION_BY_NAME",
    "BEARING",
    "REWORK",
    "SEAL",
    "Action",
    "actions_said",
    "actions_that_are_said",
    "with_brought",
]

ACTIONS: tuple[Action, ...] = (*ARM_ACTIONS, *JOINT_ACTIONS, *SHAFT_ACTIONS, *HOUSING_ACTIONS)
"""Everything that re-work may be, in the order in which it is listed."""

ACTION_BY_NAME: dict[str, Action] = {action.name: action for action in ACTIONS}


def with_brought(name: str) -> tuple[Action, ...]:
    """Return an action and those that always come with it.

    Examples
    --------
    >>> [action.name for action in with_brought("recentre_disc")]
    ['recentre_disc', 'retorque_in_passes']
    """
    action = ACTION_BY_NAME[name]
    return (action, *(ACTION_BY_NAME[brought] for brought in action.brings))


def actions_said(names: str) -> str:
    """Say re-work as a person does, without the marks of a table.

    Examples
    --------
    >>> actions_said("back_off_isolators;open_breather")
    'back off isolators; open breather'
    """
    return names.replace(";", "; ").replace("_", " ")


def actions_that_are_said(words: str) -> tuple[str, ...]:
    """Return the names of actions said by ``actions_said``; none where any is no action.

    Examples
    --------
    >>> actions_that_are_said("back off isolators; open breather"), actions_that_are_said("look at")
    (('back_off_isolators', 'open_breather'), ())
    """
    names = tuple(one.replace(" ", "_") for one in words.split("; "))
    return names if all(one in ACTION_BY_NAME for one in names) else ()


REWORK = Table(
    "rework",
    "one visit that changed something",
    "rework_id",
    (
        Column(name="rework_id", kind=Kind.IDENTIFIER, meaning="the key", required=True),
        Column(name="unit_id", kind=Kind.IDENTIFIER, meaning="the unit worked on", required=True),
        Column(name="done_on", kind=Kind.DATE, meaning="when it was done", required=True),
        Column(
            name="actions",
            kind=Kind.SEVERAL,
            allowed=tuple(ACTION_BY_NAME),
            required=True,
            meaning="what was done",
        ),
        seal_side("which output seal it was; blank: both"),
        Column(name="recorded_at", kind=Kind.DATE, meaning="when this was written down"),
        Column(name="event_id", kind=Kind.IDENTIFIER, meaning="the failure it repaired"),
        Column(name="crew", kind=Kind.TEXT, meaning="crew that did it"),
        Column(
            name="hours",
            kind=Kind.NUMBER,
            unit="h",
            minimum=0,
            maximum=100_000,
            meaning="hours on the job",
        ),
        Column(
            name="crew_size", kind=Kind.COUNT, minimum=1, maximum=1000, meaning="people on the job"
        ),
        Column(name="notes", kind=Kind.TEXT, meaning="anything else"),
    ),
)
