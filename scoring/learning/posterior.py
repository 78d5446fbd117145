"""Coefficients that correct a prior hazard, and how well the failures know them."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from threadpoolctl import threadpool_limits

from scoring.learning.column_prior import ColumnPrior
from scoring.learning.design_in_parts import DesignInParts, sums_of_groups
from scoring.learning.posterior_mode import PoissonProblem, posterior_mode
from scoring.learning.posterior_spread import posterior_spread
from scoring.learning.weighted_gram import Design, Floats, is_sparse

MOST_STEPS = 100
"""Newton steps before a fit gives up. Ours. [-]"""
SHORTEST_STEP = 1e-9
"""A fit ends when a further step would be shorter, in posterior deviations. Ours. [-]"""


@dataclass(frozen=True)
class Posterior:
    """What failures say of the coefficients of a log-linear correction.

    Attributes
    ----------
    coefficients : ndarray, shape (n_columns,)
        Where the posterior is highest. [-]
    held : ndarray of bool, shape (n_columns,)
        Which lie at their lower bound and press against it. [-]
    scale : ndarray, shape (n_columns,)
        Prior deviations. [-]
    laplace, sandwich : ndarray, shape (n_columns, n_columns)
        Covariances, from the curvature and from how groups really scatter. [-]
    events : float
        Failures learned from. [-]
    expected : float
        Failures that the prior hazard expected of the same exposure. [-]
    n_steps : int
        Newton steps.
    converged : bool
        Whether the fit ended before it gave up.
    before : ColumnPrior, optional
        What was believed before, where that is more than ``scale`` about no correction.
    """

    coefficients: Floats
    held: NDArray[np.bool_]
    scale: Floats
    laplace: Floats
    sandwich: Floats
    events: float
    expected: float
    n_steps: int
    converged: bool
    before: ColumnPrior | None = None

    def log_ratio(self, design: Design) -> Floats:
        """Return log(learned over prior hazard) [-] of each row, shape (n_rows,)."""
        return np.asarray(design @ self.coefficients)

    def log_spread(self, design: Design) -> Floats:
        """Return the standard deviation of that logarithm [-], the larger of the two."""
        both = (row_variances(design, spread) for spread in (self.laplace, self.sandwich))
        return np.sqrt(np.maximum(*both))

    def share_learned(self, design: Design) -> Floats:
        """Return how much of the prior's variance the failures took away [-], 0 to 1."""
        covariance = np.diag(self.scale**2) if self.before is None else self.before.covariance
        prior = row_variances(design, covariance)
        left = row_variances(design, self.laplace)
        return 1 - np.divide(left, prior, out=np.ones_like(left), where=prior > 0)


def fit_posterior(  # noqa: PLR0913 - a problem has its parts
    design: Design | DesignInParts,
    events: Floats,
    expected: Floats,
    *,
    scale: Floats,
    floor: Floats,
    group: NDArray[np.int64],
    start: Floats | None = None,
    before: ColumnPrior | None = None,
    max_iter: int = MOST_STEPS,
    tol: float = SHORTEST_STEP,
) -> Posterior:
    """Find the coefficients at which the posterior is highest, and its spread there.

    Parameters
    ----------
    design : ndarray, sparse array or DesignInParts, shape (n_rows, n_columns)
        What may explain failures. [-]
    events : ndarray, shape (n_rows,)
        Failures of each row. [-]
    expected : ndarray, shape (n_rows,)
        Failures that the prior hazard expects. [-]
    scale, floor : ndarray, shape (n_columns,)
        Prior deviations, above 0, and least coefficients. [-]
    group : ndarray of int, shape (n_rows,)
        Unit of each row, from 0: rows of one may share a cause.
    start : ndarray, shape (n_columns,), optional
        Coefficients to begin at. [-]
    before : ColumnPrior, optional
        What is believed beforehand, of all columns, with ``scale`` its deviations; by default that
        each lies about 0 by itself.
    max_iter : int
        Most Newton steps.
    tol : float
        Shortest step, in posterior deviations. [-]

    Returns
    -------
    Posterior

    Notes
    -----
    On one thread: tall, narrow products gain little from more, and lose much where other work
    keeps the cores busy.

    Examples
    --------
    Six failures where nine were expected, one column that every row shares:

    >>> six = fit_posterior(
    ...     np.ones((1, 1)), np.array([6.0]), np.array([9.0]), scale=np.array([0.5]),
    ...     floor=np.array([-np.inf]), group=np.array([0]),
    ... )
    >>> np.exp(six.coefficients).round(3)
    array([0.778])
    """
    centre, about = np.zeros(len(scale)), expected
    precision: Floats | None = None
    if before is not None:
        centre = before.mean
        precision = np.asarray(np.linalg.inv(before.covariance / np.outer(scale, scale)))
        about = expected * np.exp(np.asarray(design @ centre))
    problem = PoissonProblem(design, events, about, scale, (floor - centre) / scale, precision)
    with threadpool_limits(limits=1, user_api="blas"):
        first = None if start is None else (start - centre) / scale
        mode = posterior_mode(problem, max_iter=max_iter, tol=tol, start=first)
        residual = events - about * np.exp(problem.log_ratio(mode.point))
        scores = sums_of_groups(design, residual, group) * scale
        spread = posterior_spread(mode, scores, precision)
    back = np.outer(scale, scale)
    return Posterior(
        coefficients=np.where(mode.held, floor, np.maximum(centre + scale * mode.point, floor)),
        held=mode.held,
        scale=scale,
        laplace=spread.laplace * back,
        sandwich=spread.sandwich * back,
        events=float(events.sum()),
        expected=float(expected.sum()),
        n_steps=mode.n_iterations,
        converged=mode.converged,
        before=before,
    )


def row_variances(design: Design, covariance: Floats) -> Floats:
    """Return x' C x [-] of each row x, shape (n_rows,)."""
    if (
        not is_sparse(design) and len(design) == 1
    ):  # which BLAS would multiply in another order than several
        return row_variances(np.repeat(design, 2, axis=0), covariance)[:1]
    product = design @ covariance
    if is_sparse(design):
        return np.asarray(design.multiply(product).sum(axis=1)).ravel()
    return np.asarray(np.einsum("ij,ij->i", design, product))
