"""How far the coefficients may lie from the mode of their posterior."""

import math
from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import ArrayLike

from scoring.learning.posterior_mode import Mode
from scoring.learning.weighted_gram import Floats

SERIES_FROM = 35.0
"""Pressure from which the series is nearer than the difference of large numbers. Ours. [-]"""


@dataclass(frozen=True)
class Spread:
    """Two covariances of the coefficients, in units of their prior deviations.

    Attributes
    ----------
    laplace : ndarray, shape (n_columns, n_columns)
        From the curvature at the mode. [-]
    sandwich : ndarray, shape (n_columns, n_columns)
        From the failures as they really scatter from group to group. [-]
    """

    laplace: Floats
    sandwich: Floats


def posterior_spread(mode: Mode, scores: Floats, of_prior: Floats | None = None) -> Spread:
    """Work out both covariances.

    Parameters
    ----------
    mode : Mode
        The highest point of the posterior.
    scores : ndarray, shape (n_groups, n_columns)
        Each group's sum of ``x (d - m exp(x b))``, in units of prior deviations. [-]
    of_prior : ndarray, shape (n_columns, n_columns), optional
        Inverse ``Q`` of the prior's correlations; by default 1. [-]

    Returns
    -------
    Spread

    Notes
    -----
    Free columns: ``V``, the inverse of the curvature, and ``V (sum of g g' + Q) V``. A column at
    its bound is not known to lie there: it keeps the mean square distance from the bound of the
    truncated Gaussian that its pressure and its curvature make, and the free columns follow it.
    Without pressure that is the variance of a free column, so that no interval jumps when a bound
    begins to hold. Several held columns are taken as independent of each other.
    """
    free, held = ~mode.held, mode.held
    inverse = np.linalg.inv(mode.hessian[np.ix_(free, free)])
    coupling = mode.hessian[np.ix_(free, held)]
    directions = np.zeros((len(held), int(held.sum())))  # one for each held column
    directions[held] = np.eye(int(held.sum()))
    directions[free] = -inverse @ coupling
    precision = np.diag(mode.hessian)[held] + np.einsum("ij,ij->j", coupling, directions[free])
    square = square_distance_from_bound(mode.gradient[held], precision)
    bread = (directions * np.sqrt(square / precision)) @ directions.T
    laplace = (directions * square) @ directions.T
    for covariance in (bread, laplace):
        covariance[np.ix_(free, free)] += inverse
    meat = scores.T @ scores + (np.eye(len(held)) if of_prior is None else of_prior)
    return Spread(laplace, bread @ meat @ bread)


def square_distance_from_bound(pressure: ArrayLike, precision: ArrayLike) -> Floats:
    r"""Mean square distance from a bound of a density ``exp(-pressure x - precision x^2 / 2)``.

    Parameters
    ----------
    pressure : array_like
        Slope of minus the log density at the bound, not below 0. [1/x]
    precision : array_like
        Its curvature, above 0. [1/x²]

    Returns
    -------
    ndarray
        :math:`(1 + a^2 - a\,\varphi(a) / \Phi(-a)) / precision`, a = pressure / sqrt(precision):
        1 / precision without pressure, 2 / pressure² under a high one. [x²]

    Notes
    -----
    Source: moments of the truncated Gaussian, textbook.

    Examples
    --------
    >>> square_distance_from_bound([0.0, 1.0, 1e6], 4.0).round(4)
    array([0.25  , 0.1699, 0.    ])
    """
    scale = np.asarray(precision, dtype=np.float64)
    relative = np.asarray(pressure, dtype=np.float64) / np.sqrt(scale)
    scaled_tail = _scaled_tail(np.minimum(relative, SERIES_FROM) / np.sqrt(2))
    hazard = np.sqrt(2 / np.pi) / scaled_tail
    near = 1 + relative**2 - relative * hazard
    far_from_zero = np.maximum(relative, SERIES_FROM) ** -2
    far = far_from_zero * (2 - far_from_zero * (10 - far_from_zero * (74 - 706 * far_from_zero)))
    return np.asarray(np.where(relative < SERIES_FROM, near, far) / scale)


@partial(np.vectorize, otypes=[float])
def _scaled_tail(value: float) -> float:
    """Return exp(x²) erfc(x) [-], x from 0 to 25; of few values: to import SciPy takes longer."""
    return math.exp(value**2) * math.erfc(value)
