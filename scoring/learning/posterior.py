"""Coefficients that correct a prior hazard, and how well the failures know them."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from threadpoolctl import threadpool_limits

from scoring.learning.column_prior import ColumnPrior
from scoring.learning.design_in_parts import DesignInParts, sums_of_groups
from scoring.learning.posterior_mode import PoissonProblem, highest_point, posterior_mode
from scoring.learning.posterior_spread import posterior_spread
from scoring.learning.weighted_gram import Design, Floats, is_sparse

MOST_STEPS = 100
"""Newton steps before a fit gives up. Ours. [-]"""
SHORTEST_STEP = 1e-9
"""A fit ends with a step that is no longer, in posterior deviations. Ours. [-]"""
MANY_UNITS = 4_000
"""Of so many units every eighth is fitted first: there begins the fit of all. Ours."""
ONE_IN = 8
SHORT_STEP = 0.1
"""With what step that first fit ends, in posterior deviations of its own. Ours. [-]"""


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
        return self.spread_and_share(design)[0]

    def share_learned(self, design: Design) -> Floats:
        """Return how much of the prior's variance the failures took away [-], 0 to 1."""
        return self.spread_and_share(design)[1]

    def spread_and_share(self, design: Design) -> tuple[Floats, Floats]:
        """Return ``log_spread`` and ``share_learned``: both begin with one variance."""
        left = row_variances(design, self.laplace)
        spread = np.sqrt(np.maximum(left, row_variances(design, self.sandwich)))
        covariance = self.scale**2 if self.before is None else self.before.covariance
        prior = row_variances(design, covariance)
        return spread, 1 - np.divide(left, prior, out=np.ones_like(left), where=prior > 0)


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
    centred = _centred(design, events, expected, scale, floor, before)
    problem = centred.problem
    with threadpool_limits(limits=1, user_api="blas"):
        mode = posterior_mode(
            problem, max_iter=max_iter, tol=tol, start=_near(problem, centred.start(start))
        )
        scores = sums_of_groups(design, problem.residual(mode.point), group)
        scores *= -scale
        spread = posterior_spread(mode, scores, problem.precision)
    back = np.outer(scale, scale)
    return Posterior(
        coefficients=centred.coefficients(mode.point),
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


def fit_coefficients(  # noqa: PLR0913 - a problem has its parts
    design: Design | DesignInParts,
    events: Floats,
    expected: Floats,
    *,
    scale: Floats,
    floor: Floats,
    start: Floats | None = None,
    before: ColumnPrior | None = None,
) -> Floats:
    """Find the coefficients that ``fit_posterior`` does, without their spread.

    Parameters
    ----------
    design, events, expected, scale, floor, start, before
        As for ``fit_posterior``.

    Returns
    -------
    ndarray, shape (n_columns,)
        [-]

    Examples
    --------
    >>> fit_coefficients(
    ...     np.ones((1, 1)), np.array([6.0]), np.array([9.0]), scale=np.array([0.5]),
    ...     floor=np.array([-np.inf]),
    ... ).round(3)
    array([-0.251])
    """
    centred = _centred(design, events, expected, scale, floor, before)
    problem = centred.problem
    with threadpool_limits(limits=1, user_api="blas"):
        near = _near(problem, centred.start(start))
        found = highest_point(problem, max_iter=MOST_STEPS, tol=SHORTEST_STEP, start=near)
    return centred.coefficients(found.point)


def _near(problem: PoissonProblem, start: Floats | None) -> Floats | None:
    """Return a point near the highest: of many units that of some, fitted roughly."""
    design = problem.design
    if not isinstance(design, DesignInParts) or len(design.of_unit) < MANY_UNITS:
        return start
    some, rows = design.some_units(ONE_IN)
    part = replace(
        problem, design=some, events=problem.events[rows], expected=problem.expected[rows]
    )
    begun = _near(part, start)
    return highest_point(part, max_iter=MOST_STEPS, tol=SHORT_STEP, start=begun).point


@dataclass(frozen=True)
class _Centred:
    """A problem in which 0 is what was believed before."""

    problem: PoissonProblem
    centre: Floats
    floor: Floats

    def start(self, coefficients: Floats | None) -> Floats | None:
        """Return where coefficients lie in the problem."""
        return None if coefficients is None else (coefficients - self.centre) / self.problem.scale

    def coefficients(self, point: Floats) -> Floats:
        """Return the coefficients of a point of the problem; at a bound they are the bound."""
        back = np.maximum(self.centre + self.problem.scale * point, self.floor)
        return np.where(point <= self.problem.floor, self.floor, back)


def _centred(  # noqa: PLR0913, PLR0917 - a problem has its parts
    design: Design | DesignInParts,
    events: Floats,
    expected: Floats,
    scale: Floats,
    floor: Floats,
    before: ColumnPrior | None,
) -> _Centred:
    if before is None:
        problem = PoissonProblem(design, events, expected, scale, floor / scale)
        return _Centred(problem, np.zeros(len(scale)), floor)
    precision = np.asarray(np.linalg.inv(before.covariance / np.outer(scale, scale)))
    about = expected * np.exp(np.asarray(design @ before.mean))
    least = (floor - before.mean) / scale
    problem = PoissonProblem(design, events, about, scale, least, precision)
    return _Centred(problem, before.mean, floor)


def row_variances(design: Design, covariance: Floats) -> Floats:
    """Return x' C x [-] of each row x, shape (n_rows,); of C the diagonal will do."""
    if (
        not is_sparse(design) and len(design) == 1
    ):  # which BLAS would multiply in another order than several
        return row_variances(np.repeat(design, 2, axis=0), covariance)[:1]
    if is_sparse(design):
        product = design @ (np.diag(covariance) if covariance.ndim == 1 else covariance)
        return np.asarray(design.multiply(product).sum(axis=1)).ravel()
    product = design * covariance if covariance.ndim == 1 else design @ covariance
    return np.asarray(np.einsum("ij,ij->i", design, product))
