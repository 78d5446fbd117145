"""Sizes, loads and costs taken for granted where a nameplate is blank.

Sizes grow with the driven shaft, as a family of like units would. All are planning values of ours
unless another origin is given; whatever is used is listed with the answer.
"""

from dataclasses import dataclass

from scoring.limits.assumptions import FROM_MEMORY, PLANNING_VALUE


@dataclass(frozen=True)
class AssumedSize:
    """A nameplate value that is assumed where it is blank: ``factor * shaft**power``.

    Attributes
    ----------
    column : str
        The column of ``units``.
    factor, power : float
        With the shaft diameter in mm, in the unit of the column; power 0 for a fixed value.
    words : str
        What a person reads.
    origin : str
        Where it comes from.
    """

    column: str
    factor: float
    power: int
    words: str
    origin: str = PLANNING_VALUE


ASSUMED_SIZES = (
    AssumedSize("output_torque_nm", 0.0035, 3, "running torque usual for such a shaft"),
    AssumedSize("peak_factor", 2.0, 0, "peak torque twice the running torque", FROM_MEMORY),
    AssumedSize("duty_h_per_day", 16.0, 0, "16 running hours a day"),
    AssumedSize("unit_mass_kg", 0.025, 2, "mass usual for such a shaft"),
    AssumedSize("arm_length_mm", 6.0, 1, "arm six shafts long"),
    AssumedSize("bearing_span_mm", 1.9, 1, "low-speed bearings 1.9 shafts apart"),
    AssumedSize("arm_offset_mm", 0.4, 1, "arm 0.4 shafts beside the nearer bearing"),
    AssumedSize("shaft_support_distance_mm", 2.5, 1, "driven shaft borne 2.5 shafts away"),
    AssumedSize("hub_outer_mm", 1.25, 1, "hub 1.25 shafts in diameter"),
    AssumedSize("clamp_length_mm", 0.5, 1, "clamp half a shaft long"),
    AssumedSize("isolator_outer_mm", 0.9, 1, "isolator 0.9 shafts in diameter"),
    AssumedSize("isolator_inner_mm", 0.32, 1, "its hole 0.32 shafts in diameter"),
    AssumedSize("isolator_hardness_shore_a", 60.0, 0, "isolator of 60 Shore A"),
)

COUNTED_AS_USUAL = {
    "output_speed_rpm": "output speed as usual",
    "environment": "surroundings as usual",
    "seal_material": "seal material as usual",
    "ambient_c": "temperature around the unit as usual",
    "bearing_dynamic_rating_n": "rating of the low-speed bearings usual for such a shaft",
}
"""What shapes a rate and changes nothing where it is blank."""

USUAL_AMBIENT_C = 20.0
"""Surroundings where the nameplate is silent; planning value of ours. [°C]"""

GEAR_RADIUS_SHARE = 1.5
"""Radius of the output gear over the shaft's diameter; planning value of ours. [-]"""

WEAKEST_SHARE = 1.0
"""Force at which a restrained anchor slips or bends, over the link force that it is made for.

What passes that on along the link bears as much across it, and of more little is sure; planning
value of ours. It keeps a metal-to-metal contact from an arm's stiffness without end, and counts
once, for mis-set and wobble together. [-]
"""

METAL_STIFFNESS_N_PER_MM = 8000.0
"""Stiffness of an anchor whose rubber is bypassed: bolt or bracket.

Within the 3,000 to 50,000 N/mm worked out for rods and brackets; planning value of ours. [N/mm]
"""

HUB_RUNOUT_MM = 0.05
"""Run-out of the hub itself under the lip, as turned and hung; planning value of ours. [mm]"""

BEARING_CLEARANCE_SHARE = 0.001
"""Radial clearance of a low-speed bearing over the shaft's diameter; planning value of ours. [-]"""

BEARING_STIFFNESS_N_PER_MM = 6000.0
"""Radial stiffness of a low-speed bearing for each millimetre of the shaft's diameter.

Planning value of ours. [N/mm for each mm]
"""
