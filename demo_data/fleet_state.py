"""Everything that changes from step to step, one row a unit."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from demo_data.arrays import Codes, Flags, Floats, Whole
from demo_data.fault_table import CHECK_NAMES

NEVER = np.iinfo(np.int64).max // 2


@dataclass
class FleetState:
    """The latent truth of every unit, and what its people have on record.

    Attributes
    ----------
    outcome : int8 array, shape (units, checks)
        What each check truly is.
    position : float32 array, shape (units, checks)
        Where in the outcome's range a measured value lies.
    crew : int array, shape (units,)
        Crew that hung the unit last.
    hung_on, bearing_new_on, seal_new_on : int array, shape (units,)
        When it was hung last, and when its parts were new. [d]
    friction : float array, shape (units,)
        Friction of its joint over the usual, as a logarithm, since it was hung.
    dripping, slipped : bool array, shape (units,)
        Whether a leak, or a slip that nobody wrote down, truly stands.
    recorded : int8 array, shape (units, checks)
        Level of the newest record that still counts; good where there is none.
    seen : bool array, shape (units, checks)
        Whether there is such a record.
    leak_recorded, slip_recorded : bool array, shape (units,)
        Whether a walkdown found the seal dripping, or the witness mark moved, and nobody has put
        it right since.
    due : int array, shape (units,)
        Step in which re-work is planned.
    clock : int array, shape (units,)
        Day of the newest record. [d]
    """

    outcome: Codes
    position: NDArray[np.float32]
    crew: Whole
    hung_on: Whole
    bearing_new_on: Whole
    seal_new_on: Whole
    friction: Floats
    dripping: Flags
    slipped: Flags
    recorded: Codes
    seen: Flags
    leak_recorded: Flags
    slip_recorded: Flags
    due: Whole
    clock: Whole

    @classmethod
    def blank(cls, units: int, hung: Whole) -> "FleetState":
        """Return the state of a fleet of which nothing is known or drawn yet."""
        shape = (units, len(CHECK_NAMES))
        return cls(
            outcome=np.zeros(shape, np.int8),
            position=np.zeros(shape, np.float32),
            crew=np.zeros(units, np.int64),
            hung_on=hung.copy(),
            bearing_new_on=hung.copy(),
            seal_new_on=hung.copy(),
            friction=np.zeros(units),
            dripping=np.zeros(units, np.bool_),
            slipped=np.zeros(units, np.bool_),
            recorded=np.zeros(shape, np.int8),
            seen=np.zeros(shape, np.bool_),
            leak_recorded=np.zeros(units, np.bool_),
            slip_recorded=np.zeros(units, np.bool_),
            due=np.full(units, NEVER),
            clock=np.full(units, -NEVER),
        )

    def part_new_on(self, mode: int) -> Whole:
        """Return the day [d] on which the part that a failure mode wears was new."""
        return (self.bearing_new_on, self.seal_new_on, self.hung_on)[mode]
