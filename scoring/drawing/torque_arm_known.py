"""What is known of one unit's torque arm: sizes, what was seen, and the forces worked out."""

from dataclasses import dataclass

import numpy as np

from scoring.assessment import Assessment
from scoring.consequences.bearing_loads import running_bearing_loads
from scoring.drawing.numbered_findings import NumberedFinding, numbered_findings
from scoring.drawing.what_was_seen import WhatWasSeen, in_unit
from scoring.limits import assumptions
from scoring.mechanics.torque_arm_reaction import link_force

CHECKS_OF_THE_ARM = (
    "arm_bolts",
    "isolator_stack",
    "isolators_free",
    "isolator_squeeze_mm",
    "metal_contact",
    "smallest_clearance_mm",
    "arm_misset_mm",
    "arm_angle_deg",
    "guard",
)
"""Checks whose findings are marked in the picture of the torque arm."""

SIZES = {
    "shaft_diameter_mm": "shaft",
    "arm_length_mm": "arm",
    "isolator_outer_mm": "isolator's outside",
    "isolator_inner_mm": "its hole",
    "isolator_thickness_mm": "its thickness",
}
"""Sizes that the picture is drawn by."""

LOADS = {
    "output_torque_nm": "running torque",
    "unit_mass_kg": "mass",
    "bearing_span_mm": "bearing span",
    "arm_offset_mm": "arm beside the nearer bearing",
    "shaft_support_distance_mm": "distance to the shaft's bearing",
    "isolator_hardness_shore_a": "isolator's hardness",
}
"""What the forces rest on besides."""


@dataclass(frozen=True)
class ArmAsKnown:
    """The torque arm of one unit.

    Attributes
    ----------
    unit_id : str
        The unit.
    sizes : dict of str to float
        By column of ``units``. [mm]
    assumed : frozenset of str
        Columns that the nameplate does not give.
    seen : WhatWasSeen
        What was seen.
    findings : tuple of NumberedFinding
        Findings of ``CHECKS_OF_THE_ARM``.
    reaction : float
        Force in the link, as the explanation of the unit has it. [N]
    added, floating : float
        Expected load that the arm adds to one low-speed bearing, and the load of that bearing
        when the unit floats. [N]
    """

    unit_id: str
    sizes: dict[str, float]
    assumed: frozenset[str]
    seen: WhatWasSeen
    findings: tuple[NumberedFinding, ...]
    reaction: float
    added: float
    floating: float

    @property
    def angle(self) -> float:
        """Angle at the anchor, square where not seen [°]."""
        seen = self.seen.number("arm_angle_deg")
        return 90.0 if seen is None else seen

    @property
    def required(self) -> dict[str, float]:
        """Limits, in the unit of the check."""
        thickness = self.sizes["isolator_thickness_mm"]
        return {
            "isolator_squeeze_mm": assumptions.SQUEEZE_SHARE.value * thickness,
            "smallest_clearance_mm": assumptions.LEAST_CLEARANCE.value,
            "arm_misset_mm": assumptions.MOST_MISSET.value,
            "arm_angle_deg": assumptions.LEAST_ANGLE.value,
        }

    @property
    def joint_was_seen(self) -> bool:
        """Whether anybody looked at the rubber."""
        return self.seen.word("isolator_stack") is not None or any(
            self.seen.number(check) is not None
            for check in ("isolators_free", "isolator_squeeze_mm")
        )

    def has_fault(self, check: str) -> bool:
        """Tell whether there is a finding of a check."""
        return any(finding.check == check for finding in self.findings)

    def with_limit(self, check: str) -> str:
        """Say what was seen and what is good; a reported cure has no value to hold against it."""
        if "cured" in self.seen.words(check):
            return self.seen.words(check)
        unit = "°" if check.endswith("_deg") else "mm"
        bound = "least" if check in ("smallest_clearance_mm", "arm_angle_deg") else "most"
        return f"{self.seen.words(check)}, at {bound} {in_unit(self.required[check], unit)}"


def arm_as_known(assessment: Assessment, unit_id: str) -> ArmAsKnown:
    """Read what is known of a unit's torque arm.

    Parameters
    ----------
    assessment : Assessment
        What is known of the fleet.
    unit_id : str
        The unit.

    Returns
    -------
    ArmAsKnown

    Raises
    ------
    FixableError
        If no unit of that id is in service.

    Notes
    -----
    The force in the link is T / (a sin(angle)), textbook mechanics; no angle below 1° is taken.
    """
    seen = WhatWasSeen.of(assessment, unit_id)
    place = seen.place
    consequences = assessment.consequences
    plate = consequences.nameplate
    angle = seen.number("arm_angle_deg")
    reaction = link_force(
        plate["output_torque_nm"][place],
        plate["arm_length_mm"][place],
        np.radians(90.0 if angle is None else max(angle, 1.0)),
    )
    named = (*SIZES, *LOADS)
    return ArmAsKnown(
        unit_id=unit_id,
        sizes={column: float(plate[column][place]) * 1e3 for column in SIZES},
        assumed=frozenset(column for column in named if not plate.was_given(column, place)),
        seen=seen,
        findings=tuple(
            finding
            for finding in numbered_findings(assessment, unit_id)
            if finding.check in CHECKS_OF_THE_ARM
        ),
        reaction=float(reaction),
        added=float(consequences.added_bearing_load[place]),
        floating=float(running_bearing_loads(consequences.nameplate)[place].max()),
    )


def force_words(force: float) -> str:
    """Write a force.

    Examples
    --------
    >>> force_words(870.4), force_words(12_340.0), force_words(1_234_000.0)
    ('870 N', '12.3 kN', '1234 kN')
    """
    if force < 999.5:
        return f"{force:.0f} N"
    return f"{force / 1000:.3g} kN" if force < 99_950 else f"{force / 1000:.0f} kN"
