"""Whether as many fail as was said, overall, by group, and in the right proportion."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import ArrayLike

from scoring.learning.hazard_posterior import HazardPosterior
from scoring.learning.observed_expected import ObservedExpected, observed_over_expected
from scoring.learning.weighted_gram import Floats

WIDE = 1e3
"""Prior deviation that leaves level and slope to the failures. Ours. [-]"""
GROUPS_FOR_FAILURES = ((100, 10), (50, 5), (0, 3))
"""From how many failures on how many groups can be kept apart; planning values of ours. [-]"""


@dataclass(frozen=True)
class Calibration:
    """Predicted against observed failures.

    Attributes
    ----------
    events, expected : float
        Failures seen and predicted. [-]
    ratio : ObservedExpected
        One over the other, with exact limits. [-]
    slope : float
        How much of the predicted spread of log hazards is real: 1 is right, below 1 too bold, above
        1 too timid; missing without failures or spread. [-]
    slope_error : float
        Its standard error; with fewer than some twenty failures too large to act on. [-]
    """

    events: float
    expected: float
    ratio: ObservedExpected
    slope: float
    slope_error: float


def calibrate(
    events: ArrayLike,
    expected: ArrayLike,
    reference: ArrayLike,
    groups: ArrayLike | None = None,
    level: float = 0.9,
) -> Calibration:
    r"""Compare predictions with failures that were not learned from.

    Parameters
    ----------
    events : array_like, shape (n_rows,)
        Failures of each row. [-]
    expected : array_like, shape (n_rows,)
        Predicted failures, hazard times exposure; rows with 0 are left out. [-]
    reference : array_like, shape (n_rows,)
        What would be expected if no unit differed from another: base hazard times exposure. [-]
    groups : array_like, shape (n_rows,), optional
        Unit or site of each row, which may share a cause.
    level : float, default 0.9
        Chance that the limits of the ratio hold it. [-]

    Returns
    -------
    Calibration

    Raises
    ------
    ValueError
        If a row has failures where none were expected.

    Notes
    -----
    The slope is b in :math:`events \sim Poisson(reference \exp(a + b \log(expected/reference)))`.
    Method of Crowson, Atkinson and Therneau 2016, from memory.

    Examples
    --------
    >>> found = calibrate([1, 4, 9], [2.0, 4.0, 8.0], [4.0, 4.0, 4.0])
    >>> round(float(found.ratio.ratio), 2), round(found.slope, 2)
    (1.0, 1.43)
    """
    seen, said = np.asarray(events, dtype=np.float64), np.asarray(expected, dtype=np.float64)
    base = np.asarray(reference, dtype=np.float64)
    if (seen[(said <= 0) | (base <= 0)] > 0).any():
        raise ValueError("a row has failures where none were expected")
    kept = (said > 0) & (base > 0)
    bold = np.log(said[kept] / base[kept])
    slope, error = float("nan"), float("nan")
    if seen.sum() > 0 and np.ptp(bold) > 0:
        family = None if groups is None else np.asarray(groups)[kept]
        fit = HazardPosterior(prior_scale=WIDE, level_scale=WIDE).fit(
            (bold - bold.mean())[:, None], seen[kept], exposure=base[kept], groups=family
        )
        slope = float(fit.coef_[0])
        error = float(np.sqrt(max(fit.covariance_[0, 0], fit.robust_covariance_[0, 0])))
    ratio = observed_over_expected(seen.sum(), said.sum(), level)
    return Calibration(float(seen.sum()), float(said.sum()), ratio, slope, error)


def calibration_by_group(
    events: ArrayLike, expected: ArrayLike, group: ArrayLike, level: float = 0.9
) -> pd.DataFrame:
    """Compare predictions with failures group by group.

    Parameters
    ----------
    events : array_like, shape (n_rows,)
        Failures of each row. [-]
    expected : array_like, shape (n_rows,)
        Predicted failures. [-]
    group : array_like, shape (n_rows,)
        Site, year, or group of risk.
    level : float, default 0.9
        Chance that the limits of each ratio hold it. [-]

    Returns
    -------
    DataFrame
        ``group``, ``rows``, ``events``, ``expected``, ``ratio``, ``low``, ``high``.

    Examples
    --------
    >>> calibration_by_group([0, 2], [1.0, 1.0], ["east", "west"])[["group", "ratio", "high"]]
      group  ratio      high
    0  east    0.0  2.995732
    1  west    2.0  6.295794
    """
    table = pd.DataFrame({"group": group, "rows": 1, "events": events, "expected": expected})
    sums = table.groupby("group", as_index=False, observed=True).sum()
    found = observed_over_expected(sums["events"], sums["expected"], level)
    return sums.assign(ratio=found.ratio, low=found.low, high=found.high)


def groups_of_risk(hazard: ArrayLike, events: float) -> Floats:
    """Part units into groups of like risk, no more of them than the failures can tell apart.

    Parameters
    ----------
    hazard : array_like, shape (n_rows,)
        Predicted hazard or chance; equal ones stay together. [any]
    events : float
        Failures seen in all. [-]

    Returns
    -------
    ndarray, shape (n_rows,)
        Number of the group, 1 for the lowest risk. [-]

    Examples
    --------
    >>> groups_of_risk([0.1, 0.2, 0.3, 0.4, 0.5, 0.6], events=12)
    array([1., 1., 2., 2., 3., 3.])
    """
    number = next(groups for least, groups in GROUPS_FOR_FAILURES if events >= least)
    share = pd.Series(np.asarray(hazard, dtype=np.float64)).rank(method="max", pct=True)
    return np.asarray(np.ceil(share.to_numpy() * number - 1e-9), dtype=np.float64)
