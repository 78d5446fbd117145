"""What speed and run-out ask of a rotary lip seal."""

from numpy.typing import ArrayLike

from scoring.mechanics.provenance import Provenance, SourcedRange
from scoring.mechanics.validity_ranges import Floats, not_negative, positive

RUNOUT_ALLOWANCE = SourcedRange(
    low=0.13e-3,
    typical=0.25e-3,
    high=0.25e-3,
    unit="m",
    provenance=Provenance.FROM_MEMORY,
    source="North American seal practice, from memory: aim for 0.13 mm, outer limit 0.25 mm at "
    "low speed (up to about 500 r/min)",
)
"""Total indicator reading at the lip that a seal follows. [m]"""


def surface_speed(shaft_diameter: ArrayLike, speed: ArrayLike) -> Floats:
    """Speed of the shaft's surface under the lip.

    Parameters
    ----------
    shaft_diameter : array_like
        Diameter under the lip. [m]
    speed : array_like
        Rotational speed. [rad/s]

    Returns
    -------
    numpy.ndarray
        Half the diameter times the speed. [m/s]

    Raises
    ------
    OutOfRangeError
        If a diameter is not above 0 or a speed negative.

    Notes
    -----
    Source: geometry.

    Examples
    --------
    >>> round(float(surface_speed(0.100, 6.2832)), 3)
    0.314
    """
    radius = positive("shaft diameter", shaft_diameter, "m") / 2.0
    return radius * not_negative("rotational speed", speed, "rad/s")


def runout_ratio(runout: ArrayLike, allowance: ArrayLike = RUNOUT_ALLOWANCE.typical) -> Floats:
    """Run-out of the shaft under the lip, over what a seal follows.

    Parameters
    ----------
    runout : array_like
        Total indicator reading at the seal. [m]
    allowance : array_like
        What a seal follows; the default is for shafts up to about 500 r/min. [m]

    Returns
    -------
    numpy.ndarray
        Above 1 the lip no longer follows. [-]

    Raises
    ------
    OutOfRangeError
        If a run-out is negative or an allowance not above 0.

    Notes
    -----
    Source: default allowance from memory, as said in ``RUNOUT_ALLOWANCE``.

    Examples
    --------
    >>> float(runout_ratio(0.0005))
    2.0
    """
    return not_negative("shaft run-out", runout, "m") / positive("allowance", allowance, "m")
