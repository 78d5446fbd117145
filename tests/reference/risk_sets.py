"""One row for each unit at risk at each age of a failure, and the Poisson fit of them."""

from dataclasses import dataclass

import numpy as np
from scipy import sparse

from scoring.learning.hazard_posterior import HazardPosterior

WIDE = 2e4
"""Prior deviation wide enough to leave everything to the failures."""


@dataclass(frozen=True)
class Slopes:
    """What was found for each covariate, and from how many rows."""

    coef: np.ndarray
    error: np.ndarray
    rows: int


def risk_set_slopes(start, stop, failed, known):
    """Fit a level for each age of a failure and a slope for each covariate.

    A unit is at risk where start < age <= stop.
    """
    begin, end, events = (np.asarray(column, dtype=float) for column in (start, stop, failed))
    ages = np.unique(end[events > 0])
    row, age = np.nonzero((begin[:, None] < ages) & (ages <= end[:, None]))
    of_age = sparse.csr_array((np.ones(len(row)), (np.arange(len(row)), age)))
    covariates = sparse.csr_array(np.asarray(known, dtype=float)[row])
    fit = HazardPosterior(prior_scale=WIDE, level_scale=None).fit(
        sparse.hstack([covariates, of_age], format="csr"),
        events[row] * (end[row] == ages[age]),
    )
    slopes = slice(0, covariates.shape[1])
    error = np.sqrt(np.diag(fit.covariance_))
    return Slopes(fit.coef_[slopes], error[slopes], len(row))
