"""What a fleet's own failures say of the handbook, and what that makes of a unit's hazard."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scoring.contract.events import MODES
from scoring.learning.covariates import (
    PARTS,
    SITE_SCALE,
    Covariates,
    State,
    columns_for,
)
from scoring.learning.failure_rows import FailureRows
from scoring.learning.posterior import Posterior, fit_posterior

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Correction:
    """What was learned, applied to units.

    Attributes
    ----------
    parts : ndarray, shape (n_units, n_parts)
        Logarithm of what each of ``PARTS`` multiplies the handbook's hazard by. [-]
    log_spread : ndarray, shape (n_units,)
        Standard deviation of their sum. [-]
    share_learned : ndarray, shape (n_units,)
        How much of the handbook's own variance the failures took away, 0 to 1. [-]
    """

    parts: Floats
    log_spread: Floats
    share_learned: Floats

    @property
    def log_ratio(self) -> Floats:
        """Logarithm [-] of learned over handbook hazard."""
        total: Floats = self.parts.sum(axis=1)
        return total


@dataclass(frozen=True)
class LearnedMode:
    """What was learned of one failure mode.

    Attributes
    ----------
    columns : Covariates
        What each coefficient belongs to.
    posterior : Posterior
        Coefficients and covariances.
    """

    columns: Covariates
    posterior: Posterior

    @property
    def of_nameplate(self) -> Floats:
        """What was learned of the nameplate [-] beside the handbook, in the order of its terms."""
        here = self.columns.part_of_column == PARTS.index("nameplate")
        found: Floats = self.posterior.coefficients[here]
        return found

    def log_ratio(self, state: State) -> Floats:
        """Return log(learned over handbook hazard) [-] of each row, and nothing else."""
        return np.asarray(self._pieces(self.columns.design(state), state).sum(axis=1))

    def correct(self, state: State) -> Correction:
        """Apply what was learned.

        Parameters
        ----------
        state : State
            What may explain failures of the units ahead.

        Returns
        -------
        Correction
        """
        design = self.columns.design(state)
        pieces = self._pieces(design, state)
        parts = np.stack(
            [
                pieces[:, self.columns.part_of_column == place].sum(axis=1)
                for place in range(len(PARTS))
            ],
            axis=1,
        )
        unknown = self.columns.of_unknown_site(state) * SITE_SCALE**2
        return Correction(
            parts,
            np.sqrt(self.posterior.log_spread(design) ** 2 + unknown),
            self.posterior.share_learned(design),
        )

    def _pieces(self, design: Floats, state: State) -> Floats:
        """Return what each column adds to the logarithm; of ages, the mean over the time ahead."""
        pieces: Floats = design * self.posterior.coefficients
        for part, share in (("early life", state.early), ("old age", state.old)):
            for column in np.flatnonzero(self.columns.part_of_column == PARTS.index(part)):
                change = np.expm1(self.posterior.coefficients[column])
                pieces[:, column] = np.log1p(share * change)
        return pieces


@dataclass(frozen=True)
class Learned:
    """What was learned of every failure.

    Attributes
    ----------
    modes : dict of str to LearnedMode
        For each failure that was written down at any time.
    """

    modes: dict[str, LearnedMode]


def learn(rows: FailureRows, by: int = -1, only: NDArray[np.bool_] | None = None) -> Learned | None:
    """Correct the handbook by failures.

    Parameters
    ----------
    rows : FailureRows
        Failures beside what may explain them.
    by : int
        As of which of ``rows.days`` to learn; by default the last.
    only : ndarray of bool, shape (n_rows,), optional
        Rows to learn from; by default all.

    Returns
    -------
    Learned or None
        None where nothing was observed.

    Notes
    -----
    For each failure the hazard is the handbook's times ``exp(x b)``, x as prepared by
    ``Covariates``: the logarithms of the multipliers, whose coefficients are bounded so that
    no multiplier falls below 1; plain findings, and a unit's own failures so far, which can
    only add; site, early life, old age and level. The
    b are where failures and Gaussian priors together are likeliest, the failures of each row
    following a Poisson law.
    """
    by = range(len(rows.days))[by]
    here = rows.period <= by
    if only is not None:
        here &= only
    if not here.any():
        return None
    _, group = np.unique(rows.place[here], return_inverse=True)
    modes = {}
    for mode in MODES:
        one = rows.modes[mode]
        if not (one.years[here] > 0).any():
            continue
        state, expected = one.state_by(rows.place, by).where(here), one.expected[here]
        columns = columns_for(mode, state, one.years[here])
        failures = one.failures_by(by)[here]
        posterior = fit_posterior(
            columns.design(state),
            failures,
            expected,
            scale=columns.scale,
            floor=columns.floor,
            group=group,
            start=_level_alone(columns, float(failures.sum()), float(expected.sum())),
        )
        modes[mode] = LearnedMode(columns, posterior)
    return Learned(modes)


def _level_alone(columns: Covariates, failures: float, expected: float) -> Floats:
    """Return coefficients that correct nothing but the level: a good place for a fit to begin."""
    start = np.zeros(len(columns.scale))
    prior = columns.scale[-1] ** -2
    start[-1] = np.log((failures + prior) / (expected + prior))
    return start
