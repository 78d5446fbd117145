"""Sizes of the joint and of what is around it, in mm of machine, with what was assumed."""

from dataclasses import dataclass

from scoring.consequences.assumed_sizes import ASSUMED_SIZES
from scoring.consequences.joint_grip import SHORT_END_RATIO
from scoring.contract.mountings import (
    KEYED_BORE,
    SHRINK_DISC,
    SHRINK_DISC_SUPPORT_BUSHINGS,
    SHRINK_DISCS,
    TAPERED_BUSHING,
)
from scoring.drawing.joint_found import JointFound

BORE_RATIO = {
    KEYED_BORE: 2.4,
    TAPERED_BUSHING: 1.9,
    SHRINK_DISC: 2.2,
    SHRINK_DISC_SUPPORT_BUSHINGS: 2.2,
}
"""Length of the bore that holds the shaft, over its diameter; planning values of ours. [-]"""

LEAST_BODY_RATIO = {KEYED_BORE: 1.45, TAPERED_BUSHING: 1.6}
"""Least diameter of the hub in the housing over the shaft's; planning values of ours. [-]"""

EXTENSION_ENDS = 0.22
"""Bare hub at each end of a disc in the middle, over the shaft; planning value of ours. [-]"""

_WORDS = {size.column: size for size in ASSUMED_SIZES}


@dataclass(frozen=True)
class JointSizes:
    """Where everything lies along the shaft and how far from its axis.

    The place 0 is where the bore begins to hold the shaft; the conveyor is on the side below 0.

    Attributes
    ----------
    mounting : str
        How the unit holds its shaft.
    shaft : float
        Diameter of the shaft. [mm]
    required : float or None
        Engagement asked for. [mm]
    engaged : float
        Engagement drawn: as measured, else as good. [mm]
    hub_start, hub_end, hub_radius, clamp_radius : float
        Ends of the hub; its radius in the housing, and under the clamp. [mm]
    housing_left, housing_right, housing_radius : float
        Outline of the housing. [mm]
    bearings : tuple of float
        Middle of either low-speed bearing. [mm]
    bearing_width, bearing_height : float
        Size of a bearing's section. [mm]
    clamp_length : float
        Length under the clamp. [mm]
    extension : float
        Bare hub beyond the housing. [mm]
    assumed : tuple of str
        What was taken for granted.
    """

    mounting: str
    shaft: float
    required: float | None
    engaged: float
    hub_start: float
    hub_end: float
    hub_radius: float
    clamp_radius: float
    housing_left: float
    housing_right: float
    housing_radius: float
    bearings: tuple[float, float]
    bearing_width: float
    bearing_height: float
    clamp_length: float
    extension: float
    assumed: tuple[str, ...]

    @property
    def radius(self) -> float:
        """Radius of the shaft [mm]."""
        return self.shaft / 2

    @property
    def clamp_middle(self) -> float:
        """Where the middle of the disc belongs [mm]."""
        return self.hub_end - self.extension / 2


def joint_sizes(found: JointFound) -> JointSizes:
    """Lay out the joint of a unit.

    Parameters
    ----------
    found : JointFound
        What was found at the unit.

    Returns
    -------
    JointSizes
    """
    plate = found.assessment.known.units.iloc[found.place]
    mounting, shaft = str(plate["mounting"]), float(plate["shaft_diameter_mm"])
    assumed = ["housing, bearings and screws as usual for such a shaft"]

    def of_plate(column: str) -> float:
        value = float(plate[column])
        if value > 0:
            return value
        size = _WORDS[column]
        assumed.append(size.words)
        return size.factor * shaft**size.power

    span = of_plate("bearing_span_mm")
    hub_outer = of_plate("hub_outer_mm")
    in_disc = mounting in SHRINK_DISCS
    clamp = of_plate("clamp_length_mm") if in_disc else 0.0
    required = found.limit("required_engagement_mm")
    if required is None:
        assumed.append(f"bore {BORE_RATIO[mounting]:g} shafts long")
    bore = required or BORE_RATIO[mounting] * shaft
    extension = clamp + 2 * EXTENSION_ENDS * shaft if in_disc else 0.0
    extension = 0.34 * shaft if mounting == TAPERED_BUSHING else extension
    hub_radius = max(hub_outer, LEAST_BODY_RATIO.get(mounting, 0.0) * shaft) / 2
    width = min(0.34 * shaft, 0.4 * span)
    long = span + width + 0.5 * shaft
    step = 0.1 * shaft
    if mounting == KEYED_BORE:
        left = step
        hub_end = max(left + long + step, bore)
        right = left + long
    else:
        hub_end = bore
        right = hub_end - extension - step
        left = right - long
    height = 0.26 * shaft
    middle = (left + right) / 2
    return JointSizes(
        mounting=mounting,
        shaft=shaft,
        required=required,
        engaged=_engaged(found, required, hub_end if mounting != KEYED_BORE else bore),
        hub_start=min(0.0, left - step),
        hub_end=hub_end,
        hub_radius=hub_radius,
        clamp_radius=hub_outer / 2 if in_disc else hub_radius,
        housing_left=left,
        housing_right=right,
        housing_radius=hub_radius + height + 0.16 * shaft,
        bearings=(middle - span / 2, middle + span / 2),
        bearing_width=width,
        bearing_height=height,
        clamp_length=clamp,
        extension=extension,
        assumed=tuple(assumed),
    )


def _engaged(found: JointFound, required: float | None, bore: float) -> float:
    """Return the engagement as measured, else as short as a short end is taken, else as good."""
    measured = found.number("engagement_mm")
    if measured is not None:
        return measured
    good = required or bore
    return SHORT_END_RATIO * good if found.word("shaft_end") == "short" else good


def exaggeration(size: float, most: float) -> int:
    """Return by how much a small size is drawn larger so that it can be seen.

    Parameters
    ----------
    size : float
        The size. [mm]
    most : float
        What it may be drawn as at the most. [mm]

    Returns
    -------
    int
        At least 1.

    Examples
    --------
    >>> exaggeration(0.3, 13), exaggeration(2, 20), exaggeration(50, 20)
    (20, 10, 1)
    """
    return next((n for n in (200, 100, 50, 20, 10, 5, 2) if n * size <= most), 1)
