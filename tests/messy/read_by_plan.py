"""Read a plant's own records by a reading plan: the one place that knows how the tool is asked.

The fleets, their answers and the tests know nothing of it.
"""

from pathlib import Path

from messy_fleet import Answer, Month, Tables


class NotThereYetError(NotImplementedError):
    """The tool has no reading plan yet."""


def read_by_plan(month: Month, answers: tuple[Answer, ...], plan: Path) -> Tables:
    """Read the sources of a month by a plan.

    Parameters
    ----------
    month : Month
        Only ``sources`` may be looked at.
    answers : tuple of Answer
        What a person tells, each put where the tool asks for it; what it does not ask is not told.
        None in the second month.
    plan : Path
        The file of the plan. In the first month it is not there: it is proposed, completed by the
        answers and kept here. In the second month it is used as it lies here.

    Returns
    -------
    Tables
        The contract's tables, as the tool read them.
    """
    raise NotThereYetError(f"{len(month.sources)} sources, {len(answers)} answers, {plan.name}")
