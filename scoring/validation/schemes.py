"""Learning up to a day and predicting what failed after it, in three schemes."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from joblib import Parallel, delayed
from numpy.typing import ArrayLike, NDArray
from threadpoolctl import threadpool_limits

from scoring.contract.events import MODES
from scoring.learning.failure_rows import FailureRows
from scoring.learning.learned import learn_ratios
from scoring.records import DAYS_PER_YEAR
from scoring.validation.choose_basis import Basis, predictions_as_of, try_and_choose
from scoring.validation.plain_regression import regressed
from scoring.validation.predictions import KEYS

Flags = NDArray[np.bool_]

SAME_UNITS = "later failures of the same units"
OTHER_UNITS = "later failures of other units"
OTHER_SITES = "later failures of other sites"
SCHEMES = (SAME_UNITS, OTHER_UNITS, OTHER_SITES)
"""On what it is tried; each asks more of what was learned than the one before."""

UNIT_FOLDS = 5
"""Parts into which units are dealt; customary, no source."""

MOST_SITE_FOLDS = 12
"""So many sites are left out one at a time; of more, several together. Ours, to bound time."""


@dataclass(frozen=True)
class Fold:
    """Units that are not learned from, and whose failures are predicted.

    Attributes
    ----------
    scheme : str
        ``OTHER_UNITS`` or ``OTHER_SITES``.
    number : int
        Which fold of the scheme, from 0.
    held_out : ndarray of bool, shape (n_places,)
        By place in ``Fleet.units``; of places that have no rows none is held out.
    """

    scheme: str
    number: int
    held_out: Flags


def folds_of(rows: FailureRows, unit_ids: ArrayLike | None = None) -> list[Fold]:
    """Deal the units into folds, by unit and by site.

    Parameters
    ----------
    rows : FailureRows
        Failures beside what may explain them.
    unit_ids : array_like of str, shape (n_units,), optional
        Ids of all units, as in ``Fleet.units``; by default their places stand for them.

    Returns
    -------
    list of Fold
        None by site where there is but one.

    Notes
    -----
    Units are dealt round in the order of their ids, sorted as text, sites in the order of their
    names: nothing is drawn, and the order of rows does not matter.
    """
    places, first = np.unique(rows.place, return_index=True)
    ids = places if unit_ids is None else np.asarray(unit_ids, dtype=object)[places]
    sites = rows.modes[MODES[0]].state.site[first]
    deals = (
        (OTHER_UNITS, np.unique(ids, return_inverse=True)[1], UNIT_FOLDS),
        (OTHER_SITES, np.unique(sites, return_inverse=True)[1], MOST_SITE_FOLDS),
    )
    folds = []
    for scheme, order, most in deals:
        count = min(len(np.unique(order)), most)
        for number in range(count if count > 1 else 0):
            held_out = np.zeros(int(places.max()) + 1, dtype=bool)
            held_out[places[order % most == number]] = True
            folds.append(Fold(scheme, number, held_out))
    return folds


def predict_held_out(rows: FailureRows, day: int, fold: Fold) -> pd.DataFrame:
    """Learn from the other units up to a day, and predict the failures of those held out.

    Parameters
    ----------
    rows : FailureRows
        Failures beside what may explain them.
    day : int
        Which of ``rows.days``, not the last.
    fold : Fold
        Which units are held out.

    Returns
    -------
    DataFrame, shape (n_units, 13)
        From ``predictions``, with the columns ``scheme`` and ``fold``.
    """
    learned = learn_ratios(rows, day, ~fold.held_out[rows.place])
    table = pd.concat(predictions_as_of(rows, day, learned), ignore_index=True)
    return table[fold.held_out[table["place"]]].assign(scheme=fold.scheme, fold=fold.number)


def predict_in_schemes(
    rows: FailureRows, unit_ids: ArrayLike | None = None, n_jobs: int = 2
) -> tuple[dict[str, Basis], pd.DataFrame]:
    """Learn up to each day and predict up to the next, in every scheme.

    Parameters
    ----------
    rows : FailureRows
        With days in the past.
    unit_ids : array_like of str, shape (n_units,), optional
        As for ``folds_of``.
    n_jobs : int, default 2
        How many folds are learned from at a time, at least 1; the answer is the same.

    Returns
    -------
    basis : dict of str to Basis
        Which basis is used for each failure, and why: from the first scheme.
    table : DataFrame, shape (n_predicted, 15)
        From ``predictions``, with the columns ``scheme``, ``fold`` (0 in the first scheme), ``plain
        regression``, from ``regressed`` (in the first scheme alone, to bound time) and
        ``horizon_years``, from one day to the next [year]. A unit comes again for every scheme,
        failure and day.

    Notes
    -----
    In threads, which share the rows: on a fleet of 2,000 units other processes took longer to start
    than all folds together. Each on one thread of linear algebra, so that the last digit does not
    depend on how many there are.
    """
    days = range(len(rows.days) - 2, -1, -1)  # the last first: they have the most to learn from
    folds = folds_of(rows, unit_ids) if len(rows) else []
    work = [delayed(predict_held_out)(rows, day, fold) for day in days for fold in folds]
    ids = np.arange(rows.place.max(initial=-1) + 1) if unit_ids is None else unit_ids
    plain = [delayed(regressed)(rows, day, ids) for day in days if len(rows)]
    with threadpool_limits(limits=1, user_api="blas"):
        (basis, same), *found = Parallel(n_jobs=n_jobs, backend="threading")(
            [delayed(try_and_choose)(rows), *plain, *work]
        )
    others = found[len(plain) :]
    if plain:
        by_regression = pd.concat(found[: len(plain)], ignore_index=True)
        same = same.merge(by_regression, "left", list(KEYS), validate="one_to_one")
    table = pd.concat([same.assign(scheme=SAME_UNITS, fold=0), *others], ignore_index=True)
    if len(table):
        table = table.sort_values(["failure_mode", "since", "place"], kind="stable")
        period = np.searchsorted(rows.days, table["since"].to_numpy().astype("datetime64[D]"))
        lengths = np.diff(rows.days) / np.timedelta64(1, "D") / DAYS_PER_YEAR
        table["horizon_years"] = lengths[period]
    return basis, table.reset_index(drop=True)
