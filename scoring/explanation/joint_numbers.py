"""Numbers of the friction joint and the output seal."""

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.joint_grip import JointGrip
from scoring.consequences.specified_joint import SpecifiedJoint, specified_joints
from scoring.consequences.usual_cones import DRY
from scoring.contract.mountings import CLAMPED
from scoring.explanation.arm_numbers import number_of_the_lip
from scoring.explanation.assessed_unit import AssessedUnit
from scoring.explanation.traced_number import Input, TracedNumber
from scoring.limits.assumptions import FROM_MEMORY, PLANNING_VALUE
from scoring.mechanics.joint_slip import STEEL_SHEAR_MODULUS, WORRYING_EDGE_SLIP, edge_slip
from scoring.mechanics.seal import surface_speed
from scoring.mechanics.shaft_torsion import ALLOWABLE_SHEAR, torsion_capacity
from scoring.rules.slip import CAUSES, causes_of

JOINT = "friction joint"
SEAL = "output seal"

_FACTORS = {
    "friction": "friction, as found over clean and dry",
    "preload": "preload, as found over as specified",
    "fit": "pressure left by the fit",
    "engagement": "share left by the engagement",
    "offset": "share of the disc over its seat",
}


def numbers_of_the_joint(unit: AssessedUnit) -> list[TracedNumber]:
    """Return the numbers of a friction joint; none for a keyed bore."""
    if unit.known.units["mounting"].iloc[unit.place] not in CLAMPED:
        return []
    grip = unit.consequences.grip
    here = np.array([unit.place])
    joint = specified_joints(
        unit.known.units.iloc[here].reset_index(drop=True),
        unit.limits.at(here).table,
        unit.consequences.nameplate.at(here),
    )
    estimate = [_estimated_rating(unit, joint)] if joint.estimated[0] else []
    return [
        *estimate,
        *_pressures(unit, joint),
        *_ratio_and_margin(unit, grip),
        *_creep(unit, grip),
    ]


def _estimated_rating(unit: AssessedUnit, joint: SpecifiedJoint) -> TracedNumber:
    shaft = float(unit.consequences.nameplate["shaft_diameter_mm"][unit.place])
    torsion = float(torsion_capacity(shaft, ALLOWABLE_SHEAR.typical))
    torsion_binds = float(joint.rating[0]) >= torsion
    return TracedNumber(
        JOINT,
        "torque carried as specified, estimated from the screws",
        float(joint.rating[0]),
        "N·m",
        "torsion of the shaft"
        if torsion_binds
        else "friction, clean and dry x pi x shaft diameter^2 x clamp length / 2 x (pressure by "
        "the screws - pressure that closes the fit)",
        (
            Input("friction, clean and dry", DRY),
            unit.plate("shaft_diameter_mm"),
            unit.plate("clamp_length_mm"),
            _pressure("pressure by the screws", joint.squeeze),
            _pressure("pressure that closes the fit", joint.closing),
            Input(
                "torsion of the shaft",
                torsion,
                "N·m",
                assumed=True,
                beside=not torsion_binds,
            ),
            Input("log standard deviation", float(joint.spread[0]), beside=True),
        ),
        f"textbook mechanics, wall of the hub by Lamé; cones and shares {FROM_MEMORY} and "
        f"{PLANNING_VALUE}; shear stress of the shaft {ALLOWABLE_SHEAR.source}",
        "at most torsion of the shaft",
    )


def _pressure(name: str, pressure: NDArray[np.float64]) -> Input:
    return Input(name, float(pressure[0]) / 1e6, "MPa")


def _pressures(unit: AssessedUnit, joint: SpecifiedJoint) -> list[TracedNumber]:
    """Return the pressure on the shaft that goes with the rating, where one is known."""
    if np.isnan(joint.rating[0]):
        return []
    return [
        TracedNumber(
            JOINT,
            "pressure on the shaft as specified",
            float(joint.pressure[0]) / 1e6,
            "MPa",
            "2 x rated torque / (friction, clean and dry x pi x shaft diameter^2 x clamp length)",
            (
                Input("rated torque", float(joint.rating[0]), "N·m", bool(joint.estimated[0])),
                Input("friction, clean and dry", DRY),
                unit.plate("shaft_diameter_mm"),
                unit.plate("clamp_length_mm"),
            ),
            "textbook mechanics; friction as restated from DIN 7190-1",
        )
    ]


def _ratio_and_margin(unit: AssessedUnit, grip: JointGrip) -> list[TracedNumber]:
    factors = tuple(Input(words, unit.at(grip.factors[name])) for name, words in _FACTORS.items())
    estimated = bool(grip.estimated[unit.place])
    rating, name = unit.at(grip.rating), "joint's rated torque"
    rated = Input(name, "not known") if np.isnan(rating) else Input(name, rating, "N·m", estimated)
    margin, ratio = unit.at(grip.margin), unit.at(grip.ratio)
    if not grip.relied_on[unit.place]:
        cause = causes_of(grip, unit.known)[unit.place]
        factors += (Input("grip", f"cannot be relied on for any torque: {CAUSES[cause]}"),)
        ratio = np.nan
    return [
        TracedNumber(
            JOINT,
            "capacity, as found over as specified",
            ratio,
            "",
            "product of shares",
            factors,
            "our own calculation; friction as restated from DIN 7190-1, preload by a model of "
            "cross-talk between screws, fit by Lamé",
        ),
        TracedNumber(
            JOINT,
            "slip margin",
            margin,
            "",
            "joint's rated torque x capacity ratio / (running torque x peak over running torque)",
            (
                rated,
                Input("capacity ratio", ratio),
                unit.plate("output_torque_nm"),
                unit.plate("peak_factor"),
                Input("90 % interval from", unit.at(grip.low), beside=True),
                Input("to", unit.at(grip.high), beside=True),
                Input("log standard deviation", unit.at(grip.log_spread), beside=True),
            ),
            "textbook mechanics" + ("; rating estimated from the screws" if estimated else ""),
        ),
    ]


def _creep(unit: AssessedUnit, grip: JointGrip) -> list[TracedNumber]:
    """Return how far the joint creeps at its edge with every peak, where it holds at all."""
    plate = unit.consequences.nameplate
    peak = unit.at(grip.demand)
    capacity = unit.at(grip.margin) * peak
    if not capacity >= peak:
        return []
    sizes = (float(plate[name][unit.place]) for name in ("shaft_diameter_mm", "clamp_length_mm"))
    diameter, length = sizes
    slip = float(edge_slip(peak, capacity, diameter, length))
    stiffness = STEEL_SHEAR_MODULUS * np.pi * diameter**4 / 32
    micrometres = [1e6 * end for end in (WORRYING_EDGE_SLIP.low, WORRYING_EDGE_SLIP.high)]
    return [
        TracedNumber(
            JOINT,
            "creep at the edge of the joint at every peak",
            slip * 1e6,
            "µm",
            "peak torque^2 x clamp length x shaft diameter / (4 x torsional stiffness x capacity)",
            (
                Input("peak torque", peak, "N·m"),
                Input("capacity", capacity, "N·m"),
                unit.plate("shaft_diameter_mm"),
                unit.plate("clamp_length_mm"),
                Input("torsional stiffness", stiffness, "N·m²", assumed=True),
                Input("worth a thought from", micrometres[0], "µm", assumed=True, beside=True),
                Input("near to slipping from", micrometres[1], "µm", assumed=True, beside=True),
            ),
            f"our own calculation, rigid hub; {WORRYING_EDGE_SLIP.source}",
        )
    ]


def numbers_of_the_seal(unit: AssessedUnit) -> list[TracedNumber]:
    """Return the numbers of the output seal."""
    numbers = [number_of_the_lip(unit, SEAL)]
    row = unit.known.units.iloc[unit.place]
    speed, shaft = float(row["output_speed_rpm"]), float(row["shaft_diameter_mm"])
    if not np.isnan(speed):
        numbers.append(
            TracedNumber(
                SEAL,
                "surface speed under the lip",
                float(surface_speed(shaft / 1e3, speed * 2 * np.pi / 60)),
                "m/s",
                "pi x shaft diameter x speed",
                (Input("shaft diameter", shaft, "mm"), Input("speed", speed, "rpm")),
                "textbook mechanics",
            )
        )
    return numbers
