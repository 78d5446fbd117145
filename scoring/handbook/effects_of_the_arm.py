"""How torque arm, breather and oil multiply hazards; the held arm itself is worked out apart."""

from scoring.handbook.effect import Effect, both
from scoring.handbook.states import exceedance_of, value_of

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
        name="anchor_joint",
        label="anchor joint",
        checks=("isolator_stack",),
        state=exceedance_of("isolator_stack"),
        unit="",
        states=(0, 1, 2, 3),
        usual=(0.86, 0.07, 0.05, 0.02),
        multipliers=both((1, 1.2, 1.5, 2.2), (1, 1.05, 1.15, 1.4)),
    ),
    Effect(
        name="clearance",
        label="smallest clearance",
        checks=("smallest_clearance_mm",),
        state=exceedance_of("smallest_clearance_mm"),
        unit="mm too little",
        states=(0, 1.5, 3),
        usual=(0.9, 0.07, 0.03),
        multipliers=both((1, 1.3, 1.7), (1, 1.15, 1.5)),
    ),
    Effect(
        name="arm_misset",
        label="mis-set of the arm, even where it floats",
        checks=("arm_misset_mm",),
        state=value_of("arm_misset_mm"),
        unit="mm",
        states=(0.5, 2, 5),
        usual=(0.6, 0.3, 0.1),
        multipliers=both((1, 1.15, 1.4), (1, 1.1, 1.2)),
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
)
