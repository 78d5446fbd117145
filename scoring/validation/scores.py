"""How well each way of predicting did: scores of one failure in one scheme."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import ArrayLike

from scoring.learning.brier import brier_score
from scoring.learning.calibration import calibrate, calibration_by_group, groups_of_risk
from scoring.learning.censoring import censoring_table
from scoring.learning.concordance import Concordance, concordance
from scoring.learning.life_tables import LifeTable
from scoring.learning.lifetimes import Lifetimes
from scoring.learning.observed_expected import observed_over_expected
from scoring.risk.chance_of_failing import chance_of_failing
from scoring.validation.choose_basis import FEW_FAILURES
from scoring.validation.predictions import COUNT, FLEET, HANDBOOK, REGRESSION

EXPECTED = {HANDBOOK: "expected_handbook", FLEET: "expected_fleet"}
"""The column of failures expected within what was followed; the other ways only order units."""

WAYS = (HANDBOOK, FLEET, COUNT, REGRESSION)
"""By what is predicted; each a column of what was predicted, the last only of the same units."""

WORST_SHARE = 0.1
"""Share of the units that a plant might open up in a year; planning value of ours. [-]"""

GROUP_COLUMNS = {
    "rows": "units",
    "events": "observed",
    "low": "ratio_low",
    "high": "ratio_high",
}


@dataclass(frozen=True)
class _Alike:
    """Units of one day predicted by the same learning, and who was under observation when."""

    table: pd.DataFrame
    lives: Lifetimes
    uncensored: LifeTable


def scores_of(table: pd.DataFrame) -> pd.DataFrame:
    """Score each way of predicting one failure in one scheme.

    Parameters
    ----------
    table : DataFrame
        From ``predict_in_schemes``, of one scheme and failure; not empty.

    Returns
    -------
    DataFrame, shape (n_ways, 16)
        One row for each of ``WAYS`` by which it was predicted, with the columns of
        ``Validation.scores``.

    Notes
    -----
    Pairs, and the worst tenth, are of units of one day and one fold: what was learned without a
    fold has a level of its own, the lower the more of the failures were held out, so that units of
    different folds cannot be compared. Pairs, squares and sums are then added up. Uno's index takes
    pairs that begin up to the end of the horizon. The slope is left out below ``FEW_FAILURES``,
    where its error is too large to act on.
    """
    alike = [some for _, of_day in table.groupby("since") for some in _predicted_alike(of_day)]
    ways = [way for way in WAYS if table[way].notna().all()]
    return pd.DataFrame([_score(table, alike, way) for way in ways])


def groups_of(table: pd.DataFrame) -> pd.DataFrame:
    """Lay out what was expected and what came true, by groups of like risk.

    Parameters
    ----------
    table : DataFrame
        As for ``scores_of``.

    Returns
    -------
    DataFrame
        For the ways that give chances, with the columns of ``Validation.groups``.
    """
    found = []
    failed = table["failed"].to_numpy(dtype=np.float64)
    for way, column in EXPECTED.items():
        chance = chance_of_failing(table[way])
        group = groups_of_risk(chance, failed.sum())
        sums = calibration_by_group(failed, table[column], group).rename(columns=GROUP_COLUMNS)
        mean = pd.Series(chance).groupby(group).mean()
        found.append(
            sums.assign(
                scheme=table["scheme"].iloc[0],
                failure_mode=table["failure_mode"].iloc[0],
                predicted_by=way,
                group=sums["group"].astype(int),
                observed=sums["observed"].astype(int),
                chance=mean.loc[sums["group"]].to_numpy(),
            )
        )
    return pd.concat(found, ignore_index=True)


def captured_in_worst(score: ArrayLike, failed: ArrayLike, share: float = WORST_SHARE) -> float:
    """Count the failures among the units that were predicted worst.

    Parameters
    ----------
    score : array_like, shape (n_units,)
        Higher for worse. [any]
    failed : array_like of bool, shape (n_units,)
        Whether each failed.
    share : float
        Which share of the units counts as worst, 0 to 1. [-]

    Returns
    -------
    float
        Where equal scores lie across the border, each of those units counts in part, which is what
        drawing lots among them would give on average; so does the last unit where the share of the
        units is no whole number. [-]

    Examples
    --------
    The worst half of four is one unit for sure, and half of each of the two that are equal:

    >>> captured_in_worst([3, 2, 2, 1], [True, True, False, True], share=0.5)
    1.5
    """
    level, number, size = np.unique(
        -np.asarray(score, dtype=np.float64), return_inverse=True, return_counts=True
    )
    before = np.cumsum(size) - size
    taken = np.clip((share * size.sum() - before) / size, 0.0, 1.0)
    failures = np.bincount(number, np.asarray(failed, dtype=np.float64), minlength=len(level))
    return float(taken @ failures)


def _predicted_alike(day: pd.DataFrame) -> list[_Alike]:
    uncensored = censoring_table(Lifetimes.of(day["years"], day["failed"]))
    return [
        _Alike(fold, Lifetimes.of(fold["years"], fold["failed"]), uncensored)
        for _, fold in day.groupby("fold")
    ]


def _score(table: pd.DataFrame, alike: list[_Alike], way: str) -> dict[str, object]:
    failures = int(table["failed"].sum())
    caught = sum(captured_in_worst(some.table[way], some.table["failed"]) for some in alike)
    found: dict[str, object] = {
        "scheme": table["scheme"].iloc[0],
        "failure_mode": table["failure_mode"].iloc[0],
        "predicted_by": way,
        "units": len(table),
        "failures": failures,
        "harrell": _pairs(alike, way, weighed=False).index,
        "uno": _pairs(alike, way, weighed=True).index,
        "brier": np.nan,
        "observed": failures,
        "expected": np.nan,
        "ratio": np.nan,
        "ratio_low": np.nan,
        "ratio_high": np.nan,
        "slope": np.nan,
        "slope_error": np.nan,
        "worst_tenth": caught / failures if failures else np.nan,
    }
    if way in EXPECTED:
        found["brier"] = _brier(alike, way)
        found |= _calibration(table, EXPECTED[way])
    return found


def _pairs(alike: list[_Alike], way: str, *, weighed: bool) -> Concordance:
    found = [
        concordance(some.lives, some.table[way], uncensored=some.uncensored if weighed else None)
        for some in alike
    ]
    return Concordance(
        sum(pairs.concordant for pairs in found),
        sum(pairs.discordant for pairs in found),
        sum(pairs.tied for pairs in found),
    )


def _brier(alike: list[_Alike], way: str) -> float:
    squares = sum(
        len(some.table)
        * brier_score(
            some.lives,
            chance_of_failing(some.table[way]),
            float(some.table["horizon_years"].iloc[0]),
            some.uncensored,
        )
        for some in alike
    )
    return squares / sum(len(some.table) for some in alike)


def _calibration(table: pd.DataFrame, column: str) -> dict[str, object]:
    failed, expected = table["failed"].to_numpy(), table[column].to_numpy()
    ratio = observed_over_expected(failed.sum(), expected.sum())
    found: dict[str, object] = {
        "expected": float(expected.sum()),
        "ratio": float(ratio.ratio),
        "ratio_low": float(ratio.low),
        "ratio_high": float(ratio.high),
    }
    if failed.sum() >= FEW_FAILURES:
        fit = calibrate(failed, expected, table["years"], table["place"])
        found |= {"slope": fit.slope, "slope_error": fit.slope_error}
    return found
