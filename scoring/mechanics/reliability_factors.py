"""Life-modification factor a1 for a reliability above 90 %.

The table changed in 2007; the older one is still widespread, so each carries its edition.
"""

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.provenance import Provenance
from scoring.mechanics.validity_ranges import Floats, between

ISO_281_2007 = "ISO 281:2007"
BEFORE_2007 = "before 2007"

A1_TABLES: dict[str, dict[float, float]] = {
    ISO_281_2007: {
        90.0: 1.0,
        95.0: 0.64,
        96.0: 0.55,
        97.0: 0.47,
        98.0: 0.37,
        99.0: 0.25,
        99.2: 0.22,
        99.4: 0.19,
        99.6: 0.16,
        99.8: 0.12,
        99.9: 0.093,
        99.92: 0.087,
        99.94: 0.080,
        99.95: 0.077,
    },
    BEFORE_2007: {90.0: 1.0, 95.0: 0.62, 96.0: 0.53, 97.0: 0.44, 98.0: 0.33, 99.0: 0.21},
}
"""a1 by edition and reliability in per cent. [-]"""

A1_SOURCES: dict[str, tuple[Provenance, str]] = {
    ISO_281_2007: (
        Provenance.FROM_MEMORY,
        "90 to 99 %: two independent public code files; above 99 %: from memory",
    ),
    BEFORE_2007: (
        Provenance.PUBLISHED,
        "documentation page of an open calculator repository; 90 %: by definition",
    ),
}
"""Where each table comes from. [-]"""

_SLOPE = 1.5
_LEAST_LIFE = 0.05


def tabulated_factor(reliability_percent: ArrayLike, edition: str = ISO_281_2007) -> Floats:
    """Factor a1 as printed.

    Parameters
    ----------
    reliability_percent : array_like
        Reliability. [%]
    edition : str
        ``ISO 281:2007`` or ``before 2007``. [-]

    Returns
    -------
    numpy.ndarray
        a1; NaN between the printed reliabilities. [-]

    Raises
    ------
    KeyError
        If there is no table of that edition.

    Notes
    -----
    Source: as given in ``A1_SOURCES``.

    Examples
    --------
    >>> tabulated_factor([95.0, 95.5]).tolist()
    [0.64, nan]
    >>> tabulated_factor(95.0, "before 2007").tolist()
    0.62
    """
    table = A1_TABLES[edition]
    asked = np.asarray(reliability_percent, dtype=np.float64)
    found = np.full(asked.shape, np.nan)
    for percent, factor in table.items():
        found = np.where(np.isclose(asked, percent, rtol=0.0, atol=1e-6), factor, found)
    return found


def factor(reliability: ArrayLike) -> Floats:
    """Factor a1 for any reliability, by the formula behind the table of 2007.

    Parameters
    ----------
    reliability : array_like
        Share of bearings that reach the life, 0.9 to 0.9995. [-]

    Returns
    -------
    numpy.ndarray
        0.95 (ln(1/R) / ln(1/0.9))^(1/1.5) + 0.05. [-]

    Raises
    ------
    OutOfRangeError
        If a reliability is outside its range.

    Notes
    -----
    Source: from memory, three-parameter Weibull of slope 1.5; it gives the printed table of
    2007 within 0.006.

    Examples
    --------
    >>> factor([0.90, 0.95, 0.99]).round(3).tolist()
    [1.0, 0.638, 0.248]
    """
    return (1.0 - _LEAST_LIFE) * _scaled(reliability) + _LEAST_LIFE


def factor_before_2007(reliability: ArrayLike) -> Floats:
    """Factor a1 for any reliability, by the formula behind the table before 2007.

    Parameters
    ----------
    reliability : array_like
        Share of bearings that reach the life, 0.9 to 0.9995. [-]

    Returns
    -------
    numpy.ndarray
        (ln(1/R) / ln(1/0.9))^(1/1.5). [-]

    Raises
    ------
    OutOfRangeError
        If a reliability is outside its range.

    Notes
    -----
    Source: our own calculation, two-parameter Weibull of slope 1.5; it gives the printed table
    before 2007 within 0.004.

    Examples
    --------
    >>> factor_before_2007([0.95, 0.99]).round(2).tolist()
    [0.62, 0.21]
    """
    return _scaled(reliability)


def _scaled(reliability: ArrayLike) -> Floats:
    share = between("reliability", reliability, "", 0.9, 0.9995)
    return np.asarray((np.log(share) / np.log(0.9)) ** (1.0 / _SLOPE))
