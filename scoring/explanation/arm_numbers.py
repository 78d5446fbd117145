"""Numbers of torque arm and low-speed bearings."""

import numpy as np

from scoring.consequences import restraint, spread
from scoring.consequences.assumed_sizes import GEAR_RADIUS_SHARE, METAL_STIFFNESS_N_PER_MM
from scoring.explanation.assessed_unit import AssessedUnit
from scoring.explanation.traced_number import Input, TracedNumber
from scoring.limits.assumptions import PLANNING_VALUE
from scoring.mechanics.bearing_rating_life import rating_life, running_time
from scoring.mechanics.bearings_in_series import system_rating_life
from scoring.mechanics.torque_arm_reaction import link_force
from scoring.mechanics.weibull_life import BEARING_SLOPES

TOPIC = "torque arm and low-speed bearings"
_STATICS = "our own calculation, statics of a rigid unit on a running-out shaft"


def numbers_of_the_arm(unit: AssessedUnit) -> list[TracedNumber]:
    """Return the numbers of torque arm and low-speed bearings."""
    consequences = unit.consequences
    nameplate = consequences.nameplate
    share_rubber = unit.at(consequences.restraint.share_clamped)
    share_metal = unit.at(consequences.restraint.share_metal)
    torque, arm = unit.plate("output_torque_nm"), unit.plate("arm_length_mm")
    misset = unit.seen("arm_misset_mm", "mis-set", "mm", _spread_words(spread.ARM_MISSET))
    runout = unit.seen("shaft_runout_mm", "run-out", "mm", _spread_words(spread.SHAFT_RUNOUT))
    squeeze = unit.seen("isolator_squeeze_mm", "squeeze", "mm", _spread_words(spread.SQUEEZE_SHARE))
    held = (
        Input("chance that rubber holds it", share_rubber),
        Input("chance that metal holds it", share_metal),
        misset,
        runout,
        squeeze,
        unit.plate("bearing_span_mm"),
        unit.plate("shaft_support_distance_mm"),
        unit.plate("isolator_hardness_shore_a"),
        Input("stiffness of bare metal", METAL_STIFFNESS_N_PER_MM, "N/mm", assumed=True),
    )
    angle = unit.known.found["arm_angle_deg"].iloc[unit.place]
    square = bool(np.isnan(angle))
    reaction = link_force(
        unit.at(nameplate["output_torque_nm"]),
        unit.at(nameplate["arm_length_mm"]),
        np.radians(90.0 if square else max(float(angle), 1.0)),
    )
    return [
        TracedNumber(
            TOPIC,
            "force in the link",
            float(reaction),
            "N",
            "T / (a sin(angle))",
            (torque, arm, Input("angle", 90.0 if square else float(angle), "°", square)),
            "textbook mechanics",
        ),
        TracedNumber(
            TOPIC,
            "load of one low-speed bearing, unit floating",
            unit.at(consequences.restraint.arm.bearing_load),
            "N",
            "(T / r + T / a + m g) / 2",
            (
                torque,
                arm,
                unit.plate("unit_mass_kg"),
                Input("gear radius over shaft diameter", GEAR_RADIUS_SHARE, "", assumed=True),
            ),
            PLANNING_VALUE,
        ),
        TracedNumber(
            TOPIC,
            "load that the arm adds to one bearing",
            unit.at(consequences.added_bearing_load),
            "N",
            "k e share / 2 + k a slope (a / b) + k misset (a / b), each capped; mean over what "
            "was not measured or not seen",
            held,
            _STATICS,
        ),
        TracedNumber(
            TOPIC,
            "bearing life ratio",
            unit.at(consequences.bearing_life_ratio),
            "",
            "(P / mean load)^p; mean over what was not measured or not seen",
            (*held, Input("life exponent p", unit.at(nameplate["life_exponent"]))),
            "linear damage, our own calculation; exponent of ISO 281",
        ),
        *_rating_life(unit),
    ]


def _spread_words(values: spread.Spread) -> str:
    pairs = zip(values.points, values.shares, strict=True)
    said = ", ".join(f"{point:g} ({share:.0%})" for point, share in pairs)
    return f"not measured: {said} {values.unit}".rstrip()


def _rating_life(unit: AssessedUnit) -> list[TracedNumber]:
    """Return the rating life of both bearings, where rating and speed are known."""
    row = unit.known.units.iloc[unit.place]
    rating, speed = float(row["bearing_dynamic_rating_n"]), float(row["output_speed_rpm"])
    if np.isnan(rating) or np.isnan(speed):
        return []
    consequences = unit.consequences
    exponent = unit.at(consequences.nameplate["life_exponent"])
    load = unit.at(restraint.running_bearing_load(consequences.nameplate))
    one = running_time(rating_life(rating, load, exponent), speed * 2 * np.pi / 60) / 3600
    slope = BEARING_SLOPES["roller"].typical
    both = float(system_rating_life(np.array([float(one), float(one)]), slope))
    inputs = (
        Input("dynamic rating C", rating, "N"),
        Input("load P", load, "N"),
        Input("speed", speed, "rpm"),
        Input("life exponent p", exponent),
        Input("Weibull slope", slope, "", assumed=True),
    )
    source = "ISO 281, basic rating life; two bearings in series by their Weibull slope"
    formula = "2^(-1/slope) (C / P)^p / n"
    floating = TracedNumber(
        TOPIC, "rating life of both bearings, floating", both, "h", formula, inputs, source
    )
    ratio = unit.at(consequences.bearing_life_ratio)
    found = TracedNumber(
        TOPIC,
        "rating life of both bearings, as found",
        both * ratio,
        "h",
        "life, floating, times the life ratio",
        (Input("bearing life ratio", ratio),),
        source,
    )
    return [floating, found]
