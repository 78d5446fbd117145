"""Ours and general-purpose models, fitted to the same rows and asked of the same units."""

import time
import warnings

import numpy as np
import pandas as pd
from lifelines import CoxTimeVaryingFitter
from lifelines.exceptions import ConvergenceWarning
from other_models import LEAST_LEAF, LEAVES_OF_A_TREE, SEED, landmarks, numbers
from rows_for_other_models import rows_to_learn_from
from sksurv.ensemble import RandomSurvivalForest
from sksurv.util import Surv

from scoring.handbook.base_rates import BASE_RATES
from scoring.handbook.handbook_hazard import age_exposure
from scoring.learning.covariates import columns_for
from scoring.learning.covariates_in_parts import in_parts
from scoring.learning.learned import learn
from scoring.learning.posterior import fit_posterior

PENALTY = 0.1
NOT_CONVERGED = "Newton-Raphson"


def state_at_risk(rows, mode):
    at_risk = rows.modes[mode].expected > 0
    return rows.modes[mode].state_by(rows.place, -1).where(at_risk), at_risk


def fit_ours(rows, mode):
    """Columns, design, coefficients and both covariances: all of ``learn`` for one failure."""
    one = rows.modes[mode]
    state, at_risk = state_at_risk(rows, mode)
    columns = columns_for(mode, state, one.years[at_risk])
    return fit_posterior(
        in_parts(columns, state),
        one.failures_by(-1)[at_risk],
        one.expected[at_risk],
        scale=columns.scale,
        floor=columns.floor,
        group=np.unique(rows.place[at_risk], return_inverse=True)[1],
    )


def table_for_cox(rows, mode):
    """Lay the rows out on the clock of the part's age; what never changes says nothing to it."""
    one = rows.modes[mode]
    state, at_risk = state_at_risk(rows, mode)
    columns = columns_for(mode, state, one.years[at_risk])
    design = pd.DataFrame(columns.design(state), columns=columns.names)
    changes = (design != design.iloc[0]).any()
    return design.loc[:, changes].assign(
        start=one.age_years[at_risk],
        stop=(one.age_years + one.years)[at_risk],
        failed=one.failures_by(-1)[at_risk].astype(bool),
    )


def fit_cox(table):
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # rare columns, and what pandas 4 will refuse
        warnings.filterwarnings("error", category=ConvergenceWarning, message=NOT_CONVERGED)
        return CoxTimeVaryingFitter(penalizer=PENALTY).fit(table, event_col="failed")


def seconds(work, rounds):
    """Return the seconds of a processor that each of some rounds took."""
    taken = []
    for _ in range(rounds):
        begun = time.process_time()
        work()
        taken.append(time.process_time() - begun)
    return taken


def forest_and_ours(assessor, rows, mode):
    """Fit a forest to landmarks, and ours; return what asks each of the last row of every unit.

    Two questions, the forest's answer and ours to each: the chance of no failure, ours with its
    spread and what each part adds; and nothing but the cumulative hazard over the year ahead.
    """
    learned_from, _ = rows_to_learn_from(assessor.fleet.units, rows, mode)
    first, last = landmarks(learned_from)
    follows = np.maximum((learned_from.stop[last] - learned_from.start[first]).round(2), 0.01)
    leaf = max(LEAST_LEAF, len(first) // LEAVES_OF_A_TREE)
    forest = RandomSurvivalForest(
        n_estimators=100,
        min_samples_split=2 * leaf,
        min_samples_leaf=leaf,
        max_features="sqrt",
        n_jobs=1,
        random_state=SEED,
    ).fit(
        numbers(learned_from.some(first)), Surv.from_arrays(learned_from.events[last] == 1, follows)
    )
    of_unit = np.flatnonzero(np.append(np.diff(learned_from.unit) > 0, True))
    features = numbers(learned_from.some(of_unit))
    one = rows.modes[mode]
    at_risk = np.flatnonzero(one.years > 0)
    asked = at_risk[of_unit]
    state, base, age = one.state_by(rows.place, -1).where(asked), one.log_base, one.age_years
    learned = learn(rows).modes[mode]

    def hazard_of_the_forest():
        steps = forest.predict_cumulative_hazard_function(features, return_array=True)
        return steps[:, np.searchsorted(forest.unique_times_, 1.0) - 1]

    def hazard_of_ours():
        years = age_exposure(BASE_RATES[mode], age[asked], age[asked] + 1.0)
        logs = base[asked] + state.log_multipliers.sum(axis=1, dtype=np.float64)
        return years * np.exp(logs + learned.log_ratio(state))

    return {
        "chances": (lambda: chances(forest, features), lambda: learned.correct(state)),
        "hazard alone": (hazard_of_the_forest, hazard_of_ours),
    }


def chances(forest, features):
    """Return the chance of no failure at each time."""
    return forest.predict_survival_function(features, return_array=True)
