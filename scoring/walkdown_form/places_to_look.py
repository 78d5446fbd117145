"""At which place of the machine each check is looked for."""

from dataclasses import dataclass

from scoring.drawing.shapes import Circle, Polygon

_MIDDLE = 70.0
"""Between the side of the conveyor and the drive end in the machine seen from the side. [mm]"""


@dataclass(frozen=True)
class Place:
    """Some parts of the machine seen from the side.

    Attributes
    ----------
    words : str
        What a person calls the place.
    parts : tuple of str
        Parts as the drawing names them.
    side : str
        ``drive end``, ``conveyor``, or empty for both.
    """

    words: str
    parts: tuple[str, ...]
    side: str = ""

    def holds(self, shape: Polygon | Circle) -> bool:
        """Tell whether a shape of the drawing belongs to the place."""
        at_drive_end = shape.box.left > _MIDDLE
        wanted = {"drive end": at_drive_end, "conveyor": not at_drive_end}.get(self.side, True)
        return shape.part in self.parts and wanted


_BORE = Place("bore at the drive end", ("hub",), "drive end")
_BACK = Place("shaft at the back of the unit", ("hub", "seal"), "conveyor")
_SCREWS = Place("clamp screws", ("screw",), "drive end")
_DISC = Place("shrink disc", ("shrink disc",))
_JOINT = Place("rubber of the anchor joint", ("isolator", "washer"))
_ANCHOR = Place("torque arm and its anchor", ("torque arm", "anchor bolt"))
_BEARING = Place("low-speed bearing", ("low-speed bearing",))

PLACE_OF_CHECK: dict[str, Place] = {
    "bore_condition": _BORE,
    "clamp_seat_condition": _DISC,
    "seated": _BACK,
    "support_bushings": _BORE,
    "engagement_mm": _BORE,
    "shaft_end": _BORE,
    "shaft_diameter_measured_mm": _BORE,
    "shaft_runout_mm": _BACK,
    "key_condition": _BORE,
    "retention": Place("axial retention", ("axial retention", "screw"), "drive end"),
    "torque_passes": _SCREWS,
    "tightening_order": _SCREWS,
    "final_torque_nm": _SCREWS,
    "screws_low": _SCREWS,
    "collar_gap_mm": Place("flange of the bushing", ("bushing flange",)),
    "disc_offset_mm": _DISC,
    "arm_bolts": Place("bolts of the torque arm", ("arm bolt",)),
    "isolator_stack": _JOINT,
    "isolators_free": _JOINT,
    "isolator_squeeze_mm": _JOINT,
    "metal_contact": _ANCHOR,
    "smallest_clearance_mm": Place("housing and motor", ("housing", "motor")),
    "arm_misset_mm": _ANCHOR,
    "arm_angle_deg": _ANCHOR,
    "breather": Place("breather", ("breather",)),
    "oil_level": Place("sight glass", ("sight glass",)),
    "guard": Place("guard", ("guard",)),
    "running_temperature_c": _BEARING,
    "vibration_mm_s": _BEARING,
    "seal_weep": Place("output seal", ("seal",)),
}
