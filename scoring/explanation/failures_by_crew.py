"""Failures of the units that each crew hung, beside what was to be expected of them."""

import numpy as np
import pandas as pd

from scoring.handbook.prevalence import Prevalence
from scoring.learning.covariates import SITE_SCALE
from scoring.learning.credible import credible_ratio
from scoring.learning.failure_rows import FailureRows
from scoring.learning.learned import LearnedMode
from scoring.learning.observed_expected import observed_over_expected

NOT_RECORDED = "not recorded"
"""Stands for whoever hung the units of which nobody wrote it down."""

WORTH_OF_EVERYBODY = 1 / SITE_SCALE**2
"""Failures expected at which a crew's own ratio counts half: so that crews are believed
to differ as little as sites before a failure is seen; planning value of ours. [-]"""


def failures_by_crew(
    rows: FailureRows,
    learned: dict[str, LearnedMode],
    first_crew: "pd.Series[str]",
    prevalence: Prevalence,
) -> pd.DataFrame:
    """Compare the failures of the units that each crew hung with what was to be expected.

    Parameters
    ----------
    rows : FailureRows
        Failures beside what may explain them.
    learned : dict of str to LearnedMode
        What was learned of each failure.
    first_crew : Series, shape (n_units,)
        Who hung each unit first, in the order of ``Fleet.units``.
    prevalence : Prevalence
        With the carelessness that first looks show.

    Returns
    -------
    DataFrame
        ``failure_mode``, ``installer``; ``units`` observed, ``unit_years`` [year], ``failures``;
        ``expected`` by the learned hazard, so that the faults found, site and age are taken out;
        ``ratio`` of both with exact 90 % limits ``ratio_low``, ``ratio_high`` [-], and ``drawn``
        towards 1 with its 90 % interval ``drawn_low``, ``drawn_high`` [-]; ``faults`` seen at first
        looks, ``faults_expected`` of everybody's shares, and ``carelessness``, their ratio drawn
        towards 1 [-]. The highest ``drawn`` first; no rows where failures are not kept.

    Notes
    -----
    A unit that others hung anew later still counts as its first installer's.
    """
    crew = pd.Categorical(first_crew.astype(object).fillna(NOT_RECORDED))
    units = np.bincount(crew.codes[np.unique(rows.place)], minlength=len(crew.categories))
    code = crew.codes.astype(np.int64)[rows.place]
    tables = [pd.DataFrame(columns=["failure_mode", "installer"])]
    for mode, one in learned.items():
        of_mode = rows.modes[mode]
        log_ratio = one.log_ratio(of_mode.state_by(rows.place, -1))
        weights = {
            "unit_years": of_mode.years,
            "failures": of_mode.failures_by(-1),
            "expected": of_mode.expected * np.exp(log_ratio),
        }
        sums = {
            name: np.bincount(code, weight, len(crew.categories))
            for name, weight in weights.items()
        }
        names = {"failure_mode": mode, "installer": crew.categories.astype(object), "units": units}
        table = _with_ratios(pd.DataFrame({**names, **sums}).query("units > 0"))
        tables.append(table.sort_values("drawn", ascending=False, kind="stable"))
    found = [table for table in tables if len(table)] or tables
    table = pd.concat(found, ignore_index=True)
    seen = prevalence.carelessness.set_index("installer")
    care = {"faults": "faults", "faults_expected": "expected", "carelessness": "ratio"}
    for column, of_prevalence in care.items():
        table[column] = table["installer"].map(seen[of_prevalence]).astype(np.float64)
    return table


def _with_ratios(table: pd.DataFrame) -> pd.DataFrame:
    observed, expected = table["failures"].to_numpy(), table["expected"].to_numpy()
    exact = observed_over_expected(observed, expected)
    drawn = credible_ratio(observed, expected, WORTH_OF_EVERYBODY, WORTH_OF_EVERYBODY)
    return table.assign(
        ratio=exact.ratio,
        ratio_low=exact.low,
        ratio_high=exact.high,
        drawn=drawn.mean,
        drawn_low=drawn.low,
        drawn_high=drawn.high,
    )
