"""A handbook hazard corrected by the fleet's own failures."""

# ruff: noqa: N803 - every estimator of scikit-learn calls its rows X

import warnings
from typing import Self

import numpy as np
from numpy.typing import ArrayLike
from scipy import sparse
from sklearn.base import BaseEstimator, RegressorMixin
from sklearn.exceptions import ConvergenceWarning
from sklearn.utils import Tags
from sklearn.utils.validation import check_is_fitted, validate_data

from scoring.learning.given_values import column_values, group_numbers, row_values
from scoring.learning.poisson_deviance import poisson_deviance
from scoring.learning.posterior import fit_posterior
from scoring.learning.weighted_gram import Design, Floats


class HazardPosterior(RegressorMixin, BaseEstimator):
    r"""Poisson regression of failures about a prior hazard, each coefficient with a Gaussian prior.

    Minimises, over coefficients :math:`b_j \ge l_j`,

    .. math:: \sum_i \{e_i h_i \exp(x_i b + a) - d_i (x_i b + a)\}
              + \sum_j \frac{b_j^2}{2 s_j^2} + \frac{a^2}{2 s_a^2}

    with failures :math:`d`, exposure :math:`e`, prior hazard :math:`h`, prior deviations
    :math:`s` on an absolute scale (they do not grow with the number of rows, so that what was
    learned outweighs the prior as failures arrive) and lower bounds :math:`l`.

    Parameters
    ----------
    prior_scale : float or array_like, shape (n_features,), default 0.75
        Prior deviation of the coefficient of each column, above 0. [-]
    lower_bound : float or array_like, shape (n_features,), default no bound
        Least coefficient of each column; 0 for a finding that can never lower a risk. [-]
    level_scale : float or None, default 0.75
        Prior deviation of the level ``a``, which every row shares; None for no level (then the
        caller may bring a column of ones). [-]
    max_iter : int, default 100
        Most Newton steps. [-]
    tol : float, default 1e-9
        The fit ends when a further step would be shorter, in posterior deviations. [-]

    Attributes
    ----------
    coef_ : ndarray, shape (n_features,)
        Posterior mode of the coefficients. [-]
    level_ : float
        Posterior mode of the level; 0 without one. [-]
    held_ : ndarray of bool, shape (n_features,)
        Which coefficients lie at their lower bound and press against it. [-]
    posterior_ : Posterior
        All of it, the level last.
    covariance_ : ndarray, shape (n_coefficients, n_coefficients)
        Laplace covariance; the level, if there is one, comes last. [-]
    robust_covariance_ : ndarray, shape (n_coefficients, n_coefficients)
        Sandwich covariance, by groups. [-]
    events_ : float
        Failures learned from. [-]
    expected_ : float
        Failures that the prior hazard expected of the same exposure. [-]
    n_iter_ : int
        Newton steps. [-]
    n_features_in_, feature_names_in_
        As in every estimator of scikit-learn.

    Notes
    -----
    Coefficients act on the scale of their column: standardise columns, or give a scale to each.
    The default scales are planning values of ours; a level of 0.75 says that the handbook's rate is
    right within a factor of 3.4, 9 times in 10. The more failures a row has, the higher its hazard:
    the objective is convex, so that a failure more cannot lower the row's own ``x b``.

    Examples
    --------
    Six failures where the handbook expected nine:

    >>> fleet = HazardPosterior(level_scale=0.5).fit(
    ...     np.zeros((3, 1)), y=[1, 2, 3], exposure=[30.0, 30.0, 30.0], prior_hazard=0.1
    ... )
    >>> fleet.predict(np.zeros((1, 1)), prior_hazard=0.1).round(4)  # failures per unit-year
    array([0.0778])
    >>> fleet.log_hazard_spread(np.zeros((1, 1))).round(3)
    array([0.301])
    """

    def __init__(
        self,
        *,
        prior_scale: ArrayLike = 0.75,
        lower_bound: ArrayLike = -np.inf,
        level_scale: float | None = 0.75,
        max_iter: int = 100,
        tol: float = 1e-9,
    ) -> None:
        self.prior_scale = prior_scale
        self.lower_bound = lower_bound
        self.level_scale = level_scale
        self.max_iter = max_iter
        self.tol = tol

    def fit(
        self,
        X: Design,
        y: ArrayLike,
        exposure: ArrayLike | None = None,
        prior_hazard: ArrayLike | None = None,
        groups: ArrayLike | None = None,
    ) -> Self:
        """Learn from failures.

        Parameters
        ----------
        X : array_like or sparse, shape (n_rows, n_features)
            What was known of each stretch of a unit's time. [-]
        y : array_like, shape (n_rows,)
            Failures in it, not below 0. [-]
        exposure : array_like, shape (n_rows,), or float, default 1
            Its length, not below 0. [unit-year]
        prior_hazard : array_like, shape (n_rows,), or float, default 1
            Hazard by the handbook, not below 0. [1/unit-year]
        groups : array_like, shape (n_rows,), optional
            Rows of one group (a unit, a site) may share a cause; default, each row alone. [-]

        Returns
        -------
        HazardPosterior
            This one.

        Raises
        ------
        ValueError
            If shapes do not agree, a number is out of its range, or a row has a failure where none
            could happen.
        """
        rows, y = validate_data(
            self, X, y, accept_sparse="csr", dtype=np.float64, y_numeric=True, order="C"
        )
        events = np.asarray(y, dtype=np.float64)
        expected = row_values("exposure", exposure, len(events)) * row_values(
            "prior hazard", prior_hazard, len(events)
        )
        if (events < 0).any():
            raise ValueError("a number of failures is below 0")
        if (events[expected == 0] > 0).any():
            raise ValueError("a row has failures, but no exposure or no prior hazard")
        scale = self._scales(rows.shape[1])
        floor = np.full(len(scale), -np.inf)
        floor[: rows.shape[1]] = column_values("lower_bound", self.lower_bound, rows.shape[1])
        group = np.arange(len(events)) if groups is None else group_numbers(groups, len(events))
        found = fit_posterior(
            self._with_level(rows),
            events,
            expected,
            scale=scale,
            floor=floor,
            group=group,
            max_iter=self.max_iter,
            tol=self.tol,
        )
        if not found.converged:
            warnings.warn(
                f"no convergence in {self.max_iter} steps", ConvergenceWarning, stacklevel=2
            )
        self.posterior_ = found
        self.coef_ = found.coefficients[: rows.shape[1]]
        self.level_ = float(found.coefficients[rows.shape[1] :].sum())
        self.held_ = found.held[: rows.shape[1]]
        self.covariance_ = found.laplace
        self.robust_covariance_ = found.sandwich
        self.events_ = found.events
        self.expected_ = found.expected
        self.n_iter_ = found.n_steps
        return self

    def predict(self, X: Design, prior_hazard: ArrayLike | None = None) -> Floats:
        """Return the learned hazard.

        Parameters
        ----------
        X : array_like or sparse, shape (n_rows, n_features)
            What is known. [-]
        prior_hazard : array_like, shape (n_rows,), or float, default 1
            Hazard by the handbook, not below 0. [1/unit-year]

        Returns
        -------
        ndarray, shape (n_rows,)
            Prior hazard times what was learned. [1/unit-year]
        """
        rows = self._checked(X)
        log_ratio = np.asarray(rows @ self.coef_) + self.level_
        return row_values("prior hazard", prior_hazard, rows.shape[0]) * np.exp(log_ratio)

    def log_hazard_spread(self, X: Design) -> Floats:
        """Return the standard deviation of the logarithm of the learned hazard.

        Parameters
        ----------
        X : array_like or sparse, shape (n_rows, n_features)
            What is known. [-]

        Returns
        -------
        ndarray, shape (n_rows,)
            The larger of Laplace's and the sandwich's; the handbook's own spread is not in it. [-]
        """
        return self.posterior_.log_spread(self._with_level(self._checked(X)))

    def share_learned(self, X: Design) -> Floats:
        """Return how much of the prior's variance the failures took away.

        Parameters
        ----------
        X : array_like or sparse, shape (n_rows, n_features)
            What is known. [-]

        Returns
        -------
        ndarray, shape (n_rows,)
            One less Laplace's variance over the prior's: 0 for nothing learned, towards 1 for
            everything; 0 where the prior allows no correction at all. [-]
        """
        return self.posterior_.share_learned(self._with_level(self._checked(X)))

    def score(
        self,
        X: Design,
        y: ArrayLike,
        exposure: ArrayLike | None = None,
        prior_hazard: ArrayLike | None = None,
    ) -> float:
        """Return the share of the Poisson deviance that the learned hazard explains.

        Parameters
        ----------
        X, y, exposure, prior_hazard
            As for ``fit``.

        Returns
        -------
        float
            1 for a perfect fit, 0 for the prior hazard scaled to the failures of these rows. [-]
        """
        events = np.asarray(y, dtype=np.float64)
        exposed = row_values("exposure", exposure, len(events))
        prior = exposed * row_values("prior hazard", prior_hazard, len(events))
        learned = self.predict(X, prior_hazard) * exposed
        level = prior * (events.sum() / prior.sum())
        return 1.0 - poisson_deviance(events, learned) / poisson_deviance(events, level)

    def __sklearn_tags__(self) -> Tags:
        tags = super().__sklearn_tags__()
        tags.input_tags.sparse = True
        tags.target_tags.positive_only = True
        return tags

    def _checked(self, X: Design) -> Design:
        check_is_fitted(self)
        return validate_data(self, X, accept_sparse="csr", dtype=np.float64, reset=False)

    def _scales(self, n_features: int) -> Floats:
        scale = column_values("prior_scale", self.prior_scale, n_features)
        if self.level_scale is not None:
            scale = np.append(scale, self.level_scale)
        if not ((scale > 0) & np.isfinite(scale)).all():
            raise ValueError("prior scales are finite and above 0")
        return scale

    def _with_level(self, design: Design) -> Design:
        if self.level_scale is None:
            return design
        ones = np.ones((design.shape[0], 1))
        if sparse.issparse(design):
            return sparse.hstack([design, sparse.csr_array(ones)], format="csr")
        return np.hstack([design, ones])
