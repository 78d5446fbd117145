"""All pictures of one unit, by the word that names each."""

from scoring.assessment import Assessment
from scoring.drawing.joint_section import draw_joint
from scoring.drawing.screw_circle import draw_screw_circle, has_screw_circle
from scoring.drawing.shapes import Picture
from scoring.drawing.torque_arm_picture import draw_torque_arm
from scoring.drawing.walk_round import draw_walk_round

PICTURE_WORDS = {
    "joint": "Joint",
    "arm": "Torque arm",
    "screws": "Screws",
    "walk": "Walk round",
}
"""What a person calls each picture, in the order in which they are shown."""


def pictures_of_unit(
    assessment: Assessment, unit_id: str, final_torque_nm: float | None = None
) -> dict[str, Picture]:
    """Draw a unit.

    Parameters
    ----------
    assessment : Assessment
        What is said of the fleet.
    unit_id : str
        The unit.
    final_torque_nm : float, optional
        Final torque of the clamp screws from the unit's own manual. [N·m]

    Returns
    -------
    dict of str to Picture
        By the names of ``PICTURE_WORDS``; ``screws`` only where screws clamp the joint.

    Raises
    ------
    FixableError
        If no unit of that id is in service.
    """
    place = assessment.place_of(unit_id)
    mounting = str(assessment.known.units["mounting"].iloc[place])
    pictures = {
        "joint": draw_joint(assessment, unit_id),
        "arm": draw_torque_arm(assessment, unit_id),
    }
    if has_screw_circle(mounting):
        pictures["screws"] = draw_screw_circle(assessment, unit_id, final_torque_nm)
    pictures["walk"] = draw_walk_round(assessment, unit_id)
    return pictures
