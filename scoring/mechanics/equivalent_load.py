"""Radial load that stands for the radial and axial load of a bearing together.

Source: ISO 281 as textbooks give it (Jindal, Machine Design, ch. 18), read as worked examples in
public notebooks that recompute them.
"""

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.ranges import Floats, not_negative


def equivalent_load(
    radial_load: ArrayLike, axial_load: ArrayLike, radial_factor: ArrayLike, axial_factor: ArrayLike
) -> Floats:
    """Radial load that wears a bearing as a radial and an axial load do together.

    Parameters
    ----------
    radial_load : array_like
        Radial load, times 1.2 in older texts if the outer ring turns. [N]
    axial_load : array_like
        Axial load. [N]
    radial_factor : array_like
        X from the bearing's own table. [-]
    axial_factor : array_like
        Y from the bearing's own table. [-]

    Returns
    -------
    numpy.ndarray
        P = X Fr + Y Fa. [N]

    Raises
    ------
    OutOfRangeError
        If a value is negative.

    Notes
    -----
    Source: ISO 281, as given at the head of this file.

    Examples
    --------
    >>> round(float(equivalent_load(1250.0, 625.0, 0.56, 1.2)), 6)
    1450.0
    """
    radial = not_negative("X", radial_factor, "") * not_negative("radial load", radial_load, "N")
    return radial + not_negative("Y", axial_factor, "") * not_negative(
        "axial load", axial_load, "N"
    )


def tapered_roller_equivalent_load(
    radial_load: ArrayLike, axial_load: ArrayLike, axial_factor: ArrayLike, limit: ArrayLike
) -> Floats:
    """Equivalent load of a single-row tapered roller bearing.

    Parameters
    ----------
    radial_load : array_like
        Radial load. [N]
    axial_load : array_like
        Axial load, the thrust included that radial loads induce in the pair. [N]
    axial_factor : array_like
        Y from the bearing's own table. [-]
    limit : array_like
        e from the bearing's own table: the ratio of axial to radial load up to which the axial
        load costs nothing. [-]

    Returns
    -------
    numpy.ndarray
        P = Fr while Fa <= e Fr, else 0.4 Fr + Y Fa. [N]

    Raises
    ------
    OutOfRangeError
        If a value is negative.

    Notes
    -----
    Source: from memory.

    Examples
    --------
    >>> tapered_roller_equivalent_load(10e3, [2e3, 8e3], 1.6, 0.37).tolist()
    [10000.0, 16800.0]
    """
    radial = not_negative("radial load", radial_load, "N")
    axial = not_negative("axial load", axial_load, "N")
    combined = equivalent_load(radial, axial, 0.4, axial_factor)
    free = axial <= not_negative("e", limit, "") * radial
    return np.where(free, radial + 0.0 * combined, combined)
