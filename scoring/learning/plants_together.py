"""What several plants say together of the next one: common effects, and how far plants differ."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from scoring.learning.column_prior import ColumnPrior
from scoring.learning.covariates import PARTS, Covariates
from scoring.learning.plant_share import PlantShare

Floats = NDArray[np.float64]

MOST_USUAL_SPREAD = 0.3
LEVEL_SPREAD = 0.7
"""Scale of the half-normal prior of how far plants differ: of each coefficient, and of the level;
planning values of ours. [-]"""

POINTS = 200
"""Points on which the mean of a spread is worked out. Ours. [-]"""


def next_plant(columns: Covariates, shares: Sequence[PlantShare]) -> ColumnPrior:
    r"""Return what is to be expected of a plant that none of the shares is of.

    Parameters
    ----------
    columns : Covariates
        Columns centred on the handbook's shares.
    shares : sequence of PlantShare
        What each plant says of those that pass from plant to plant.

    Returns
    -------
    ColumnPrior
        Of these columns, no mean below its bound.

    Notes
    -----
    Of each coefficient the plants' :math:`b_p \sim N(\mu, \tau^2)` about what is common,
    :math:`\mu \sim N(0, s^2 - \tau^2)` about the handbook: so a plant of which nothing is known is
    as unsure as the handbook says, and plants that differ more than that teach nothing. What a
    plant says of :math:`\mu` has the covariance of its likelihood, widened by :math:`\tau^2`
    (normal hierarchical model, textbook); the next plant's prior is the posterior of :math:`\mu`,
    widened by :math:`\tau^2` too. Source of the idea: Bull and others, arXiv 2204.12404 (abstract).
    """
    scale = columns.handbook_scale[columns.passes]
    part = columns.part_of_column[columns.passes]
    widest = np.where(part == PARTS.index("level"), LEVEL_SPREAD, MOST_USUAL_SPREAD)
    spread = mean_spread(shares, scale, widest)
    return given_spread(shares, scale, spread, columns.floor[columns.passes])


def given_spread(
    shares: Sequence[PlantShare], scale: Floats, spread: Floats, floor: Floats
) -> ColumnPrior:
    """Return the same where it is known how far plants differ.

    Parameters
    ----------
    shares : sequence of PlantShare
        What each plant says.
    scale, spread : ndarray, shape (n_columns,)
        How unsure the handbook is of a plant, and how far plants differ, which is less. [-]
    floor : ndarray, shape (n_columns,)
        Least means. [-]

    Returns
    -------
    ColumnPrior
    """
    precision, score = np.diag(1 / (scale**2 - spread**2)), np.zeros(len(scale))
    for one in shares:
        narrowed = np.linalg.inv(np.eye(len(scale)) + one.precision * spread**2)
        precision += narrowed @ one.precision
        score += narrowed @ one.score
    common = np.asarray(np.linalg.inv((precision + precision.T) / 2))
    covariance: Floats = (common + common.T) / 2 + np.diag(spread**2)
    return ColumnPrior(np.maximum(common @ score, floor), covariance)


def mean_spread(shares: Sequence[PlantShare], scale: Floats, widest: Floats) -> Floats:
    """Return how far plants differ in each coefficient: the mean of its posterior.

    Parameters
    ----------
    shares : sequence of PlantShare
        What each plant says.
    scale : ndarray, shape (n_columns,)
        How unsure the handbook is: plants differ by less. [-]
    widest : ndarray, shape (n_columns,)
        Scale of its half-normal prior. [-]

    Returns
    -------
    ndarray, shape (n_columns,)
        Each by itself, the other coefficients as the handbook has them: few plants often show no
        spread at all, and its mode would be 0. [-]
    """
    grid = (np.arange(POINTS)[:, np.newaxis] + 0.5) / POINTS * scale
    square = grid**2
    log_density = -0.5 * square / widest**2
    precision, score = np.zeros_like(grid), np.zeros_like(grid)
    for one in shares:
        after = np.linalg.inv(one.precision + np.diag(scale**-2.0))
        own = np.maximum(1 / np.diag(after) - scale**-2.0, 0.0)
        slope = (after @ one.score) / np.diag(after)
        wide = 1 + own * square
        log_density += 0.5 * slope**2 * square / wide - 0.5 * np.log(wide)
        precision += own / wide
        score += slope / wide
    common = scale**2 - square
    wide = 1 + common * precision
    log_density += 0.5 * score**2 * common / wide - 0.5 * np.log(wide)
    density = np.exp(log_density - log_density.max(axis=0))
    mean: Floats = (density * grid).sum(axis=0) / density.sum(axis=0)
    return mean
