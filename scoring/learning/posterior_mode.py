"""Where a Poisson likelihood with Gaussian priors and lower bounds is highest."""

from dataclasses import dataclass, field
from functools import cached_property

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
CURVATURE_HOLDS = 0.1
"""A curvature serves for another step, if that is so much shorter than the last. Ours. [-]"""


@dataclass(frozen=True)
class _Rows:
    """What a point makes of each row."""

    log_ratio: Floats
    expected: Floats

    @cached_property
    def mean(self) -> Floats:
        """Failures [-] expected of each row."""
        mean: Floats = self.expected * np.exp(self.log_ratio)
        return mean


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
    _last: dict[bytes, _Rows] = field(default_factory=dict, init=False, repr=False, compare=False)

    def log_ratio(self, point: Floats) -> Floats:
        """Return log(learned over prior hazard) [-] of each row, shape (n_rows,)."""
        return self._rows(point).log_ratio

    def longest_move(self, point: Floats, towards: Floats) -> float:
        """Return how far [-] the way to another point moves the ``log_ratio`` of any row.

        The rows of the other point are kept: who goes all the way multiplies nothing again.
        """
        moves = np.asarray(self.design @ (self.scale * (towards - point)))
        self._keep(towards, self.log_ratio(point) + moves)
        return float(np.abs(moves).max(initial=0.0))

    def pull(self, point: Floats) -> Floats:
        """Return the slope [-] that the prior alone has at a point, shape (n_columns,)."""
        return point if self.precision is None else self.precision @ point

    def objective(self, point: Floats) -> tuple[float, float]:
        """Return the objective, and the size of its terms, which bounds its rounding [-]."""
        rows = self._rows(point)
        with np.errstate(over="ignore", invalid="ignore"):  # a step too far is refused below
            total = float(rows.mean.sum())
        pull = 0.5 * float(point @ self.pull(point))
        fit = float(self.events @ rows.log_ratio)
        return total - fit + pull, total + abs(fit) + pull

    def residual(self, point: Floats) -> Floats:
        """Return failures expected less those that there were [-], shape (n_rows,)."""
        return self._rows(point).mean - self.events

    def gradient(self, point: Floats) -> Floats:
        """Return the slope [-] of the objective, shape (n_columns,)."""
        of_rows = self.scale * column_sums(self.design, self.residual(point))
        return np.asarray(of_rows + self.pull(point))

    def hessian(self, point: Floats, *, rough: bool = False) -> Floats:
        """Return the curvature [-] of the objective, shape (n_columns, n_columns)."""
        gram = gram_of(self.design, self._rows(point).mean, rough=rough)
        own = np.eye(len(point)) if self.precision is None else self.precision
        return gram * np.outer(self.scale, self.scale) + own

    def _rows(self, point: Floats) -> _Rows:
        """Return what a point makes of the rows: objective, slope and curvature begin with it."""
        kept = self._last.get(point.tobytes())
        return kept or self._keep(point, np.asarray(self.design @ (self.scale * point)))

    def _keep(self, point: Floats, log_ratio: Floats) -> _Rows:
        """Keep the rows of a point, and of the one before, which a cut step begins at."""
        for key in list(self._last)[:-1]:
            del self._last[key]
        self._last[point.tobytes()] = rows = _Rows(log_ratio, self.expected)
        return rows


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


@dataclass(frozen=True)
class Highest:
    """Where the posterior is highest, and nothing of what it is like around.

    Attributes
    ----------
    point, n_iterations, converged
        As of ``Mode``.
    """

    point: Floats
    n_iterations: int
    converged: bool


def posterior_mode(
    problem: PoissonProblem, *, max_iter: int, tol: float, start: Floats | None = None
) -> Mode:
    """Find the mode, and what the posterior is like there.

    Parameters
    ----------
    problem, max_iter, tol, start
        As for ``highest_point``.

    Returns
    -------
    Mode

    Examples
    --------
    >>> one = np.ones(1)
    >>> alone = PoissonProblem(one[:, None], 2 * one, one, 1000 * one, -np.inf * one)
    >>> found = posterior_mode(alone, max_iter=50, tol=1e-9)
    >>> round(float(np.exp(1000 * found.point[0])), 5)  # two failures where one was expected
    2.0
    """
    found = highest_point(problem, max_iter=max_iter, tol=tol, start=start)
    gradient, hessian = problem.gradient(found.point), problem.hessian(found.point)
    held = (found.point <= problem.floor) & (gradient > 0)
    return Mode(found.point, held, gradient, hessian, found.n_iterations, found.converged)


def highest_point(
    problem: PoissonProblem, *, max_iter: int, tol: float, start: Floats | None = None
) -> Highest:
    """Find the mode by a projected Newton method.

    Parameters
    ----------
    problem : PoissonProblem
        What to minimise; strictly convex, so there is one answer.
    max_iter : int
        Most steps. [-]
    tol : float
        The step that is the last is no longer, in posterior deviations. [-]
    start : ndarray, shape (n_columns,), optional
        Where to begin, over prior deviations; by default at no correction. The answer is the same.

    Returns
    -------
    Highest

    Notes
    -----
    Columns near their bound that press against it move by themselves, the others by a Newton step;
    every step is then cut off at the bounds (projected Newton, Bertsekas 1982, from memory). Steps
    need the curvature in single precision only, and one curvature serves as long as each step is a
    tenth of the one before; where they end, all is worked out in double.
    """
    point = np.maximum(0.0 if start is None else start, problem.floor)
    hessian: Floats | None = None
    converged, iterations, longest = False, 0, 0.0
    while not converged and iterations < max_iter:
        iterations += 1
        gradient = problem.gradient(point)
        way = None if hessian is None else _way_from(problem, point, gradient, hessian)
        if way is None or way.gain > longest:
            hessian = problem.hessian(point, rough=True)
            way = _way_from(problem, point, gradient, hessian)
        converged = way.gain <= tol**2
        reached = way.to if converged else _better_point(problem, point, gradient, way)
        longest = way.gain * CURVATURE_HOLDS**2 if (reached == way.to).all() else 0.0
        point = reached
    return Highest(point, iterations, converged)


@dataclass(frozen=True)
class _Way:
    """Where a Newton step leads.

    Attributes
    ----------
    step : ndarray, shape (n_columns,)
        The step, before it is cut off at the bounds. [-]
    pressing : ndarray of bool, shape (n_columns,)
        Which columns press against a bound that is near.
    to : ndarray, shape (n_columns,)
        Its end. [-]
    gain : float
        What it would bring if the objective were straight: the square of its length in posterior
        deviations. [-]
    """

    step: Floats
    pressing: NDArray[np.bool_]
    to: Floats
    gain: float


def _way_from(problem: PoissonProblem, point: Floats, gradient: Floats, hessian: Floats) -> _Way:
    step, pressing = _newton_step(problem, point, gradient, hessian)
    whole = np.maximum(point + step, problem.floor)
    return _Way(step, pressing, whole, _predicted_gain(point, whole, step, gradient, pressing))


def _better_point(problem: PoissonProblem, point: Floats, gradient: Floats, way: _Way) -> Floats:
    """Halve a step until it brings a fair share of what it promised."""
    value, size = problem.objective(point)
    step = _first_fraction(problem, point, way.to) * way.step
    while True:
        reached = np.maximum(point + step, problem.floor)
        gain = _predicted_gain(point, reached, step, gradient, way.pressing)
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


def _first_fraction(problem: PoissonProblem, point: Floats, towards: Floats) -> float:
    """Return the share of a way to try first, so that no hazard runs away."""
    longest = problem.longest_move(point, towards)
    return min(1.0, LONGEST_STEP / longest) if longest > 0 else 1.0
