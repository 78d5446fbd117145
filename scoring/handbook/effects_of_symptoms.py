"""How symptoms multiply hazards: they cause nothing, but they tell of damage under way."""

from scoring.handbook.effect import Effect, both
from scoring.handbook.states import exceedance_of, rise_over_ambient, value_of

EFFECTS_OF_SYMPTOMS = (
    Effect(
        name="running_temperature",
        label="running temperature",
        checks=("running_temperature_c",),
        state=rise_over_ambient,
        unit="K over the surroundings",
        states=(25, 40, 55, 75),
        usual=(0.5, 0.35, 0.1, 0.05),
        multipliers=both((1, 1.4, 2.2, 4), (1, 1.2, 1.5, 2)),
    ),
    Effect(
        name="vibration",
        label="vibration",
        checks=("vibration_mm_s",),
        state=value_of("vibration_mm_s"),
        unit="mm/s",
        states=(1.5, 3, 4.5, 7.1),
        usual=(0.5, 0.3, 0.15, 0.05),
        multipliers=both((1, 1.5, 2.2, 3.6), (1, 1.15, 1.3, 1.5)),
    ),
    Effect(
        name="seal_weep",
        label="output seal",
        checks=("seal_weep",),
        state=exceedance_of("seal_weep"),
        unit="",
        states=(0, 1, 2),
        usual=(0.85, 0.13, 0.02),
        multipliers=both((1, 1.2, 1.5), (1, 2, 3)),
    ),
)
