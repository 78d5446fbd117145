"""How rubber stiffens when it is squeezed far."""

from numpy.typing import ArrayLike

from scoring.mechanics.ranges import Floats, between, not_negative, positive

_LARGEST_STRAIN = 0.6


def squeezed_shear_stiffness(shear_stiffness: ArrayLike, compression: ArrayLike) -> Floats:
    """Shear stiffness of a pad that is squeezed: thinner and, keeping its volume, wider.

    Parameters
    ----------
    shear_stiffness : array_like
        Shear stiffness without load. [N/m]
    compression : array_like
        Squeeze over thickness, 0 to 0.6. [-]

    Returns
    -------
    numpy.ndarray
        K / (1 - compression)². [N/m]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: our own calculation.

    Examples
    --------
    >>> round(float(squeezed_shear_stiffness(329.6e3, 0.35)) / 1000)
    780
    """
    left = 1.0 - between("compression of the rubber", compression, "", 0.0, _LARGEST_STRAIN)
    return not_negative("shear stiffness", shear_stiffness, "N/m") / left**2


def compressive_stress(compression_modulus: ArrayLike, compression: ArrayLike) -> Floats:
    """Stress of rubber at a large compression.

    Parameters
    ----------
    compression_modulus : array_like
        Apparent modulus at small strain. [Pa]
    compression : array_like
        Squeeze over thickness, 0 to 0.6. [-]

    Returns
    -------
    numpy.ndarray
        E/3 (1/lambda² - lambda) with lambda = 1 - compression. [Pa]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: from memory (statistical theory of rubber elasticity).

    Examples
    --------
    >>> round(float(compressive_stress(1.0, 0.35)), 4)
    0.5723
    """
    left = 1.0 - between("compression of the rubber", compression, "", 0.0, _LARGEST_STRAIN)
    modulus = positive("compression modulus", compression_modulus, "Pa")
    return modulus / 3.0 * (left**-2.0 - left)


def stiffening(compression: ArrayLike) -> Floats:
    """Stiffness of rubber at a large compression, over that without load.

    Parameters
    ----------
    compression : array_like
        Squeeze over thickness, 0 to 0.6. [-]

    Returns
    -------
    numpy.ndarray
        (1 + 2 / lambda³) / 3 with lambda = 1 - compression. [-]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: from memory (statistical theory of rubber elasticity).

    Examples
    --------
    >>> stiffening([0.0, 0.25, 0.35]).round(2).tolist()
    [1.0, 1.91, 2.76]
    """
    left = 1.0 - between("compression of the rubber", compression, "", 0.0, _LARGEST_STRAIN)
    return (1.0 + 2.0 * left**-3.0) / 3.0
