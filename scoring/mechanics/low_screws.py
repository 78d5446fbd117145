"""What a few screws below their torque take from the force of the whole circle."""

from numpy.typing import ArrayLike

from scoring.mechanics.validity_ranges import Floats, between, not_negative, positive, require


def circle_force_ratio(
    screw_count: ArrayLike, screws_low: ArrayLike, low_screw_ratio: ArrayLike
) -> Floats:
    """Force of the circle with some slack screws, over that with none.

    Parameters
    ----------
    screw_count : array_like
        Screws in the circle. [-]
    screws_low : array_like
        Screws under the specified torque, or missing; at most all. [-]
    low_screw_ratio : array_like
        Torque of those screws over the specified torque, 0 (missing) to 1. [-]

    Returns
    -------
    numpy.ndarray
        Share of the specified axial force that is left, 0 to 1. [-]

    Raises
    ------
    OutOfRangeError
        If a number is outside its range or more screws are low than there are.

    Notes
    -----
    Source: our own calculation; the preload of a screw is proportional to its torque.

    Examples
    --------
    >>> float(circle_force_ratio(8, 2, 0.5))
    0.875
    """
    screws = positive("screws in the circle", screw_count, "")
    low = not_negative("screws under torque", screws_low, "")
    require("screws under torque", low, ~(low > screws), "", "at most all screws of the circle")
    return 1.0 - low / screws * (1.0 - between("torque ratio", low_screw_ratio, "", 0.0, 1.0))
