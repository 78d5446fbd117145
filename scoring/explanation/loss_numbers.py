"""What failures cost at one unit, and the loss that is to be expected."""

import pandas as pd

from scoring.contract.events import MODE_WORDS, MODES
from scoring.explanation.assessed_unit import AssessedUnit
from scoring.explanation.traced_number import Input, TracedNumber
from scoring.risk.loss import REPAIR

TOPIC = "expected loss"
SOURCE = "costs of the unit's record; blank ones as listed under assumed"


def numbers_of_the_loss(unit: AssessedUnit) -> list[TracedNumber]:
    """Return what each failure costs, and the expected loss.

    Parameters
    ----------
    unit : AssessedUnit
        The unit.

    Returns
    -------
    list of TracedNumber
    """
    costs = unit.risk.costs
    parts: list[Input] = []
    for mode in MODES:
        words = MODE_WORDS[mode]
        chance = unit.at(unit.risk.modes[mode].probability)
        parts.append(Input(f"chance of a {words}", chance))
        parts.append(Input(f"cost of a {words}", unit.at(costs.of_failure(mode)), costs.currency))
    loss = TracedNumber(
        TOPIC,
        "expected loss within the horizon",
        unit.at(unit.risk.expected_loss),
        costs.currency,
        " + ".join(f"chance of a {MODE_WORDS[m]} x cost of a {MODE_WORDS[m]}" for m in MODES),
        tuple(parts),
        "our own calculation",
    )
    return [*(_cost(unit, mode) for mode in MODES), loss]


def _cost(unit: AssessedUnit, mode: str) -> TracedNumber:
    costs = unit.risk.costs
    repair, hours = REPAIR[mode]
    currency = costs.currency
    return TracedNumber(
        TOPIC,
        f"cost of a {MODE_WORDS[mode]}",
        unit.at(costs.of_failure(mode)),
        currency,
        "repair + hours of standstill x cost of standstill",
        (
            _of_record(unit, repair, "repair", currency),
            _of_record(unit, hours, "hours of standstill", "h"),
            _of_record(unit, "downtime_cost_per_h", "cost of standstill", f"{currency}/h"),
        ),
        SOURCE,
    )


def _of_record(unit: AssessedUnit, column: str, name: str, measure: str) -> Input:
    value = float(unit.risk.costs.table[column].iloc[unit.place])
    blank = bool(pd.isna(unit.known.units[column].iloc[unit.place]))
    return Input(name, value, measure, assumed=blank)
