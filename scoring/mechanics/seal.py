"""What speed and run-out ask of a rotary lip seal.

The housing of a shaft-mounted unit rides on the same hollow shaft as the lip's counterface: run-out
of the driven shaft moves both alike. The lip sees the hub's own eccentricity, and what a held arm
forces through the bearings' clearance and elasticity.
"""

import numpy as np
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


def lip_runout(
    hub_runout: ArrayLike,
    added_load: ArrayLike,
    usual_load: ArrayLike,
    clearance: ArrayLike,
    stiffness: ArrayLike,
) -> Floats:
    """Run-out that the lip sees at a unit whose housing rides on its own bearings.

    Parameters
    ----------
    hub_runout : array_like
        Total indicator reading of the hub under the lip, unit floating. [m]
    added_load : array_like
        Load that a held arm adds at most to a bearing in a turn. [N]
    usual_load : array_like
        Load at which a bearing has taken up its clearance. [N]
    clearance : array_like
        Radial internal clearance of the bearing. [m]
    stiffness : array_like
        Radial stiffness of the bearing. [N/m]

    Returns
    -------
    numpy.ndarray
        Hub's own, and twice how far the housing is forced off the middle of its shaft. [m]

    Raises
    ------
    OutOfRangeError
        If a load, run-out or clearance is negative, or usual load or stiffness not above 0.

    Notes
    -----
    Source: our own calculation; the clearance is taken up in proportion to the added load.

    Examples
    --------
    >>> float(lip_runout(50e-6, [5e3], 10e3, 80e-6, 500e6)[0].round(7))
    0.00011
    """
    load = not_negative("added load", added_load, "N")
    taken_up = np.minimum(load / positive("usual load", usual_load, "N"), 1.0)
    loose = taken_up * not_negative("clearance of the bearing", clearance, "m")
    bent = 2.0 * load / positive("stiffness of the bearing", stiffness, "N/m")
    return not_negative("run-out of the hub", hub_runout, "m") + loose + bent


def runout_ratio(runout: ArrayLike, allowance: ArrayLike = RUNOUT_ALLOWANCE.typical) -> Floats:
    """Run-out under the lip, over what a seal follows.

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
    return not_negative("run-out at the lip", runout, "m") / positive("allowance", allowance, "m")
