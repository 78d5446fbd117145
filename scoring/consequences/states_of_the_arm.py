"""What shows how a torque arm is held and how far it is forced, and how usual each state is.

Every fact of the arm stands here once. Three checks show one cause, that metal holds the arm: metal
contact, no clearance at all, a missing isolator. Less than that makes it likelier.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.spread import ARM_MISSET, SHAFT_RUNOUT, Spread
from scoring.timeline.known import Known

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True)
class ArmState:
    """A fact of the torque arm, and the check that shows it.

    Attributes
    ----------
    name : str
        By which it is traced.
    check : str
        The check.
    spread : Spread
        Its states, the good one first, and how usual each is where nobody has looked.
    measured : bool
        Whether the state is the value that was found; else how far that lies beyond good.
    metal : tuple of float
        How likely metal holds the arm in each state; empty where it says nothing of that. [-]
    """

    name: str
    check: str
    spread: Spread
    measured: bool = False
    metal: tuple[float, ...] = ()

    def of(self, known: Known) -> Floats:
        """Return the state of each unit, missing where not seen."""
        table = known.found if self.measured else known.exceedance
        values: Floats = table[self.check].to_numpy(dtype=np.float64)
        return values


CLAMPED = ArmState(
    "clamped isolators",
    "isolators_free",
    Spread("both isolators clamped", "", (0.0, 1.0), (0.82, 0.18)),
)
METAL = ArmState(
    "metal contact",
    "metal_contact",
    Spread("metal touches metal", "", (0.0, 1.0), (0.97, 0.03)),
    metal=(0.0, 1.0),
)
ANCHOR = ArmState(
    "anchor joint",
    "isolator_stack",
    Spread(
        "washer missing, rubber damaged, rubber missing",
        "",
        (0, 1, 2, 3),
        (0.875, 0.07, 0.05, 0.005),
    ),
    metal=(0.0, 0.03, 0.08, 1.0),
)
CLEARANCE = ArmState(
    "clearance",
    "smallest_clearance_mm",
    Spread("clearance too little", "mm", (0.0, 1.5, 2.5), (0.9, 0.07, 0.03)),
    metal=(0.0, 0.04, 0.08),
)
MISSET = ArmState("mis-set of the arm", "arm_misset_mm", ARM_MISSET, measured=True)
RUNOUT = ArmState("shaft run-out", "shaft_runout_mm", SHAFT_RUNOUT, measured=True)

STATES_OF_THE_ARM = (CLAMPED, METAL, ANCHOR, CLEARANCE, MISSET, RUNOUT)
"""In the order of the walk."""


@dataclass(frozen=True)
class UsualArms:
    """How usual each state of a torque arm is where nobody has looked.

    Attributes
    ----------
    shares : dict of str to ndarray, shape (n_units, n_states)
        By the name of the state; those left out are as in the handbook. [-]
    group : ndarray of int, shape (n_units,), or None
        Units of one group have the same shares; None: all have.
    """

    shares: Mapping[str, Floats] = field(default_factory=dict)
    group: Ints | None = None

    def of(self, state: ArmState, size: int) -> Floats:
        """Return the shares of one state, shape (n_units, n_states)."""
        shares = self.shares.get(state.name, np.array(state.spread.shares))
        return np.broadcast_to(shares, (size, len(state.spread.points)))
