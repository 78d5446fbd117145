"""What water in the oil takes from the life of a rolling bearing."""

from numpy.typing import ArrayLike

from scoring.mechanics.ranges import Floats, between

LEAST_WATER_PPM = 25.0
MOST_WATER_PPM = 400.0


def life_ratio_with_water(water_ppm: ArrayLike) -> Floats:
    """Life with water in the oil, over the life at 100 ppm.

    Parameters
    ----------
    water_ppm : array_like
        Water in the oil, 25 to 400 as in the tests. [ppm]

    Returns
    -------
    numpy.ndarray
        (100 / X)^0.6. [-]

    Raises
    ------
    OutOfRangeError
        If the water content is outside the range of the tests.

    Notes
    -----
    Source: an STLE magazine editorial, June 2021, on the tests of 1976 with tapered roller
    bearings at 25, 100 and 400 ppm, and the abstract of the paper; the editorial itself warns
    against going beyond that range.

    Examples
    --------
    >>> life_ratio_with_water([25.0, 100.0, 400.0]).round(3).tolist()
    [2.297, 1.0, 0.435]
    """
    water = between("water in the oil", water_ppm, "ppm", LEAST_WATER_PPM, MOST_WATER_PPM)
    return (100.0 / water) ** 0.6
