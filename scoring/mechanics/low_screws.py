"""What a few screws below their torque take from the force of the whole circle."""

from numpy.typing import ArrayLike

from scoring.mechanics.validity_ranges import Floats, between, not_negative, positive, require


def circle_force_ratio(
    screw_count: ArrayLike,
    screws_low: ArrayLike,
    low_screw_ratio: ArrayLike,
    screws_missing: ArrayLike = 0.0,
) -> Floats:
    """Force of the circle with some slack screws, over that with none.

    Parameters
    ----------
    screw_count : array_like
        Screws in the circle. [-]
    screws_low : array_like
        Screws under the specified torque, or missing; at most all. [-]
    low_screw_ratio : array_like
        Torque of those screws over the specified torque, 0 to 1. [-]
    screws_missing : array_like
        Of those the ones that are missing and pull nothing. [-]

    Returns
    -------
    numpy.ndarray
        Share of the specified axial force that is left, 0 to 1. [-]

    Raises
    ------
    OutOfRangeError
        If a number is outside its range, more screws are low than there are, or more are missing
        than low.

    Notes
    -----
    Source: our own calculation; the preload of a screw is proportional to its torque.

    Examples
    --------
    >>> circle_force_ratio(8, 2, 0.5, [0, 1]).tolist()
    [0.875, 0.8125]
    """
    screws = positive("screws in the circle", screw_count, "")
    low = not_negative("screws under torque", screws_low, "")
    require("screws under torque", low, ~(low > screws), "", "at most all screws of the circle")
    missing = not_negative("screws missing", screws_missing, "")
    require("screws missing", missing, ~(missing > low), "", "at most those under torque")
    ratio = between("torque ratio", low_screw_ratio, "", 0.0, 1.0)
    return 1.0 - (low * (1.0 - ratio) + missing * ratio) / screws
