"""A plain regression of a fleet's own failures, without a handbook, for ours to be held against."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import ArrayLike, NDArray
from sklearn.linear_model import PoissonRegressor
from sklearn.model_selection import GroupKFold

from scoring.contract.events import MODES
from scoring.learning.covariates import EARLY_LIFE_YEARS, State
from scoring.learning.failure_rows import FailureRows
from scoring.validation.predictions import KEYS, REGRESSION, followed_from

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

PENALTIES = np.logspace(3, -2, 11)
"""Ridge penalties tried, a failure; under the first hardly anything is told apart. Ours. [-]"""

FOLDS = 3
"""Parts into which units are dealt to choose a penalty. Ours, to bound time."""

ROUGH, FINE = 1e-3, 1e-6
"""How nearly a fit is found that only serves to choose a penalty, and one that is used: slopes of
the likelihood that are left, a failure. Ours. [-]"""

MOST_QUIET_ROWS = 50_000
"""Rows without a failure that are fitted to; of more, every second, third ... one, which then
counts for as many. Ours, to bound time."""

LEAST_SPREAD = 1e-6
"""A column that varies by less tells nothing. [-]"""

DIGITS = 6
"""Of the logarithm of a hazard; units that differ by less are alike."""


@dataclass(frozen=True)
class PlainRegression:
    """What a plain regression says of a hazard.

    Attributes
    ----------
    share : ndarray, shape (n_checks,)
        How often each check was bad where seen: what one not seen counts as. [-]
    centre : ndarray, shape (n_columns,)
        Mean of each column.
    coefficients : ndarray, shape (n_columns,)
        What a unit of each column adds to the logarithm of the hazard. [-]
    """

    share: Floats
    centre: Floats
    coefficients: Floats

    def score(self, state: State, age_years: Floats) -> Floats:
        """Return the logarithm [-] of each hazard over that of a unit of mean columns."""
        over = _columns(state, age_years, self.share) - self.centre
        found: Floats = np.round(over @ self.coefficients, DIGITS)
        return found


def regress(rows: FailureRows, mode: str, day: int, order: Ints) -> PlainRegression | None:
    """Fit one failure by what was recorded up to a day.

    Parameters
    ----------
    rows : FailureRows
        Failures beside what may explain them.
    mode : str
        The failure.
    day : int
        Which of ``rows.days``.
    order : ndarray of int, shape (n_places,)
        Where each unit stands among all by name, by its place in ``Fleet.units``: in this order
        units are dealt into folds.

    Returns
    -------
    PlainRegression or None
        None where no failure was recorded, or too few units to hold some out.

    Notes
    -----
    A Poisson regression of failures per year, with a ridge penalty on standardised columns, by what
    a careful person finds in the records: every finding, every number and word of the nameplate,
    sites, and age as it is, its logarithm and early life. What the handbook says of any of it stays
    out, and no sign is bounded. The penalty is the one that does best on units held out.
    """
    one = rows.modes[mode]
    here = np.flatnonzero((rows.period <= day) & (one.years > 0))
    failures = one.events[here, day].astype(np.float64)
    if not failures.any() or len(np.unique(rows.place[here])) < 2:
        return None
    quiet = np.flatnonzero(failures == 0)
    step = max(1, -(-len(quiet) // MOST_QUIET_ROWS))
    some = np.sort(np.append(np.flatnonzero(failures > 0), quiet[::step]))
    here, failures = here[some], failures[some]
    years = one.years[here] * np.where(failures > 0, 1, step)
    expected = years * (failures.sum() / years.sum())
    state = one.state.where(here)
    share = _share_bad(state, years)
    known = _columns(state, one.age_years[here], share)
    centre, spread = known.mean(axis=0), known.std(axis=0)
    tells = spread > LEAST_SPREAD
    known = (known[:, tells] - centre[tells]) / spread[tells]
    coefficients = np.zeros(len(tells))
    best = _best_penalty(known, failures, expected, order[rows.place[here]])
    model = _fit(_model(FINE, best), known, failures, expected)
    coefficients[tells] = model.coef_ / spread[tells]
    return PlainRegression(share, centre, coefficients)


def regressed(rows: FailureRows, day: int, ids: ArrayLike) -> pd.DataFrame:
    """Predict the failures that came after a day by plain regressions.

    Parameters
    ----------
    rows : FailureRows
        Failures beside what may explain them.
    day : int
        Which of ``rows.days``, not the last.
    ids : array_like of str, shape (n_places,)
        Ids of all units.

    Returns
    -------
    DataFrame, shape (n_predicted, 4)
        ``since``, ``failure_mode`` and ``place`` as in ``predictions``, and ``plain regression``:
        a score, higher for worse, 0 for every unit where nothing could be fitted. [-]
    """
    order = np.unique(np.asarray(ids, dtype=object), return_inverse=True)[1]
    found = []
    for mode in MODES:
        followed = followed_from(rows, mode, day)
        fitted = regress(rows, mode, day, order)
        score = np.zeros(len(followed.place))
        if fitted is not None:
            score = fitted.score(followed.state, followed.age_years)
        since = np.full(len(score), rows.days[day]).astype("datetime64[s]")
        values = (since, mode, followed.place, score)
        found.append(pd.DataFrame(dict(zip((*KEYS, REGRESSION), values, strict=True))))
    return pd.concat(found, ignore_index=True)


def _columns(state: State, age: Floats, share: Floats) -> Floats:
    at = np.eye(len(state.sites))[state.site]
    found = np.where(state.bad < 0, share, state.bad)
    early = age < EARLY_LIFE_YEARS
    columns = (found, state.nameplate, at, age, np.log(age + EARLY_LIFE_YEARS), early)
    return np.column_stack(columns).astype(np.float64)


def _share_bad(state: State, years: Floats) -> Floats:
    seen, bad = (years @ which for which in (state.bad >= 0, state.bad == 1))
    return np.divide(bad, seen, out=np.zeros(len(seen)), where=seen > 0)


def _best_penalty(known: Floats, failures: Floats, expected: Floats, unit: Ints) -> float:
    """Return the penalty under which failures of units held out were likeliest.

    From strong to weak, each fit from the last, until it gets worse.
    """
    dealt = GroupKFold(min(FOLDS, len(np.unique(unit)))).split(known, groups=unit)
    folds = [
        (
            _model(ROUGH),
            [values[part] for values in (known, failures, expected)],
            [values[held] for values in (known, failures, expected)],
        )
        for part, held in dealt
        if failures[part].any()
    ]
    best, likeliest = float(PENALTIES[0]), -np.inf
    for penalty in PENALTIES.tolist():
        likelihood = 0.0
        for model, part, held in folds:
            _fit(model.set_params(alpha=penalty), *part)
            likelihood += _log_likelihood(model, *held)
        if not likelihood > likeliest:  # nor if it is no number
            break
        best, likeliest = penalty, likelihood
    return best


def _log_likelihood(
    model: PoissonRegressor, known: Floats, failures: Floats, expected: Floats
) -> float:
    log_rate = known @ model.coef_ + model.intercept_
    return float(failures @ log_rate - np.exp(log_rate) @ expected)


def _model(nearly: float, penalty: float = 1.0) -> PoissonRegressor:
    return PoissonRegressor(
        alpha=penalty, solver="newton-cholesky", warm_start=True, tol=nearly, max_iter=200
    )


def _fit(
    model: PoissonRegressor, known: Floats, failures: Floats, expected: Floats
) -> PoissonRegressor:
    return model.fit(known, failures / expected, sample_weight=expected)
