"""The chance of a failure where so many are expected, units alike on paper not being alike."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from scoring.handbook.base_rates import UNLIKE_UNITS

Floats = NDArray[np.float64]

_NODES, _WEIGHTS = np.polynomial.hermite_e.hermegauss(15)
_SHARES = _WEIGHTS / _WEIGHTS.sum()
_TIMES_THE_MEAN = np.exp(UNLIKE_UNITS * _NODES - UNLIKE_UNITS**2 / 2)


def chance_of_failing(expected: ArrayLike) -> Floats:
    r"""Return the chance of at least one failure.

    .. math:: p = E[1 - \exp(-H X)], \quad \ln X \sim N(-s^2 / 2, s^2)

    Parameters
    ----------
    expected : array_like
        Expected failures ``H``, on average over units alike on paper, not below 0. [-]

    Returns
    -------
    ndarray
        0 to 1, rising with ``expected``. Never above ``1 - exp(-H)``: among units alike on paper
        the worst bring more of the failures, but each has its first one only once. [-]

    Notes
    -----
    Units alike on paper differ by the deviation ``s = UNLIKE_UNITS`` of the logarithm of their
    hazards: the mean over them of the Poisson chance, by Gauss-Hermite quadrature; both textbook.
    Within 1e-8 of the integral.

    Examples
    --------
    >>> chance_of_failing([0.0, 0.1, 1.0]).round(4)
    array([0.    , 0.0939, 0.589 ])
    """
    mean = np.asarray(expected, dtype=np.float64)
    chance: Floats = np.zeros(mean.shape)
    for share, times in zip(_SHARES, _TIMES_THE_MEAN, strict=True):
        chance -= share * np.expm1(-times * mean)
    return chance
