"""Numbers of the friction joint and the output seal."""

import numpy as np

from scoring.consequences import spread
from scoring.consequences.joint_grip import SPREAD_OF_ESTIMATE
from scoring.contract.mountings import CLAMPED
from scoring.explanation.assessed_unit import AssessedUnit
from scoring.explanation.traced_number import Input, TracedNumber
from scoring.mechanics.seal import RUNOUT_ALLOWANCE, surface_speed

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
    factors = tuple(Input(words, unit.at(grip.factors[name])) for name, words in _FACTORS.items())
    estimated = bool(grip.estimated[unit.place])
    rating, name = unit.at(grip.rating), "joint's rated torque"
    rated = Input(name, "not known") if np.isnan(rating) else Input(name, rating, "N·m", estimated)
    margin, ratio = unit.at(grip.margin), unit.at(grip.ratio)
    return [
        TracedNumber(
            JOINT,
            "capacity, as found over as specified",
            ratio,
            "",
            "product of the shares",
            factors,
            "our own calculation; friction as restated from DIN 7190-1, preload by a model of "
            "cross-talk between screws",
        ),
        TracedNumber(
            JOINT,
            "slip margin",
            margin,
            "",
            "rated torque x ratio / (running torque x peak)",
            (
                rated,
                Input("capacity ratio", ratio),
                unit.plate("output_torque_nm"),
                unit.plate("peak_factor"),
                Input("90 % interval from", unit.at(grip.low)),
                Input("to", unit.at(grip.high)),
            ),
            "textbook mechanics"
            + (
                f"; rating estimated from the screws, log standard deviation {SPREAD_OF_ESTIMATE}"
                if estimated
                else ""
            ),
        ),
    ]


def numbers_of_the_seal(unit: AssessedUnit) -> list[TracedNumber]:
    """Return the numbers of the output seal."""
    usual = f"not measured: mean of a distribution, {spread.SHAFT_RUNOUT.mean:.2g} mm"
    numbers = [
        TracedNumber(
            SEAL,
            "run-out at the seal over what it follows",
            unit.at(unit.consequences.seal_runout_ratio),
            "",
            "run-out / allowance",
            (
                unit.seen("shaft_runout_mm", "run-out", "mm", usual),
                Input("allowance", RUNOUT_ALLOWANCE.typical * 1e3, "mm", assumed=True),
            ),
            RUNOUT_ALLOWANCE.source,
        )
    ]
    row = unit.known.units.iloc[unit.place]
    speed, shaft = float(row["output_speed_rpm"]), float(row["shaft_diameter_mm"])
    if not np.isnan(speed):
        numbers.append(
            TracedNumber(
                SEAL,
                "surface speed under the lip",
                float(surface_speed(shaft / 1e3, speed * 2 * np.pi / 60)),
                "m/s",
                "pi d n",
                (Input("shaft diameter", shaft, "mm"), Input("speed", speed, "rpm")),
                "textbook mechanics",
            )
        )
    return numbers
