"""What the failures of one plant say of the coefficients that plants have in common."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scoring.learning.covariates import PARTS, Covariates, handbook_columns
from scoring.learning.learned import LearnedMode

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class PlantShare:
    r"""What the failures of one plant say by themselves, whatever was believed before.

    .. math:: \log L(b) = s'b - \tfrac12 b'Pb + const

    Attributes
    ----------
    score : ndarray, shape (n_columns,)
        The slope ``s`` at no correction, of the columns that pass from plant to plant. [-]
    precision : ndarray, shape (n_columns, n_columns)
        The curvature ``P``: 0 of what its failures say nothing of. [-]
    """

    score: Floats
    precision: Floats


def share_of(learned: LearnedMode) -> PlantShare:
    """Take out of what was learned what had been believed before.

    Parameters
    ----------
    learned : LearnedMode
        What was learned of one failure at one plant.

    Returns
    -------
    PlantShare
        Of columns centred on the handbook's shares.

    Notes
    -----
    A normal posterior over its normal prior is the likelihood. Sites are averaged over. A
    coefficient held at its bound is not known to lie there: nothing is said of it, so that it
    passes the prior's deviation, and of the others what they are beside it.
    """
    columns, posterior = learned.columns, learned.posterior
    passes = columns.passes
    free = ~posterior.held[passes]
    value = posterior.coefficients[passes]
    after = np.linalg.inv(posterior.laplace[np.ix_(passes, passes)])
    prior = columns.before
    before, expected = np.diag(columns.scale[passes] ** -2.0), np.zeros(len(value))
    if prior is not None:
        before = np.asarray(np.linalg.inv(prior.covariance[np.ix_(passes, passes)]))
        expected = prior.mean[passes]
    score, precision = np.zeros(len(value)), np.zeros_like(after)
    both = np.ix_(free, free)
    precision[both] = _no_less_than_nothing(after[both] - before[both])
    score[free] = after[both] @ value[free] - before[both] @ expected[free]
    turned = _to_handbook_shares(columns)
    return PlantShare(turned.T @ score, turned.T @ precision @ turned)


def _no_less_than_nothing(precision: Floats) -> Floats:
    """Return the nearest matrix that gives no sum of columns a precision below 0."""
    values, vectors = np.linalg.eigh((precision + precision.T) / 2)
    found: Floats = (vectors * np.maximum(values, 0.0)) @ vectors.T
    return found


def _to_handbook_shares(columns: Covariates) -> Floats:
    """Return coefficients of these columns as sums of those centred on the handbook's shares.

    A finding that is counted less another share moves the level of all who were seen.
    """
    size = int(columns.passes.sum())
    turned = np.eye(size)
    if not columns.level_alone:
        part = columns.part_of_column[columns.passes]
        findings = part == PARTS.index("findings")
        turned[-1, findings] = columns.share - handbook_columns(columns.mode).share
    return turned
