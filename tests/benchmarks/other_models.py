"""General-purpose models fitted to the rows of a fleet, for ours to be held against.

Each is set up as a careful user of its library would. How strongly a regression shrinks, and how
many trees are boosted, is chosen on units held out; what else must be set was set by its ranking of
drawn fleets of 200 and 2,000 units, of other seeds than those that it is scored on. All are seeded
and run on one thread, so that the same rows give the same scores.
"""

import warnings
from dataclasses import dataclass, replace

import numpy as np
import pandas as pd
from lifelines import CoxTimeVaryingFitter
from lifelines.exceptions import ConvergenceError, ConvergenceWarning
from sklearn.ensemble import HistGradientBoostingRegressor
from sklearn.linear_model import PoissonRegressor
from sklearn.metrics import mean_poisson_deviance
from sklearn.model_selection import GroupKFold
from sksurv.ensemble import RandomSurvivalForest
from sksurv.util import Surv
from threadpoolctl import threadpool_limits

OFFSET = "handbook log hazard"
OF_THE_HANDBOOK = "handbook"
"""Columns whose names begin so are the handbook's."""

SEED = 0
LEAST_SPREAD, LEAST_RATE, MOST_RATE = 1e-6, 1e-12, 1e9
FOLDS, FOLDS_OF_COX = 5, 3  # a Cox fit takes long
RIDGE_PENALTIES = np.logspace(2, -4, 13)
OFFSET_PENALTIES = np.logspace(2, -2, 13)
COX_SPREADS = (0.02, 0.05, 0.1, 0.2)
COX_ROUGH, COX_FINE = 1e-2, 1e-6
NOT_CONVERGED = "Newton-Raphson|The log-likelihood is getting"
LANDMARK_YEARS = 0.25
LEAST_LEAF, LEAVES_OF_A_TREE = 15, 160
BOOSTED_TREES, BOOSTED_LEAST_TREES = 200, 10

one_thread = threadpool_limits.wrap(limits=1)


@dataclass(frozen=True)
class ModelRows:
    """Stretches of units' lives, and the failures that ended some of them.

    Attributes
    ----------
    features : DataFrame, shape (n_rows, n_features)
        Numbers without gaps.
    unit : ndarray of int, shape (n_rows,)
        Unit of each row; the rows stand by unit and then by day.
    start, stop : ndarray of float, shape (n_rows,)
        Where the row starts and stops on one clock, ``stop`` above ``start``. The ranking of
        ``cox`` leaves out how hazard runs along this clock, so let it be the calendar or time
        since entry, and age a feature. [year]
    events : ndarray of int, shape (n_rows,)
        0, or 1 for a failure at ``stop``.
    at_risk : ndarray of float, shape (n_rows,), optional
        What rates are rates of, such as failures that somebody expects; by default the time.
    """

    features: pd.DataFrame
    unit: np.ndarray
    start: np.ndarray
    stop: np.ndarray
    events: np.ndarray
    at_risk: np.ndarray | None = None

    @property
    def exposure(self):
        """Return what rates are rates of: the time at risk, in years, unless something else."""
        return self.stop - self.start if self.at_risk is None else self.at_risk

    @property
    def tell_nothing(self):
        """Whether all rows end alike, so that nothing can be learnt."""
        return len(self.events) == 0 or np.ptp(self.events) == 0

    def some(self, which):
        """Return some of the rows."""
        arrays = {name: getattr(self, name)[which] for name in ("unit", "start", "stop", "events")}
        at_risk = None if self.at_risk is None else self.at_risk[which]
        return ModelRows(self.features.iloc[which], **arrays, at_risk=at_risk)


@one_thread
def ridge(rows: ModelRows, ahead: pd.DataFrame) -> np.ndarray:
    """Score by a Poisson regression with a ridge penalty chosen on units held out."""
    if rows.tell_nothing:
        return np.zeros(len(ahead))
    rows, coming = standardised(rows, ahead)
    return coming @ best_ridge(rows).coef_


def bare_ridge(rows: ModelRows, ahead: pd.DataFrame) -> np.ndarray:
    """Score by the same of a user who has no handbook."""
    return ridge(replace(rows, features=without_handbook(rows.features)), ahead)


@one_thread
def offset_ridge(rows: ModelRows, ahead: pd.DataFrame) -> np.ndarray:
    """Score by the handbook's log hazard, and a ridge regression of what it leaves.

    The penalty is chosen on units held out, from one so strong that the handbook stands alone.
    """
    given = ahead[OFFSET].to_numpy(float)
    if rows.tell_nothing:
        return given
    expected = rows.exposure * np.exp(rows.features[OFFSET].to_numpy(float))
    rows = replace(rows, features=without_handbook(rows.features), at_risk=expected)
    rows, coming = standardised(rows, ahead)
    return given + coming @ best_ridge(rows, OFFSET_PENALTIES).coef_


@one_thread
def cox(rows: ModelRows, ahead: pd.DataFrame) -> np.ndarray:
    """Score by a Cox model of rows that change, its ridge penalty chosen on units held out.

    A penalty is given as the spread that it allows the effect of a column of spread one. The
    search goes from strong to weak, each fit from the last, and ends with a fit that is worse on
    units held out or that does not converge.
    """
    if rows.tell_nothing:
        return np.zeros(len(ahead))
    rows, coming = standardised(rows, ahead)
    still = np.zeros(rows.features.shape[1])
    parts = folds(rows, FOLDS_OF_COX)
    effects = [still] * len(parts)
    best, chosen = -np.inf, COX_SPREADS[0]
    for spread in COX_SPREADS:
        effects = [
            cox_effects(part, spread, last, COX_ROUGH)
            for (part, _), last in zip(parts, effects, strict=True)
        ]
        if any(of_part is None for of_part in effects):
            break
        likelihood = sum(
            partial_likelihood(held, numbers(held) @ of_part)
            for (_, held), of_part in zip(parts, effects, strict=True)
        )
        if likelihood <= best:
            break
        best, chosen = likelihood, spread
    for spread in reversed(COX_SPREADS[: COX_SPREADS.index(chosen) + 1]):
        found = cox_effects(rows, spread, still, COX_FINE)
        if found is not None:
            return coming @ found
    return np.zeros(len(ahead))


@one_thread
def forest(rows: ModelRows, ahead: pd.DataFrame) -> np.ndarray:
    """Score by a random survival forest of landmarks: a unit's state, and the time that follows.

    A landmark is the first row of a unit that starts in a quarter of the clock; what follows runs
    to a failure, to the next landmark or to the end of what was observed. Yearly ones rank worse,
    since most of what is found at a new unit comes after its first.
    """
    if rows.tell_nothing:
        return np.zeros(len(ahead))
    first, last = landmarks(rows)
    follows = np.maximum((rows.stop[last] - rows.start[first]).round(2), 0.01)
    leaf = max(LEAST_LEAF, len(first) // LEAVES_OF_A_TREE)
    model = RandomSurvivalForest(
        n_estimators=100,
        min_samples_split=2 * leaf,
        min_samples_leaf=leaf,
        max_features="sqrt",
        low_memory=True,
        n_jobs=1,
        random_state=SEED,
    )
    model.fit(numbers(rows.some(first)), Surv.from_arrays(rows.events[last] == 1, follows))
    return model.predict(ahead[rows.features.columns].to_numpy(float))


@one_thread
def boosted(rows: ModelRows, ahead: pd.DataFrame) -> np.ndarray:
    """Score by small boosted trees of Poisson rates, as many as do best on units held out."""
    if rows.tell_nothing:
        return np.zeros(len(ahead))
    settings = {
        "loss": "poisson",
        "learning_rate": 0.05,
        "max_leaf_nodes": 4,
        "min_samples_leaf": 50,
        "max_features": 0.2,
        "l2_regularization": 1.0,
        "early_stopping": False,
        "random_state": SEED,
    }
    deviance = np.zeros(BOOSTED_TREES)
    for part, held in folds(rows):
        model = HistGradientBoostingRegressor(max_iter=BOOSTED_TREES, **settings)
        staged = fit_rates(model, part).staged_predict(numbers(held))
        deviance += [deviance_from(held, rate) for rate in staged]
    best = BOOSTED_LEAST_TREES + int(deviance[BOOSTED_LEAST_TREES - 1 :].argmin())
    model = fit_rates(HistGradientBoostingRegressor(max_iter=best, **settings), rows)
    return model.predict(ahead[rows.features.columns].to_numpy(float))


OTHER_MODELS = {
    "ridge": ridge,
    "bare ridge": bare_ridge,
    "offset ridge": offset_ridge,
    "cox": cox,
    "forest": forest,
    "boosted": boosted,
}


def without_handbook(features):
    return features[[name for name in features if not name.startswith(OF_THE_HANDBOOK)]]


def best_ridge(rows, penalties=RIDGE_PENALTIES):
    """Fit the Poisson regression whose penalty does best on units held out."""
    deviance = np.zeros(len(penalties))
    for part, held in folds(rows):
        model = PoissonRegressor(solver="newton-cholesky", warm_start=True, max_iter=200)
        for place, penalty in enumerate(penalties):
            fit_rates(model.set_params(alpha=penalty), part)
            deviance[place] += deviance_from(held, model.predict(numbers(held)))
    best = penalties[deviance.argmin()]
    return fit_rates(PoissonRegressor(alpha=best, solver="newton-cholesky", max_iter=200), rows)


def numbers(rows):
    return rows.features.to_numpy(float)


def standardised(rows, ahead):
    """Give every column that varies mean 0 and spread 1, and those ahead the same change."""
    known, coming = numbers(rows), ahead[rows.features.columns].to_numpy(float)
    mean, spread = known.mean(axis=0), known.std(axis=0)
    varies = spread > LEAST_SPREAD
    known, coming = (((x - mean)[:, varies] / spread[varies]) for x in (known, coming))
    return replace(rows, features=pd.DataFrame(known)), coming


def folds(rows, n_folds=FOLDS):
    """Split by units into rows to fit and rows held out, unless no failure is left to fit."""
    n_units = len(np.unique(rows.unit))
    if n_units < 2:
        return []
    split = GroupKFold(min(n_folds, n_units), shuffle=True, random_state=SEED)
    parts = [map(rows.some, both) for both in split.split(rows.features, groups=rows.unit)]
    return [(part, held) for part, held in parts if not part.tell_nothing]


def fit_rates(model, rows):
    return model.fit(numbers(rows), rows.events / rows.exposure, sample_weight=rows.exposure)


def deviance_from(held, rate):
    rate = np.clip(rate, LEAST_RATE, MOST_RATE)
    mean = mean_poisson_deviance(held.events / held.exposure, rate, sample_weight=held.exposure)
    return mean * held.exposure.sum()


def cox_effects(rows, spread, start_from, precision):
    """Effects of standardised columns, or none where the fit does not converge."""
    failures = np.unique(rows.stop[rows.events == 1])
    passed = [np.searchsorted(failures, clock, "right") for clock in (rows.start, rows.stop)]
    rows = rows.some(passed[0] < passed[1])  # others are never compared
    columns = numbers(rows)
    own = columns.std(axis=0)
    varies = own > LEAST_SPREAD
    effects = np.zeros(len(own))
    if not varies.any():
        return effects
    table = pd.DataFrame((columns - columns.mean(axis=0))[:, varies]).add_prefix("x")
    table = table.assign(start=rows.start, stop=rows.stop, event=rows.events)
    # the library standardises again, and multiplies the penalty by the number of rows
    fitter = CoxTimeVaryingFitter(penalizer=1 / (len(table) * (spread * own[varies]) ** 2))
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of rare columns, and of what pandas 4 will refuse
            warnings.filterwarnings("error", NOT_CONVERGED, ConvergenceWarning)
            fitter.fit(
                table,
                event_col="event",
                initial_point=(start_from * own)[varies],
                fit_options={"precision": precision},
            )
    except (ConvergenceError, ConvergenceWarning):
        return None
    effects[varies] = fitter.params_
    return effects


def partial_likelihood(rows, log_hazard):
    """Logarithm of the chance of those who failed among all who could, tied ones alike."""
    hazard = np.exp(log_hazard)

    def of_all_from(clock, at):
        order = np.argsort(clock)
        before = np.concatenate([[0.0], np.cumsum(hazard[order])])
        return before[-1] - before[np.searchsorted(clock[order], at, "left")]

    failed = rows.events == 1
    at = rows.stop[failed]
    at_risk = of_all_from(rows.stop, at) - of_all_from(rows.start, at)
    return (log_hazard[failed] - np.log(at_risk)).sum()


def landmarks(rows):
    """First and last row of each stretch that starts at a landmark."""
    begins = np.ones(len(rows.unit), bool)
    year = np.floor(rows.start / LANDMARK_YEARS)
    begins[1:] = (
        (rows.unit[1:] != rows.unit[:-1])
        | (year[1:] != year[:-1])
        | (rows.events[:-1] == 1)
        | (rows.start[1:] < rows.stop[:-1] - 1e-9)  # a renewed part starts its clock again
    )
    first = np.flatnonzero(begins)
    return first, np.append(first[1:], len(begins)) - 1
