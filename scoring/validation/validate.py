"""How well a fleet's later failures would have been predicted."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import ArrayLike, NDArray

from scoring.contract.events import MODES
from scoring.learning.failure_rows import FailureRows
from scoring.validation.better_than_others import COMPARED, compare
from scoring.validation.choose_basis import Basis
from scoring.validation.which_is_better import (
    STANDARD_ERRORS,
    Gain,
    gain_in_concordance,
    gain_in_likelihood,
    gain_in_proportions,
)

GAINS = {
    "likelihood": gain_in_likelihood,
    "proportions": gain_in_proportions,
    "concordance": gain_in_concordance,
}
"""In what one way may be better than another."""

KEYS = ("scheme", "failure_mode")

SCORES = (
    *KEYS,
    "predicted_by",
    "units",
    "failures",
    "harrell",
    "uno",
    "brier",
    "observed",
    "expected",
    "ratio",
    "ratio_low",
    "ratio_high",
    "slope",
    "slope_error",
    "worst_tenth",
)

GROUPS = (
    *KEYS,
    "predicted_by",
    "group",
    "units",
    "chance",
    "observed",
    "expected",
    "ratio",
    "ratio_low",
    "ratio_high",
)

GAIN_COLUMNS = (*KEYS, "gained_in", "failures", "value", "error", "low", "high")


@dataclass(frozen=True)
class Validation:
    """What was predicted of a fleet as of earlier days, beside what came true.

    In every table ``scheme`` is one of ``scoring.validation.schemes.SCHEMES``, ``failure_mode`` one
    of ``scoring.handbook.effect.MODES``, ``predicted_by`` one of ``handbook``, ``handbook and
    fleet``, ``count of findings`` and, of the same units, ``plain regression``. A unit counts once
    for each day as of which it was predicted. Where units are compared with each other, they are of
    one day, and were held out together.

    Attributes
    ----------
    days : ndarray of datetime64[D], shape (n_days,)
        Rising. As of each but the last one learned, and predicted up to the next.
    basis : dict of str to Basis
        For each failure which basis is used now, and why: from the first scheme.
    scores : DataFrame, shape (n_scores, 16)
        By scheme, failure and way: ``units`` predicted; ``failures`` among them; ``harrell`` and
        ``uno``, concordances, 0.5 for chance and 1 if perfect, the second with losses to follow-up
        weighed, up to the end of the horizon; ``brier``, mean square distance of chances from what
        came true, 0 if perfect; ``observed`` and ``expected`` failures within what was followed,
        their ``ratio`` and its limits ``ratio_low`` and ``ratio_high``, which hold it 9 times in
        10; ``slope`` of calibration, 1 being right, with its standard error ``slope_error``, both
        missing below 20 failures; ``worst_tenth``, the share of the failures that fell in the worst
        tenth as predicted. What needs chances is missing for ways that only order units. [-]
    groups : DataFrame, shape (n_groups, 11)
        By scheme, failure, way and ``group`` of like risk, 1 for the lowest: ``units``, mean
        predicted ``chance`` of failing within the horizon, ``observed`` and ``expected`` failures,
        ``ratio`` and limits as above. Not for ways that only order units. [-]
    gains : DataFrame, shape (n_gains, 8)
        By scheme, failure and what is ``gained_in`` (``likelihood``, ``proportions``,
        ``concordance``): ``failures``; ``value`` by which the handbook and the fleet were better
        than the handbook alone, its standard ``error``, and ``low`` and ``high``, two of them away;
        missing where too little failed to tell. [-]
    compared : DataFrame
        Ours against counting findings and a plain regression, from
        ``scoring.validation.better_than_others``.
    predictions : DataFrame
        Every unit predicted, from ``scoring.validation.schemes.predict_in_schemes``.
    """

    days: NDArray[np.datetime64]
    basis: dict[str, Basis]
    scores: pd.DataFrame
    groups: pd.DataFrame
    gains: pd.DataFrame
    compared: pd.DataFrame
    predictions: pd.DataFrame


def validate(rows: FailureRows, n_jobs: int = 2, unit_ids: ArrayLike | None = None) -> Validation:
    """Learn up to earlier days, and score what that predicted of later failures.

    Parameters
    ----------
    rows : FailureRows
        With days in the past, as ``FleetAssessor.failure_rows`` returns them.
    n_jobs : int, default 2
        How many folds are learned from at a time, at least 1; the answer is the same.
    unit_ids : array_like of str, shape (n_units,), optional
        ``Fleet.units["unit_id"]``: units are dealt into folds in the order of their ids. By default
        in that of their places, and then the order of the units in the records matters.

    Returns
    -------
    Validation
        Without scores where nothing could be predicted: failures are not kept, or no unit was
        followed on a day long enough ago.

    Notes
    -----
    What is predicted supposes that nobody acts. Units that were put right within the year failed
    less than that, which makes ``ratio`` and ``slope`` smaller than they would be.

    How usual faults are where nobody looked is taken as known on the last day, which is the one
    thing that is not as it was; it rests on looks, not on failures.
    """
    # Both bring packages that take seconds to import, and who only ranks shall not wait for them.
    from joblib import Parallel, delayed  # noqa: PLC0415

    from scoring.validation.schemes import (  # noqa: PLC0415
        SAME_UNITS,
        SCHEMES,
        predict_in_schemes,
    )
    from scoring.validation.scores import groups_of, scores_of  # noqa: PLC0415

    basis, table = predict_in_schemes(rows, unit_ids, n_jobs)
    parts = [
        part
        for scheme in SCHEMES
        for mode in MODES
        if len(table)
        and len(part := table[(table["scheme"] == scheme) & (table["failure_mode"] == mode)])
    ]
    work = [delayed(of)(part) for part in parts for of in (scores_of, groups_of, _gains_of)]
    found = Parallel(n_jobs=n_jobs, backend="threading")(work)
    scores = _together(found[0::3], SCORES)
    compared = pd.DataFrame(columns=list(COMPARED))
    if len(table):
        same, of_same = (one[one["scheme"] == SAME_UNITS] for one in (table, scores))
        compared = compare(same, of_same, basis)
    return Validation(
        rows.days,
        basis,
        scores,
        _together(found[1::3], GROUPS),
        _together(found[2::3], GAIN_COLUMNS),
        compared,
        table,
    )


def _gains_of(table: pd.DataFrame) -> pd.DataFrame:
    """Compare within a day and fold, as the scores do."""
    failures = int(table["failed"].sum())
    alike = table.assign(since=table.groupby(["since", "fold"]).ngroup())
    nothing = Gain(float("nan"), float("nan"))
    found = []
    for name, gained in GAINS.items():
        gain = gained(alike) if failures else nothing
        around = STANDARD_ERRORS * gain.error
        found.append(
            {
                **{key: table[key].iloc[0] for key in KEYS},
                "gained_in": name,
                "failures": failures,
                "value": gain.value,
                "error": gain.error,
                "low": gain.value - around,
                "high": gain.value + around,
            }
        )
    return pd.DataFrame(found)


def _together(tables: list[pd.DataFrame], columns: tuple[str, ...]) -> pd.DataFrame:
    if not tables:
        return pd.DataFrame(columns=list(columns))
    return pd.concat(tables, ignore_index=True)[list(columns)]
