"""What is taken for granted where a record is blank, and the limits that rules rest on.

Declared in this one place; whatever is used is listed with the answer. The unit's own manual
always comes first.
"""

from dataclasses import dataclass

from scoring.contract.mountings import (
    KEYED_BORE,
    SHRINK_DISC,
    SHRINK_DISC_SUPPORT_BUSHINGS,
    TAPERED_BUSHING,
)

COMMON_PRACTICE = "common practice, no source"
FROM_MEMORY = "from memory"
PLANNING_VALUE = "planning value of ours"


@dataclass(frozen=True)
class Assumed:
    """A value and where it comes from.

    Attributes
    ----------
    value : float
        The value, in ``unit``.
    unit : str
        Its unit; empty for a count or a ratio.
    words : str
        What a person reads.
    origin : str
        Its source, or ``COMMON_PRACTICE``, ``FROM_MEMORY`` or ``PLANNING_VALUE``.
    """

    value: float
    unit: str
    words: str
    origin: str


TORQUE_PASSES = Assumed(3, "", "3 torque passes asked for", COMMON_PRACTICE)
COLLAR_GAP_MIN = Assumed(1, "mm", "collar gap of at least 1 mm", COMMON_PRACTICE)
COLLAR_GAP_MAX = Assumed(2, "mm", "collar gap of at most 2 mm", COMMON_PRACTICE)
ISOLATOR_THICKNESS = Assumed(25, "mm", "isolator 25 mm thick", PLANNING_VALUE)

ENGAGEMENT_IN_DIAMETERS = {
    KEYED_BORE: Assumed(
        1.0, "", "shaft in the bore over at least 1 shaft diameter", PLANNING_VALUE
    ),
    TAPERED_BUSHING: Assumed(
        1.2, "", "shaft in the bushing over at least 1.2 shaft diameters", PLANNING_VALUE
    ),
    SHRINK_DISC: Assumed(
        1.5, "", "shaft in the bore over at least 1.5 shaft diameters", PLANNING_VALUE
    ),
    SHRINK_DISC_SUPPORT_BUSHINGS: Assumed(
        1.5, "", "shaft in the bore over at least 1.5 shaft diameters", PLANNING_VALUE
    ),
}
"""Over the shaft's diameter, by mounting; below what any of them would be designed for, so that
what falls short of it is short of any manual's length."""

SQUEEZE_SHARE = Assumed(
    0.15,
    "",
    "rubber squeezed by at most 15 % of its thickness",
    "design practice quoted on a one-page note from 'Designing with Rubber'",
)
LEAST_TORQUE_SHARE = Assumed(
    0.95, "", "final torque reached within 5 %, for hand tools scatter", PLANNING_VALUE
)
MOST_TORQUE_SHARE = Assumed(
    1.05, "", "final torque passed by no more than 5 %, for hand tools scatter", PLANNING_VALUE
)
MOST_RUNOUT = Assumed(0.25, "mm", "run-out of at most 0.25 mm at the seal", FROM_MEMORY)
MOST_DISC_OFFSET = Assumed(2, "mm", "disc at most 2 mm off the middle", PLANNING_VALUE)
LEAST_CLEARANCE = Assumed(3, "mm", "clearance of at least 3 mm", PLANNING_VALUE)
MOST_MISSET = Assumed(1, "mm", "arm and anchor at most 1 mm apart", PLANNING_VALUE)
LEAST_ANGLE = Assumed(75, "°", "arm within 15° of square to its link", FROM_MEMORY)
MOST_TEMPERATURE = Assumed(90, "°C", "bearing housing below 90 °C", FROM_MEMORY)
MOST_VIBRATION = Assumed(4.5, "mm/s", "vibration below 4.5 mm/s", FROM_MEMORY)
"""ISO 20816-3 boundary B/C for flexible supports, recalled; a screen only, no acceptance."""
