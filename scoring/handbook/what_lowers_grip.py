"""What lowers the grip of a joint: the states that looks find, how usual each is, what it leaves.

All of it does its damage through the grip, so none of it has an effect of its own: a joint has one
grip, and one effect of it (``grip_effect``).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.joint_grip import (
    GRIP_BY_SURFACE_IN_A_BUSHING,
    GRIP_BY_SURFACE_IN_A_DISC,
)
from scoring.contract.mountings import CLAMPED, KEYED_BORE, SHRINK_DISCS, TAPERED_BUSHING
from scoring.handbook.condition import Condition, Evidence
from scoring.handbook.states import engagement_shortage, exceedance_of, torque_shortage

Floats = NDArray[np.float64]

FRICTION, PRELOAD, FIT, ENGAGEMENT, OFFSET = "friction", "preload", "fit", "engagement", "offset"
"""Factors of ``JointGrip`` that findings lower."""

ORDER, GAP = "order", "gap"
"""What the joint's own calculation has no number for."""

CURED_TOGETHER: tuple[tuple[str, ...], ...] = (
    (FRICTION,),
    (PRELOAD, FIT),
    (ORDER,),
    (GAP,),
    (OFFSET,),
    (ENGAGEMENT,),
)
"""Factors whose cures are thought of together: of a joint pulled less, its fit takes more."""

FACTORS = tuple(factor for factors in CURED_TOGETHER for factor in factors)

ONE_CAUSE = (FIT, ENGAGEMENT)
"""Where several checks show one cause, so that the worst of them counts and not their product: a
worn seat is undersize; a shaft that ends short and a unit that is not home engage too little."""


@dataclass(frozen=True, kw_only=True)
class GripFault(Condition):
    """What lowers the grip of a joint.

    Attributes
    ----------
    factor : str
        Which of ``FACTORS`` it lowers.
    ratios : tuple of float
        Grip left in each state, falling from 1; planning values of ours, but for friction and
        passes, which are those of the joint's own calculation. [-]
    worked_out : bool
        Whether what was found is worked out by ``JointGrip``; else it is as the states say.
    besides : bool
        Whether the states count besides what is worked out, the worse of both.
    """

    factor: str
    ratios: tuple[float, ...]
    worked_out: bool = False
    besides: bool = False

    def loss_found(self, evidence: Evidence) -> Floats:
        """Return log(specified over found grip) [-] by the states; 0 where not seen."""
        if self.worked_out and not self.besides:
            return np.zeros(len(evidence.known.units))
        state = np.nan_to_num(self.state(evidence), nan=self.states[0])
        loss: Floats = np.interp(state, self.states, self.losses)
        return loss

    @property
    def losses(self) -> Floats:
        """Logarithm of specified over found grip in each state [-]."""
        losses: Floats = -np.log(np.array(self.ratios))
        return losses


def _engagement(kind: str, mounting: tuple[str, ...], ratios: tuple[float, ...]) -> GripFault:
    return GripFault(
        name=f"engagement_in_{kind}",
        label="shaft in the bore",
        checks=("engagement_mm", "shaft_end"),
        state=engagement_shortage,
        unit="share missing",
        states=(0, 0.1, 0.3, 0.6),
        usual=(0.93, 0.03, 0.03, 0.01),
        ratios=ratios,
        factor=ENGAGEMENT,
        mountings=mounting,
        worked_out=mounting != (KEYED_BORE,),
        besides=True,
    )


def _surface(kind: str, mountings: tuple[str, ...], ratios: tuple[float, ...]) -> GripFault:
    return GripFault(
        name=f"surface_in_{kind}",
        label="bore and shaft surface",
        checks=("bore_condition",),
        state=exceedance_of("bore_condition"),
        unit="",
        states=(0, 1, 2, 3),
        usual=(0.86, 0.08, 0.04, 0.02),
        ratios=ratios,
        factor=FRICTION,
        mountings=mountings,
        worked_out=True,
    )


def _size(kind: str, mountings: tuple[str, ...], ratios: tuple[float, ...]) -> GripFault:
    return GripFault(
        name=f"shaft_size_in_{kind}",
        label="measured shaft diameter",
        checks=("shaft_diameter_measured_mm",),
        state=exceedance_of("shaft_diameter_measured_mm"),
        unit="mm outside its limits",
        states=(0, 0.02, 0.1, 0.3),
        usual=(0.88, 0.05, 0.05, 0.02),
        ratios=ratios,
        factor=FIT,
        mountings=mountings,
        worked_out=mountings == SHRINK_DISCS,
    )


GRIP_FAULTS: tuple[GripFault, ...] = (
    _surface("a_bushing", (TAPERED_BUSHING,), GRIP_BY_SURFACE_IN_A_BUSHING),
    _surface("a_disc", SHRINK_DISCS, GRIP_BY_SURFACE_IN_A_DISC),
    GripFault(
        name="torque_passes",
        label="torque passes",
        checks=("torque_passes",),
        state=exceedance_of("torque_passes"),
        unit="passes short",
        states=(0, 1, 2, 3),
        usual=(0.85, 0.07, 0.07, 0.01),
        ratios=(1, 0.97, 0.92, 0.6),
        factor=PRELOAD,
        mountings=CLAMPED,
        worked_out=True,
    ),
    GripFault(
        name="final_torque",
        label="final torque",
        checks=("final_torque_nm", "screws_low", "screws_missing"),
        state=torque_shortage,
        unit="share off",
        states=(0, 0.1, 0.3),
        usual=(0.92, 0.06, 0.02),
        ratios=(1, 0.9, 0.7),
        factor=PRELOAD,
        mountings=CLAMPED,
        worked_out=True,
    ),
    GripFault(
        name="tightening_order",
        label="tightening order",
        checks=("tightening_order",),
        state=exceedance_of("tightening_order"),
        unit="",
        states=(0, 1, 2),
        usual=(0.85, 0.1, 0.05),
        ratios=(1, 0.96, 0.9),
        factor=ORDER,
        mountings=CLAMPED,
    ),
    GripFault(
        name="collar_gap",
        label="collar gap",
        checks=("collar_gap_mm",),
        state=exceedance_of("collar_gap_mm"),
        unit="mm outside its range",
        states=(0, 0.5, 1.5),
        usual=(0.88, 0.08, 0.04),
        ratios=(1, 0.9, 0.8),
        factor=GAP,
        mountings=(TAPERED_BUSHING,),
    ),
    GripFault(
        name="disc_offset",
        label="disc off centre",
        checks=("disc_offset_mm",),
        state=exceedance_of("disc_offset_mm"),
        unit="mm too far",
        states=(0, 1, 4),
        usual=(0.9, 0.07, 0.03),
        ratios=(1, 0.98, 0.9),
        factor=OFFSET,
        mountings=SHRINK_DISCS,
        worked_out=True,
    ),
    _size("a_disc", SHRINK_DISCS, (1, 0.95, 0.8, 0.5)),
    _size("a_bushing", (TAPERED_BUSHING,), (1, 0.97, 0.9, 0.75)),
    GripFault(
        name="worn_seat",
        label="seat on the shaft",
        checks=("shaft_seat",),
        state=exceedance_of("shaft_seat"),
        unit="",
        states=(0, 1, 2),
        usual=(0.94, 0.05, 0.01),
        ratios=(1, 0.9, 0.7),
        factor=FIT,
        mountings=CLAMPED,
    ),
    _engagement("a_disc", SHRINK_DISCS, (1, 0.75, 0.5, 0.25)),
    _engagement("a_bushing", (TAPERED_BUSHING,), (1, 0.9, 0.7, 0.4)),
    _engagement("a_keyed_bore", (KEYED_BORE,), (1, 0.9, 0.7, 0.4)),
    GripFault(
        name="unit_home",
        label="unit home on the shaft",
        checks=("seated",),
        state=exceedance_of("seated"),
        unit="",
        states=(0, 1),
        usual=(0.93, 0.07),
        ratios=(1, 0.8),
        factor=ENGAGEMENT,
    ),
)
