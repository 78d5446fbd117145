"""Where a Poisson likelihood with Gaussian priors and lower bounds is highest."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from scoring.learning.design_in_parts import DesignInParts, column_sums, gram_of
from scoring.learning.weighted_gram import Design, Floats

LONGEST_STEP = 4.0
"""Most that one step may change a logarithm of a hazard: no step overflows. Ours. [-]"""
NEAR_A_BOUND = 1e-3
"""How near a column is to its bound when it is led along it, in prior deviations. Ours. [-]"""
LEAST_GAIN = 1e-4
"""Share of the predicted gain that a step has to bring; customary, from memory. [-]"""
ROUNDING = 1e-13
"""Relative error that the objective is trusted to. Ours. [-]"""


@dataclass(frozen=True)
class PoissonProblem:
    r"""Minus the log posterior of coefficients, in units of their prior deviations.

    .. math:: J(t) = \sum_i \{m_i e^{x_i S t} - d_i x_i S t\} + \tfrac12 t'Qt, \quad S = diag(s)

    Attributes
    ----------
    design : ndarray, sparse array or DesignInParts, shape (n_rows, n_columns)
        The rows ``x``. [-]
    events : ndarray, shape (n_rows,)
        Failures ``d`` of each row, not below 0. [-]
    expected : ndarray, shape (n_rows,)
        Failures ``m`` expected before anything was learned, not below 0. [-]
    scale : ndarray, shape (n_columns,)
        Prior deviations ``s``, above 0. [-]
    floor : ndarray, shape (n_columns,)
        Lower bounds of ``t = b / s``; minus infinity for none. [-]
    precision : ndarray, shape (n_columns, n_columns), optional
        Inverse ``Q`` of the prior's correlations; by default no column bears on another. [-]
    """

    design: Design | DesignInParts
    events: Floats
    expected: Floats
    scale: Floats
    floor: Floats
    precision: Floats | None = None
    _last: dict[bytes, Floats] = field(default_factory=dict, repr=False, compare=False)

    def log_ratio(self, point: Floats) -> Floats:
        """Return log(learned over prior hazard) [-] of each row, shape (n_rows,).

        Kept for the point asked for last: objective, gradient and curvature all begin with it.
        """
        key = point.tobytes()
        if key not in self._last:
            self._last.clear()
            self._last[key] = np.asarray(self.design @ (self.scale * point))
        return self._last[key]

    def pull(self, point: Floats) -> Floats:
        """Return the slope [-] that the prior alone has at a point, shape (n_columns,)."""
        return point if self.precision is None else self.precision @ point

    def objective(self, point: Floats) -> tuple[float, float]:
        """Return the objective, and the size of its terms, which bounds its rounding [-]."""
        log_ratio = self.log_ratio(point)
        with np.errstate(over="ignore", invalid="ignore"):  # a step too far is refused below
            total = float(self.expected @ np.exp(log_ratio))
        pull = 0.5 * float(point @ self.pull(point))
        fit = float(self.events @ log_ratio)
        return total - fit + pull, total + abs(fit) + pull

    def gradient(self, point: Floats) -> Floats:
        """Return the slope [-] of the objective, shape (n_columns,)."""
        residual = self.expected * np.exp(self.log_ratio(point)) - self.events
        return np.asarray(self.scale * column_sums(self.design, residual) + self.pull(point))

    def hessian(self, point: Floats, *, rough: bool = False) -> Floats:
        """Return the curvature [-] of the objective, shape (n_columns, n_columns)."""
        mean = self.expected * np.exp(self.log_ratio(point))
        gram = gram_of(self.design, mean, rough=rough)
        own = np.eye(len(point)) if self.precision is None else self.precision
        return gram * np.outer(self.scale, self.scale) + own


@dataclass(frozen=True)
class Mode:
    """The highest point of the posterior.

    Attributes
    ----------
    point : ndarray, shape (n_columns,)
        Coefficients over their prior deviations. [-]
    held : ndarray of bool, shape (n_columns,)
        Whether the lower bound holds the column. [-]
    gradient : ndarray, shape (n_columns,)
        Slope of the objective there: 0 where free, the bound's pressure where held. [-]
    hessian : ndarray, shape (n_columns, n_columns)
        Curvature there. [-]
    n_iterations : int
        Steps looked at, at least 1. [-]
    converged : bool
        Whether the next step would be within the tolerance. [-]
    """

    point: Floats
    held: NDArray[np.bool_]
    gradient: Floats
    hessian: Floats
    n_iterations: int
    converged: bool


def posterior_mode(
    problem: PoissonProblem, *, max_iter: int, tol: float, start: Floats | None = None
) -> Mode:
    """Find the mode by a projected Newton method.

    Parameters
    ----------
    problem : PoissonProblem
        What to minimise; strictly convex, so there is one answer.
    max_iter : int
        Most steps. [-]
    tol : float
        Longest step left out, in posterior deviations. [-]
    start : ndarray, shape (n_columns,), optional
        Where to begin, over prior deviations; by default at no correction. The answer is the same.

    Returns
    -------
    Mode

    Notes
    -----
    Columns near their bound that press against it move by themselves, the others by a Newton step;
    every step is then cut off at the bounds (projected Newton, Bertsekas 1982, from memory). Steps
    need the curvature in single precision only; where they end, all is worked out in double.

    Examples
    --------
    >>> one = np.ones(1)
    >>> alone = PoissonProblem(one[:, None], 2 * one, one, 1000 * one, -np.inf * one)
    >>> found = posterior_mode(alone, max_iter=50, tol=1e-9)
    >>> round(float(np.exp(1000 * found.point[0])), 5)  # two failures where one was expected
    2.0
    """
    point = np.maximum(0.0 if start is None else start, problem.floor)
    converged, iterations = False, 0
    while not converged and iterations < max_iter:
        iterations += 1
        gradient, hessian = problem.gradient(point), problem.hessian(point, rough=True)
        step, pressing = _newton_step(problem, point, gradient, hessian)
        whole = np.maximum(point + step, problem.floor)
        converged = _predicted_gain(point, whole, step, gradient, pressing) <= tol**2
        if not converged:
            value = problem.objective(point)
            fraction = _first_fraction(problem, whole - point)
            point = _better_point(problem, (point, value), fraction * step, gradient, pressing)
    gradient, hessian = problem.gradient(point), problem.hessian(point)
    held = (point <= problem.floor) & (gradient > 0)
    return Mode(point, held, gradient, hessian, iterations, converged)


def _better_point(
    problem: PoissonProblem,
    start: tuple[Floats, tuple[float, float]],
    step: Floats,
    gradient: Floats,
    pressing: NDArray[np.bool_],
) -> Floats:
    """Halve a step until it brings a fair share of what it promised."""
    point, (value, size) = start
    while True:
        reached = np.maximum(point + step, problem.floor)
        gain = _predicted_gain(point, reached, step, gradient, pressing)
        reached_value, reached_size = problem.objective(reached)
        if reached_value <= value - LEAST_GAIN * gain + ROUNDING * (size + reached_size):
            return reached
        step = step / 2


def _newton_step(
    problem: PoissonProblem, point: Floats, gradient: Floats, hessian: Floats
) -> tuple[Floats, NDArray[np.bool_]]:
    """Return the step, and which columns press against a bound that is near."""
    moved = point - np.maximum(point - gradient, problem.floor)
    near = min(NEAR_A_BOUND, float(np.abs(moved).max(initial=0.0)))
    pressing = (point <= problem.floor + near) & (gradient > 0)
    free = ~pressing
    step = -gradient / hessian.diagonal()
    step[free] = -np.linalg.solve(hessian[np.ix_(free, free)], gradient[free])
    return step, pressing


def _predicted_gain(
    point: Floats, reached: Floats, step: Floats, gradient: Floats, pressing: NDArray[np.bool_]
) -> float:
    """Return what a step would bring if the objective were straight.

    For a whole Newton step it is the square of its length in posterior deviations.
    """
    free_gain = -float(gradient[~pressing] @ step[~pressing])
    return free_gain + float(gradient[pressing] @ (point - reached)[pressing])


def _first_fraction(problem: PoissonProblem, change: Floats) -> float:
    """Return the share of a change to try first, so that no hazard runs away."""
    moved = np.asarray(problem.design @ (problem.scale * change))
    longest = float(np.abs(moved).max(initial=0.0))
    return min(1.0, LONGEST_STEP / longest) if longest > 0 else 1.0
