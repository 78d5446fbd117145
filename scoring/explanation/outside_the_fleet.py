"""Where the nameplate of a unit lies outside those of all others, from which failures taught."""

import numpy as np

from scoring.explanation.assessed_unit import AssessedUnit
from scoring.explanation.traced_number import Input, TracedNumber
from scoring.handbook.nameplate_columns import nameplate_columns
from scoring.handbook.nameplate_effects import NameplateNumber

FAR_TIMES, FAR_K = 1.5, 10.0
"""By how much a number lies beyond all others before it is said; planning values of ours. [-, K]"""

FEW_OTHERS = 10
"""Below so many other nameplates nothing is said of where they end. Ours."""

SOURCE = (
    "nameplates of all other units in service: no failure here spoke of such a unit, and the "
    "interval is the wider for it"
)


def numbers_outside_the_fleet(unit: AssessedUnit, mode: str, topic: str) -> list[TracedNumber]:
    """Return by how much each number on the nameplate lies beyond those of all other units.

    Parameters
    ----------
    unit : AssessedUnit
        The unit.
    mode : str
        The failure.
    topic : str
        Under which heading it is shown.

    Returns
    -------
    list of TracedNumber
        Of what is written on the nameplate and far beyond all others; nothing where nothing of
        the nameplate was learned.
    """
    if mode not in unit.learned or unit.learned[mode][0].columns.level_alone:
        return []
    plate = nameplate_columns(mode, unit.known.units)
    found = []
    for column, one in enumerate(plate.terms.numbers):
        written = plate.blank[:, column] == 0
        own = float(plate.over_usual[unit.place, column])
        others = written & (np.arange(len(written)) != unit.place)
        if not written[unit.place] or others.sum() < FEW_OTHERS:
            continue
        of_others = plate.over_usual[others, column]
        far = np.log(FAR_TIMES) if one.logarithmic else FAR_K / 10
        for end, beyond in (
            (float(of_others.max()), own - of_others.max()),
            (float(of_others.min()), of_others.min() - own),
        ):
            if beyond > far:
                found.append(_number(topic, one, own, end))
    return found


def _number(topic: str, one: NameplateNumber, own: float, end: float) -> TracedNumber:
    """Return a number beyond the last of the others, each given over what is usual."""
    if one.logarithmic:
        last = "largest" if own > end else "smallest"
        return TracedNumber(
            topic,
            f"outside the fleet: {one.label} over the {last} of the others",
            float(np.exp(own - end)),
            "",
            "that of the unit / that of the other",
            (
                Input("the unit, over the usual", float(np.exp(own))),
                Input(f"the {last} of the others, over the usual", float(np.exp(end))),
            ),
            SOURCE,
        )
    last = "highest" if own > end else "lowest"
    return TracedNumber(
        topic,
        f"outside the fleet: {one.label} above the {last} of the others",
        10 * (own - end),
        "K",
        "that of the unit - that of the other",
        (
            Input("the unit", one.usual + 10 * own, one.unit),
            Input(f"the {last} of the others", one.usual + 10 * end, one.unit),
        ),
        SOURCE,
    )
