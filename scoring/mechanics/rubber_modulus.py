"""Elastic constants of rubber from its hardness.

Hardness predicts them within about 30 % at best, and two published fits differ by more at the
ends.
"""

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.ranges import Floats, between

HARDNESS = (30.0, 35.0, 40.0, 45.0, 50.0, 55.0, 60.0, 65.0, 70.0, 75.0)
"""Hardness of the rows below, IRHD, close to Shore A. [-]"""

YOUNG_MPA = (0.92, 1.18, 1.50, 1.80, 2.20, 3.25, 4.45, 5.85, 7.35, 9.40)
"""Young's modulus of natural rubber. [MPa]"""

SHEAR_MPA = (0.30, 0.37, 0.45, 0.54, 0.64, 0.81, 1.06, 1.37, 1.73, 2.22)
"""Shear modulus of natural rubber. [MPa]"""

COMPRESSION_FACTOR = (0.93, 0.89, 0.85, 0.80, 0.73, 0.64, 0.57, 0.54, 0.53, 0.52)
"""Compression factor k of natural rubber. [-]"""

BULK_MPA = (1000.0, 1000.0, 1000.0, 1000.0, 1030.0, 1090.0, 1150.0, 1210.0, 1270.0, 1330.0)
"""Bulk modulus of natural rubber. [MPa]"""

TABLE_SOURCE = (
    "from memory; at hardness 65 and 75, k and (within 3 %) Young's modulus agree "
    'with a one-page note quoting "Designing with Rubber"'
)
"""Where the four rows come from."""


def young_modulus(hardness: ArrayLike) -> Floats:
    """Young's modulus of natural rubber, from the table.

    Parameters
    ----------
    hardness : array_like
        IRHD or Shore A, 30 to 75. [-]

    Returns
    -------
    numpy.ndarray
        Young's modulus at small strain, straight lines between rows. [Pa]

    Raises
    ------
    OutOfRangeError
        If a hardness is outside the table.

    Notes
    -----
    Source: from memory, as said in ``TABLE_SOURCE``.

    Examples
    --------
    >>> round(float(young_modulus(60)) / 1e6, 2)
    4.45
    """
    return _from_table(hardness, YOUNG_MPA) * 1e6


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
    Source: from memory, as said in ``TABLE_SOURCE``.

    Examples
    --------
    >>> round(float(shear_modulus(60)) / 1e6, 2)
    1.06
    """
    return _from_table(hardness, SHEAR_MPA) * 1e6


def compression_factor(hardness: ArrayLike) -> Floats:
    """Compression factor k: how much a bonded shape stiffens rubber in compression.

    Parameters
    ----------
    hardness : array_like
        IRHD or Shore A, 30 to 75. [-]

    Returns
    -------
    numpy.ndarray
        k, straight lines between rows. [-]

    Raises
    ------
    OutOfRangeError
        If a hardness is outside the table.

    Notes
    -----
    Source: from memory, as said in ``TABLE_SOURCE``.

    Examples
    --------
    >>> compression_factor([60, 65]).tolist()
    [0.57, 0.54]
    """
    return _from_table(hardness, COMPRESSION_FACTOR)


def bulk_modulus(hardness: ArrayLike) -> Floats:
    """Bulk modulus of natural rubber, from the table.

    Parameters
    ----------
    hardness : array_like
        IRHD or Shore A, 30 to 75. [-]

    Returns
    -------
    numpy.ndarray
        Bulk modulus, straight lines between rows. [Pa]

    Raises
    ------
    OutOfRangeError
        If a hardness is outside the table.

    Notes
    -----
    Source: from memory, as said in ``TABLE_SOURCE``.

    Examples
    --------
    >>> float(bulk_modulus(60)) / 1e6
    1150.0
    """
    return _from_table(hardness, BULK_MPA) * 1e6


def gent_modulus(hardness: ArrayLike) -> Floats:
    """Young's modulus by Gent's relation between hardness and modulus.

    Parameters
    ----------
    hardness : array_like
        Shore A, 30 to 80. [-]

    Returns
    -------
    numpy.ndarray
        0.0981 (56 + 7.62336 H) / (0.137505 (254 - 2.54 H)) in MPa, given in pascals. [Pa]

    Raises
    ------
    OutOfRangeError
        If a hardness is outside its range.

    Notes
    -----
    Source: Gent 1958, abstract, with the formula as coded in three unrelated public files.

    Examples
    --------
    >>> (gent_modulus([40, 60, 80]) / 1e6).round(3).tolist()
    [1.69, 3.605, 9.351]
    """
    shore = between("rubber hardness", hardness, "Shore A", 30.0, 80.0)
    return 0.0981e6 * (56.0 + 7.62336 * shore) / (0.137505 * (254.0 - 2.54 * shore))


def rival_modulus(hardness: ArrayLike) -> Floats:
    """Young's modulus by a logarithmic fit, to show how far authorities differ.

    Parameters
    ----------
    hardness : array_like
        Shore A, 30 to 80. [-]

    Returns
    -------
    numpy.ndarray
        10^(0.0235 H - 0.6403) in MPa, given in pascals. [Pa]

    Raises
    ------
    OutOfRangeError
        If a hardness is outside its range.

    Notes
    -----
    Source: a public page with the log10 fit.

    Examples
    --------
    >>> round(float(rival_modulus(60)) / 1e6, 2)
    5.88
    """
    shore = between("rubber hardness", hardness, "Shore A", 30.0, 80.0)
    return np.asarray(10.0 ** (0.0235 * shore - 0.6403) * 1e6)


def _from_table(hardness: ArrayLike, row: tuple[float, ...]) -> Floats:
    shore = between("rubber hardness", hardness, "IRHD", HARDNESS[0], HARDNESS[-1])
    return np.asarray(np.interp(shore, HARDNESS, row))
