"""The stations of a walk round a unit, in walking order, and which checks are made at each."""

from dataclasses import dataclass

from scoring.contract.declaration import Seen
from scoring.drawing.shapes import Point


@dataclass(frozen=True)
class Station:
    """A place at which one stops and looks.

    Attributes
    ----------
    letter : str
        By which it is named; numbers are those of the findings.
    words : str
        Where it is.
    state : Seen
        In which state of the machine its checks are made.
    at : Point
        Where it is marked in the picture. [mm]
    checks : tuple of str
        What is looked for, in the order of the walkdown's columns.
    """

    letter: str
    words: str
    state: Seen
    at: Point
    checks: tuple[str, ...]


STATIONS: tuple[Station, ...] = (
    Station(
        "A",
        "Bare shaft and bore, while the unit is being hung",
        Seen.HANGING,
        (112, 34),
        (
            "bore_condition",
            "clamp_seat_condition",
            "shaft_diameter_measured_mm",
            "key_condition",
            "torque_passes",
            "tightening_order",
            "collar_gap_mm",
        ),
    ),
    Station(
        "B",
        "Drive end: shaft end and screws, machine stopped",
        Seen.STOPPED,
        (112, 50),
        (
            "support_bushings",
            "engagement_mm",
            "shaft_end",
            "retention",
            "final_torque_nm",
            "screws_low",
            "disc_offset_mm",
        ),
    ),
    Station(
        "C",
        "Round the unit, machine stopped",
        Seen.STOPPED,
        (97, 62),
        ("arm_bolts", "metal_contact", "smallest_clearance_mm", "oil_level"),
    ),
    Station(
        "D",
        "Anchor of the torque arm, machine stopped",
        Seen.STOPPED,
        (87, 81),
        (
            "isolator_stack",
            "isolators_free",
            "isolator_squeeze_mm",
            "arm_misset_mm",
            "arm_angle_deg",
        ),
    ),
    Station(
        "E",
        "Back of the unit, toward the conveyor, machine stopped",
        Seen.STOPPED,
        (46, 58),
        ("seated", "shaft_runout_mm", "seal_weep"),
    ),
    Station("F", "Top and guards, machine stopped", Seen.STOPPED, (46, 12), ("breather", "guard")),
    Station(
        "G",
        "Low-speed bearing, guards on, machine running",
        Seen.RUNNING,
        (112, 12),
        ("running_temperature_c", "vibration_mm_s"),
    ),
)
"""One drives the eye once round: drive end, anchor, back, top; common practice, no source."""

WORKED_OUT = {"slip_margin": ("B", "grip of the joint, worked out", "slips")}
"""What is found by calculation: where its cause is looked for, its name, and what was found."""
