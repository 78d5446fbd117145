"""How the joint between unit and shaft multiplies hazards, but for what lowers its grip.

That is worked out apart, in ``grip_effect``.
"""

from scoring.contract.mountings import (
    KEYED_BORE,
    SHRINK_DISC_SUPPORT_BUSHINGS,
    SHRINK_DISCS,
)
from scoring.handbook.effect import Effect, both
from scoring.handbook.states import exceedance_of

EFFECTS_OF_THE_JOINT = (
    Effect(
        name="bore_surface_of_a_keyed_bore",
        label="bore and shaft surface",
        checks=("bore_condition",),
        state=exceedance_of("bore_condition"),
        unit="",
        states=(0, 1, 2, 3),
        usual=(0.8, 0.1, 0.07, 0.03),
        multipliers=both((1, 1.1, 1.1, 1.1), (1, 1.05, 1.05, 1.05)),
        mountings=(KEYED_BORE,),
    ),
    Effect(
        name="disc_seat_surface",
        label="seat of the disc on the hub",
        checks=("clamp_seat_condition",),
        state=exceedance_of("clamp_seat_condition"),
        unit="",
        states=(0, 1, 2, 3),
        usual=(0.88, 0.07, 0.03, 0.02),
        multipliers=both((1, 1.05, 1.1, 1.1), (1, 1, 1.05, 1.05)),
        mountings=SHRINK_DISCS,
    ),
    Effect(
        name="support_bushings",
        label="support bushings",
        checks=("support_bushings",),
        state=exceedance_of("support_bushings"),
        unit="",
        states=(0, 1, 2),
        usual=(0.9, 0.08, 0.02),
        multipliers=both((1, 1.6, 2.5), (1, 1.5, 2), (1, 1.2, 3)),
        mountings=(SHRINK_DISC_SUPPORT_BUSHINGS,),
    ),
    Effect(
        name="shaft_size_in_a_keyed_bore",
        label="measured shaft diameter",
        checks=("shaft_diameter_measured_mm",),
        state=exceedance_of("shaft_diameter_measured_mm"),
        unit="mm outside its limits",
        states=(0, 0.02, 0.1, 0.3),
        usual=(0.88, 0.05, 0.05, 0.02),
        multipliers=both((1, 1.25, 1.6, 2), (1, 1.2, 1.6, 2)),
        mountings=(KEYED_BORE,),
    ),
    Effect(
        name="shaft_seat_in_a_keyed_bore",
        label="seat on the shaft",
        checks=("shaft_seat",),
        state=exceedance_of("shaft_seat"),
        unit="",
        states=(0, 1, 2),
        usual=(0.94, 0.05, 0.01),
        multipliers=both((1, 1, 1), (1, 1, 1), (1, 1.8, 4)),
        mountings=(KEYED_BORE,),
    ),
    Effect(
        name="key",
        label="key",
        checks=("key_condition",),
        state=exceedance_of("key_condition"),
        unit="",
        states=(0, 1, 2, 3),
        usual=(0.9, 0.06, 0.03, 0.01),
        multipliers=both((1, 1.5, 1.5, 2.5), (1, 1.15, 1.15, 1.4), (1, 2, 4, 60)),
        mountings=(KEYED_BORE,),
    ),
    Effect(
        name="retention",
        label="axial retention",
        checks=("retention",),
        state=exceedance_of("retention"),
        unit="",
        states=(0, 1, 2),
        usual=(0.9, 0.08, 0.02),
        multipliers=both((1, 1.4, 2), (1, 1.3, 1.6), (1, 1.6, 6)),
        mountings=(KEYED_BORE, SHRINK_DISC_SUPPORT_BUSHINGS),
    ),
)
