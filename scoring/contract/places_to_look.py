"""Places of the machine at which checks are looked for, by the parts that the drawing names."""

from dataclasses import dataclass

from scoring.contract.declaration import About

DRIVE_END = "drive end"
CONVEYOR = "conveyor"


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


NOT_SAID = Place("", ())
BORE = Place("bore at the drive end", ("hub",), DRIVE_END)
BACK = Place("shaft at the back of the unit", ("hub", "seal"), CONVEYOR)
CLAMP_SCREWS = Place("clamp screws", ("screw",), DRIVE_END)
DISC = Place("shrink disc", ("shrink disc",))
ANCHOR_JOINT = Place("rubber of the anchor joint", ("isolator", "washer"))
ARM_AND_ANCHOR = Place("torque arm and its anchor", ("torque arm", "anchor bolt"))
HOUSING_AND_MOTOR = Place("housing and motor", ("housing", "motor"))
LOW_SPEED_BEARING = Place("low-speed bearing", ("low-speed bearing",))

USUAL_PLACE: dict[About, Place] = {
    About.JOINT: BORE,
    About.SHAFT: BACK,
    About.ARM: ARM_AND_ANCHOR,
    About.HOUSING: HOUSING_AND_MOTOR,
}
"""Where a check is looked for that names no place; each is drawn whatever the mounting."""
