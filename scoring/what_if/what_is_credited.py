"""Say what loss avoided counts, and what it does not."""

from collections.abc import Hashable, Mapping
from typing import Any

from scoring.contract.ranking import HOLD
from scoring.handbook.grip_loss import HOLDS_NOTHING
from scoring.learning.credit_of_cures import CREDIT_OF_LEARNED

CREDITED = (
    "A cure is credited what it cures: the handbook's effects as a whole, and "
    f"{100 * CREDIT_OF_LEARNED:.0f} % of what failures here add for a finding, which also "
    "stands for its crew's other faults. A joint that is not relied on is judged as one that "
    f"holds nothing; its cure is credited as if {100 * HOLDS_NOTHING:.0f} % of such joints did. "
    "Nothing is avoided at a unit that stays on hold."
)
"""What loss avoided counts."""


def how_it_is_counted(answer: Mapping[Hashable, Any]) -> str:
    """Say how the loss that re-work avoids at one unit is counted.

    Parameters
    ----------
    answer : mapping
        A row of what ``what_if`` answers.

    Returns
    -------
    str
        Empty where it is no more than the loss before less the loss after.

    Examples
    --------
    >>> row = {"verdict": "hold", "standing_loss": 0.0, "expected_loss_after": 2.0}
    >>> how_it_is_counted({**row, "verdict_after": "hold", "loss_after_credited": 3.0})
    'it stays on hold and must not run in any case'
    >>> how_it_is_counted({**row, "verdict_after": "watch", "loss_after_credited": 3.0})
    'credited what the cure does, not all that is predicted'
    """
    if answer["verdict_after"] == HOLD:
        return "it stays on hold and must not run in any case"
    words = []
    if answer["standing_loss"] > 0:
        words.append(f"on hold it would stand still, at {answer['standing_loss']:,.0f}")
    if answer["loss_after_credited"] > answer["expected_loss_after"] + 0.5:
        words.append("credited what the cure does, not all that is predicted")
    return "; ".join(words)
