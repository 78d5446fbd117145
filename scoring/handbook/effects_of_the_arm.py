"""How torque arm and housing multiply hazards.

What holds the arm and what forces it (isolators, anchor joint, metal contact, clearance, mis-set,
the shaft's run-out) is worked out apart, in ``held_arm_effect``.
"""

from scoring.handbook.effect import Effect, both
from scoring.handbook.states import exceedance_of

EFFECTS_OF_THE_ARM = (
    Effect(
        name="arm_bolts",
        label="torque-arm bolts",
        checks=("arm_bolts",),
        state=exceedance_of("arm_bolts"),
        unit="",
        states=(0, 1, 2),
        usual=(0.9, 0.08, 0.02),
        multipliers=both((1, 1.8, 2.6), (1, 1.3, 1.6)),
    ),
    Effect(
        name="arm_angle",
        label="angle at the anchor",
        checks=("arm_angle_deg",),
        state=exceedance_of("arm_angle_deg"),
        unit="° too small",
        states=(0, 15, 30, 45),
        usual=(0.9, 0.06, 0.03, 0.01),
        multipliers=both((1, 1.15, 1.4, 1.8), (1, 1.05, 1.1, 1.2)),
    ),
)

EFFECTS_OF_THE_HOUSING = (
    Effect(
        name="breather",
        label="breather",
        checks=("breather",),
        state=exceedance_of("breather"),
        unit="",
        states=(0, 1),
        usual=(0.91, 0.09),
        multipliers=both((1, 1.5), (1, 3)),
    ),
    Effect(
        name="oil_level",
        label="oil level",
        checks=("oil_level",),
        state=exceedance_of("oil_level"),
        unit="",
        states=(0, 1, 2),
        usual=(0.88, 0.08, 0.04),
        multipliers=both((1, 1.15, 2.5), (1, 1.5, 1.5)),
    ),
    Effect(
        name="mounting_position",
        label="plugs of another mounting position",
        checks=("mounting_position",),
        state=exceedance_of("mounting_position"),
        unit="",
        states=(0, 1),
        usual=(0.97, 0.03),
        multipliers=both((1, 1.4), (1, 1.6)),
    ),
    Effect(
        name="oil_condition",
        label="oil condition",
        checks=("oil_condition",),
        state=exceedance_of("oil_condition"),
        unit="",
        states=(0, 1, 2, 3),
        usual=(0.91, 0.04, 0.04, 0.01),
        multipliers=both((1, 1.4, 2, 3), (1, 1.1, 1.3, 1.4)),
    ),
    Effect(
        name="seal_lip",
        label="lip of the output seal",
        checks=("seal_lip",),
        state=exceedance_of("seal_lip"),
        unit="",
        states=(0, 1, 2),
        usual=(0.93, 0.05, 0.02),
        multipliers=both((1, 1.05, 1.15), (1, 1.6, 2.5)),
    ),
    Effect(
        name="backstop_direction",
        label="direction of the backstop",
        checks=("backstop_direction",),
        state=exceedance_of("backstop_direction"),
        unit="",
        states=(0, 1),
        usual=(0.985, 0.015),
        multipliers=both((1, 1.8), (1, 1.2)),
        share_with=0.3,
    ),
)
