"""Stiffness of rubber from its hardness.

Hardness predicts it within about 30 % at best, and two published fits differ by more at the
ends.
"""

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.validity_ranges import Floats, between

HARDNESS = (30.0, 35.0, 40.0, 45.0, 50.0, 55.0, 60.0, 65.0, 70.0, 75.0)
"""Hardness of the row below, IRHD, close to Shore A. [-]"""

SHEAR_MPA = (0.30, 0.37, 0.45, 0.54, 0.64, 0.81, 1.06, 1.37, 1.73, 2.22)
"""Shear modulus of natural rubber. [MPa]"""


def shear_modulus(hardness: ArrayLike) -> Floats:
    """Shear modulus of natural rubber, from the table.

    Parameters
    ----------
    hardness : array_like
        IRHD or Shore A, 30 to 75. [-]

    Returns
    -------
    numpy.ndarray
        Shear modulus at small strain, straight lines between rows. [Pa]

    Raises
    ------
    OutOfRangeError
        If a hardness is outside the table.

    Notes
    -----
    Source: from memory. Other rows of the same table agree at hardness 65 and 75 with a one-page
    note quoting "Designing with Rubber": k, and Young's modulus within 3 %.

    Examples
    --------
    >>> round(float(shear_modulus(60)) / 1e6, 2)
    1.06
    """
    shore = between("rubber hardness", hardness, "IRHD", HARDNESS[0], HARDNESS[-1])
    return np.asarray(np.interp(shore, HARDNESS, SHEAR_MPA)) * 1e6
