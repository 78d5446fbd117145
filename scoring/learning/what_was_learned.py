"""What a fleet's own failures say of each effect, finding and site, beside the handbook's word."""

from collections.abc import Mapping

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.interval import Z90
from scoring.contract.events import MODES
from scoring.learning.covariate_exposure import covariate_exposure, plain_checks_of
from scoring.learning.covariate_meanings import CovariateMeaning, covariate_meanings
from scoring.learning.covariates import PLAIN_STATES, columns_for, handbook_columns
from scoring.learning.failure_rows import FailureRows
from scoring.learning.learned import LearnedMode, untaught
from scoring.learning.observed_expected import observed_over_expected
from scoring.learning.posterior import Posterior

Floats = NDArray[np.float64]


def what_was_learned(rows: FailureRows, learned: Mapping[str, LearnedMode]) -> pd.DataFrame:
    """Return one row for each failure and everything that may multiply its hazard.

    Parameters
    ----------
    rows : FailureRows
        Failures beside what may explain them: what was learned from, all of it.
    learned : mapping of str to LearnedMode
        What was learned of each failure. Of one left out nothing was: the fleet says what the
        handbook says.

    Returns
    -------
    DataFrame
        ``failure_mode``; ``part``, of ``PARTS``; ``effect``; ``label`` and ``state``, in words;
        ``handbook``, what the state multiplies the hazard by [-] before a failure is learned from,
        with its 90 % range ``handbook_low`` to ``handbook_high``; where learning began with other
        plants ``others``, ``others_low``, ``others_high``, what their failures say; ``fleet``,
        ``fleet_low``, ``fleet_high``, the same afterwards; ``with_finding``, the state's multiplier
        times that of the plain finding that tells of it [-]; ``failures`` while the state stood and
        ``unit_years`` for which it did [year]; ``expected``, the failures of these years, had only
        this word of the handbook stayed as it was, with ``ratio`` of observed to expected and its
        exact 90 % limits ``ratio_low``, ``ratio_high`` [-]; ``accounts_for``, the failures expected
        of these years that were not to be expected had the state been good; ``share_learned``, how
        much of its own variance before the failures took away [-]; ``origin``.

    Notes
    -----
    An effect's state is its worst; one that is found half as bad multiplies by less. An interval
    is that of the one coefficient, from the larger of its two variances; of what can only make
    things worse it does not reach below 1. When something stood is told by
    ``scoring.learning.covariate_exposure.stood``.
    """
    parts = [_of_mode(rows, learned.get(mode) or not_taught(rows, mode)) for mode in MODES]
    return pd.concat(parts, ignore_index=True)


def not_taught(rows: FailureRows, mode: str) -> LearnedMode:
    """Return what is known of a failure before any was learned from."""
    prior = rows.others.get(mode)
    if prior is not None:
        return untaught(handbook_columns(mode, (), prior))
    return untaught(columns_for(mode, rows.modes[mode].state, rows.modes[mode].years))


def deviations(posterior: Posterior) -> Floats:
    """Return the standard deviation [-] of each coefficient, the larger of the two."""
    both = (np.diag(spread) for spread in (posterior.laplace, posterior.sandwich))
    return np.sqrt(np.maximum(*both))


def _of_mode(rows: FailureRows, learned: LearnedMode) -> pd.DataFrame:
    posterior, meaning_of = learned.posterior, covariate_meanings(learned.columns)
    table = pd.DataFrame(
        {
            "failure_mode": learned.columns.mode,
            "part": [one.part for one in meaning_of],
            "effect": [one.name for one in meaning_of],
            "label": [one.label for one in meaning_of],
            "state": [one.state for one in meaning_of],
        }
    )
    nothing = np.zeros(len(meaning_of))
    _add_multiplier(table, "handbook", meaning_of, nothing, learned.columns.handbook_scale)
    before = learned.columns.before
    if before is not None:
        _add_multiplier(table, "others", meaning_of, before.mean, before.deviation)
    _add_multiplier(table, "fleet", meaning_of, posterior.coefficients, deviations(posterior))
    table["with_finding"] = table["fleet"] * np.exp(_finding_beside(learned))
    sums = covariate_exposure(rows, learned)
    table["failures"], table["unit_years"] = sums.failures, sums.years
    table["expected"], table["accounts_for"] = sums.expected, sums.accounts_for
    ratio = observed_over_expected(sums.failures, sums.expected)
    table["ratio"], table["ratio_low"], table["ratio_high"] = ratio.ratio, ratio.low, ratio.high
    table["share_learned"] = 1 - np.diag(posterior.laplace) / posterior.scale**2
    table["origin"] = [one.origin for one in meaning_of]
    return table


def _add_multiplier(
    table: pd.DataFrame, name: str, of: list[CovariateMeaning], value: Floats, deviation: Floats
) -> None:
    """Add a multiplier with its 90 % interval, which of what only worsens begins at 1 or above."""
    base, slope = (
        np.array([getattr(one, what) for one in of]) for what in ("log_multiplier", "slope")
    )
    least = np.where([one.only_worse for one in of], 0.0, -np.inf)
    middle, half = base + value * slope, Z90 * deviation * slope
    table[name] = np.exp(middle)
    table[f"{name}_low"] = np.exp(np.maximum(middle - half, least))
    table[f"{name}_high"] = np.exp(middle + half)


def _finding_beside(learned: LearnedMode) -> Floats:
    """Return what the plain finding that tells of each effect adds to the logarithm [-].

    Of several checks that tell of it, the one that adds most.
    """
    columns = learned.columns
    first = len(columns.effects)
    found = zip(PLAIN_STATES, learned.posterior.coefficients[first:], strict=False)
    weight = {check: value for state, value in found for check in state.checks}
    beside = np.zeros(len(columns.names))
    for column, name in enumerate(columns.names[:first]):
        beside[column] = max((weight[check] for check in plain_checks_of(name)), default=0.0)
    return beside
