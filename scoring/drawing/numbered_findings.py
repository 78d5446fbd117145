"""The findings of one unit, numbered once for every picture and for the list beside them."""

from dataclasses import dataclass

from scoring.assessment import Assessment
from scoring.rules.rule import Severity


@dataclass(frozen=True)
class NumberedFinding:
    """A finding and its number.

    Attributes
    ----------
    number : int
        From 1, the worst first.
    check : str
        The check it is of; ``slip_margin`` for the computed one.
    severe : bool
        Whether it is a hold.
    words : str
        What was found.
    """

    number: int
    check: str
    severe: bool
    words: str


def numbered_findings(assessment: Assessment, unit_id: str) -> tuple[NumberedFinding, ...]:
    """Return the findings of a unit with their numbers, worst first, as every list has them.

    Parameters
    ----------
    assessment : Assessment
        What is said of the fleet.
    unit_id : str
        The unit.

    Returns
    -------
    tuple of NumberedFinding
        At most one of a check.

    Raises
    ------
    FixableError
        If no unit of that id is in service.
    """
    assessment.place_of(unit_id)
    table = assessment.findings.table
    mine = table[table["unit_id"] == unit_id]
    said = zip(mine["check"], mine["severity"], mine["reason"], strict=True)
    return tuple(
        NumberedFinding(number, str(check), int(severity) == Severity.HOLD, str(reason))
        for number, (check, severity, reason) in enumerate(said, start=1)
    )
