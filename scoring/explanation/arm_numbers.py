"""Numbers of torque arm and low-speed bearings."""

from dataclasses import replace

import numpy as np

from scoring.consequences.arm_restraint import SQUEEZE
from scoring.consequences.assumed_sizes import (
    BEARING_CLEARANCE_SHARE,
    GEAR_RADIUS_SHARE,
    HUB_RUNOUT_MM,
    METAL_STIFFNESS_N_PER_MM,
    WEAKEST_SHARE,
)
from scoring.consequences.bearing_loads import (
    LOAD_DAMPING,
    SLOPE,
    STANDARD_GRAVITY,
    log_load_over_usual,
    running_bearing_loads,
    share_of_the_arm,
    usual_bearing_loads,
)
from scoring.consequences.spread import SQUEEZE_SHARE, Spread
from scoring.consequences.states_of_the_arm import MISSET, RUNOUT
from scoring.explanation.assessed_unit import AssessedUnit
from scoring.explanation.traced_number import Input, TracedNumber
from scoring.limits.assumptions import PLANNING_VALUE
from scoring.mechanics.bearing_rating_life import rating_life, running_time
from scoring.mechanics.bearings_in_series import system_rating_life
from scoring.mechanics.seal import RUNOUT_ALLOWANCE
from scoring.mechanics.torque_arm_reaction import link_force

TOPIC = "torque arm and low-speed bearings"
_STATICS = "our own calculation, statics of a rigid unit on a running-out shaft"
_UNKNOWN = "mean over what was not measured or not seen"


def numbers_of_the_arm(unit: AssessedUnit) -> list[TracedNumber]:
    """Return the numbers of torque arm and low-speed bearings."""
    consequences = unit.consequences
    nameplate = consequences.nameplate
    torque, arm = unit.plate("output_torque_nm"), unit.plate("arm_length_mm")
    held = (
        *_what_holds_it(unit),
        unit.plate("bearing_span_mm"),
        unit.plate("shaft_support_distance_mm"),
        unit.plate("isolator_hardness_shore_a"),
        Input("stiffness of bare metal", METAL_STIFFNESS_N_PER_MM, "N/mm", assumed=True),
        Input("weakest element over link force", WEAKEST_SHARE, "", assumed=True),
    )
    angle = unit.known.found["arm_angle_deg"].iloc[unit.place]
    square = bool(np.isnan(angle))
    reaction = link_force(
        unit.at(nameplate["output_torque_nm"]),
        unit.at(nameplate["arm_length_mm"]),
        np.radians(90.0 if square else max(float(angle), 1.0)),
    )
    loads, usual = running_bearing_loads(nameplate), usual_bearing_loads(nameplate)
    exponent = Input("life exponent p", unit.at(nameplate["life_exponent"]))
    slope = Input("Weibull slope", SLOPE, "", assumed=True)
    return [
        TracedNumber(
            TOPIC,
            "force in the link",
            float(reaction),
            "N",
            "running torque / (arm length x sin(angle))",
            (torque, arm, Input("angle", 90.0 if square else max(float(angle), 1.0), "°", square)),
            "textbook mechanics",
        ),
        TracedNumber(
            TOPIC,
            "share of the link force on the bearing nearer the arm",
            _shares(unit)[0][1],
            "",
            "1 + arm beside the nearer bearing / bearing span",
            (unit.plate("arm_offset_mm"), unit.plate("bearing_span_mm")),
            "textbook mechanics, a beam on two supports",
            "the bearing farther from it has the 1 less",
        ),
        *(
            TracedNumber(
                TOPIC,
                f"load of the low-speed bearing {which}, unit floating",
                unit.at(loads[:, place]),
                "N",
                "(running torque / (gear radius over shaft diameter x shaft diameter) + mass x "
                "gravity) / 2 + its share of the link force x running torque / arm length",
                (
                    torque,
                    arm,
                    unit.plate("shaft_diameter_mm"),
                    unit.plate("unit_mass_kg"),
                    Input("gravity", STANDARD_GRAVITY, "m/s²"),
                    Input("gear radius over shaft diameter", GEAR_RADIUS_SHARE, "", assumed=True),
                    Input("its share of the link force", float(share)),
                ),
                PLANNING_VALUE,
            )
            for place, (which, share) in enumerate(_shares(unit))
        ),
        TracedNumber(
            TOPIC,
            "load of the low-speed bearings over that usual for such a shaft",
            float(np.exp(unit.at(log_load_over_usual(nameplate)))),
            "",
            "(((nearer over usual)^damped power + (usual ratio)^power x (farther over usual)^"
            "damped power) / (1 + (usual ratio)^power))^(1 / damped power)",
            (
                Input("nearer over usual", unit.at(loads[:, 0] / usual[:, 0])),
                Input("farther over usual", unit.at(loads[:, 1] / usual[:, 1])),
                Input("usual ratio", unit.at(usual[:, 1] / usual[:, 0])),
                Input("power", SLOPE * float(exponent.value)),
                Input("damped power", LOAD_DAMPING * SLOPE * float(exponent.value)),
                replace(exponent, beside=True),
                replace(slope, beside=True),
                Input("damping", LOAD_DAMPING, "", assumed=True, beside=True),
            ),
            PLANNING_VALUE,
            "the power is life exponent times slope, damped it is that times the damping; usual is "
            "what sizes usual for such a shaft make, and the usual ratio of these the load farther "
            "from the arm over that nearer to it",
        ),
        TracedNumber(
            TOPIC,
            "load that the arm adds to one bearing",
            unit.at(consequences.added_bearing_load),
            "N",
            "most in a turn, of the bearing that gets more: k misset (a / b), and at the swing "
            "|k e share / 2 +- k a slope (a / b)|; at the anchor as vectors no more than its "
            f"weakest element; {_UNKNOWN}",
            held,
            _STATICS,
        ),
        TracedNumber(
            TOPIC,
            "bearing life ratio",
            unit.at(consequences.bearing_life_ratio),
            "",
            "life of both bearings, each with (own load + added load)^p as the mean over a turn "
            f"and all directions, over life with own loads; {_UNKNOWN}",
            (*held, exponent, slope),
            "linear damage, our own calculation; exponent of ISO 281",
        ),
        *_rating_life(unit),
    ]


def number_of_the_lip(unit: AssessedUnit, topic: str) -> TracedNumber:
    """Return the run-out that the lip of the output seal sees, over what it follows."""
    nameplate = unit.consequences.nameplate
    shaft = unit.at(nameplate["shaft_diameter_mm"]) * 1e3
    return TracedNumber(
        topic,
        "run-out at the seal over what it follows",
        unit.at(unit.consequences.seal_runout_ratio),
        "",
        "(run-out of the hub + clearance taken up + 2 added load / stiffness of the bearing) / "
        "allowance; the housing rides on the same shaft, so that run-out of a floating unit does "
        f"not count; {_UNKNOWN}",
        (
            *_what_holds_it(unit),
            Input("load that the arm adds", unit.at(unit.consequences.added_bearing_load), "N"),
            Input("run-out of the hub", HUB_RUNOUT_MM, "mm", assumed=True),
            Input("bearing clearance", BEARING_CLEARANCE_SHARE * shaft, "mm", assumed=True),
            Input("allowance", RUNOUT_ALLOWANCE.typical * 1e3, "mm", assumed=True),
        ),
        f"{PLANNING_VALUE}; allowance: {RUNOUT_ALLOWANCE.source}",
    )


def _what_holds_it(unit: AssessedUnit) -> tuple[Input, ...]:
    restraint = unit.consequences.restraint
    measured = (
        (MISSET.check, "mis-set", MISSET.spread),
        (RUNOUT.check, "run-out", RUNOUT.spread),
        (SQUEEZE, "squeeze", SQUEEZE_SHARE),
    )
    return (
        Input("chance that rubber holds it", unit.at(restraint.share_clamped)),
        Input("chance that metal holds it", unit.at(restraint.share_metal)),
        *(unit.seen(check, name, "mm", _spread_words(spread)) for check, name, spread in measured),
    )


def _shares(unit: AssessedUnit) -> tuple[tuple[str, float], tuple[str, float]]:
    nearer = unit.at(share_of_the_arm(unit.consequences.nameplate))
    return ("nearer the arm", nearer), ("farther from the arm", abs(1 - nearer))


def _spread_words(values: Spread) -> str:
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
    loads = running_bearing_loads(consequences.nameplate)[unit.place]
    each = running_time(rating_life(rating, loads, exponent), speed * 2 * np.pi / 60) / 3600
    both = float(system_rating_life(each, SLOPE))
    inputs = (
        Input("dynamic rating", rating, "N"),
        Input("load nearer the arm", float(loads[0]), "N"),
        Input("load farther from it", float(loads[1]), "N"),
        Input("speed", speed, "rpm"),
        Input("power", SLOPE * exponent),
        Input("Weibull slope", SLOPE, "", assumed=True),
        Input("life exponent p", exponent, beside=True),
    )
    source = "ISO 281, basic rating life; two bearings in series by their Weibull slope"
    formula = (
        "10^6 / (60 x speed) x ((load nearer the arm / dynamic rating)^power + (load farther from "
        "it / dynamic rating)^power)^(-1 / Weibull slope)"
    )
    floating = TracedNumber(
        TOPIC,
        "rating life of both bearings, floating",
        both,
        "h",
        formula,
        inputs,
        source,
        "the power is life exponent times slope",
    )
    ratio = unit.at(consequences.bearing_life_ratio)
    found = TracedNumber(
        TOPIC,
        "rating life of both bearings, as found",
        both * ratio,
        "h",
        "life of both bearings, floating x bearing life ratio",
        (
            Input("life of both bearings, floating", both, "h"),
            Input("bearing life ratio", ratio),
        ),
        source,
    )
    return [floating, found]
