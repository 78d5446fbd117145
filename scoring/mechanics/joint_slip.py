"""How near a friction joint is to slipping, and how much it creeps at its edge before."""

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.provenance import Provenance, SourcedRange
from scoring.mechanics.validity_ranges import Floats, not_negative, positive, require

STEEL_SHEAR_MODULUS = 79.3e9
"""Shear modulus of steel; customary value. [Pa]"""

WORRYING_EDGE_SLIP = SourcedRange(
    low=3e-6,
    typical=8e-6,
    high=20e-6,
    unit="m",
    provenance=Provenance.FROM_MEMORY,
    source="range of partial slip, from memory; typical is ours. A page on fretting says that "
    "0.1 µm can do damage if kept up for a million cycles: no value is harmless",
)
"""Edge slip from the first worry to gross slip. [m]"""


def slip_margin(
    torque_capacity: ArrayLike, running_torque: ArrayLike, peak_factor: ArrayLike
) -> Floats:
    """Torque at which the joint slips, over the highest torque that it meets.

    Parameters
    ----------
    torque_capacity : array_like
        Torque at which the joint slips. [N·m]
    running_torque : array_like
        Torque in steady running. [N·m]
    peak_factor : array_like
        Peak, starting included, over running, at least 1. [-]

    Returns
    -------
    numpy.ndarray
        Below 1 the joint slips at every peak. [-]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: textbook mechanics.

    Examples
    --------
    >>> round(float(slip_margin(9667.0, 1500.0, 3.0)), 2)
    2.15
    """
    peak = positive("peak factor", peak_factor, "")
    require("peak factor", peak, ~(peak < 1.0), "", "values of at least 1")
    demand = positive("running torque", running_torque, "N·m") * peak
    return not_negative("torque capacity", torque_capacity, "N·m") / demand


def edge_slip(
    torque: ArrayLike,
    torque_capacity: ArrayLike,
    shaft_diameter: ArrayLike,
    length: ArrayLike,
    shear_modulus: ArrayLike = STEEL_SHEAR_MODULUS,
) -> Floats:
    """Creep of a solid shaft in a rigid hub where the torque enters, as torque comes and goes.

    Parameters
    ----------
    torque : array_like
        Torque carried. [N·m]
    torque_capacity : array_like
        Torque at which the whole joint slips. [N·m]
    shaft_diameter : array_like
        Diameter of the shaft. [m]
    length : array_like
        Gripped length. [m]
    shear_modulus : array_like
        Shear modulus of the shaft. [Pa]

    Returns
    -------
    numpy.ndarray
        T² L d / (4 G J T_cap) with J = pi d⁴ / 32; infinite where the torque is above the
        capacity, for then all of it slips. [m]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: our own calculation; friction uniform along the length, so the slipped depth is
    L T / T_cap and the twist falls from T / (G J) to nothing over it.

    Examples
    --------
    >>> (edge_slip(3000.0, [6000.0, 2000.0], 0.080, 0.090) * 1e6).round(1).tolist()
    [8.5, inf]
    """
    load = not_negative("torque", torque, "N·m")
    capacity = not_negative("torque capacity", torque_capacity, "N·m")
    diameter = positive("shaft diameter", shaft_diameter, "m")
    gripped = positive("gripped length", length, "m")
    stiffness = positive("shear modulus", shear_modulus, "Pa") * np.pi * diameter**4 / 32.0
    # A joint without any capacity is dealt with below, not by a division by zero
    some_capacity = np.where(capacity > 0, capacity, np.nan)
    creep = load**2 * gripped * diameter / (4.0 * stiffness * some_capacity)
    return np.where(load > capacity, np.inf, creep)
