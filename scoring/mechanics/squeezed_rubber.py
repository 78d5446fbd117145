"""How rubber stiffens when it is squeezed far."""

from numpy.typing import ArrayLike

from scoring.mechanics.validity_ranges import Floats, between, not_negative

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
