"""What a fleet's own failures say of the handbook, and what that makes of a unit's hazard."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import TypeVar

import numpy as np
import pandas as pd
from numpy.typing import NDArray
from threadpoolctl import threadpool_limits

from scoring.consequences.row_sums import row_sums
from scoring.contract.events import MODES
from scoring.learning.covariates import (
    PARTS,
    SITE_SCALE,
    Covariates,
    State,
    columns_by_kind,
    handbook_columns,
)
from scoring.learning.covariates_in_parts import RepeatedRows, in_parts
from scoring.learning.failure_rows import FailureRows
from scoring.learning.hazard_ratio import HazardRatio
from scoring.learning.posterior import Posterior, fit_coefficients, fit_posterior
from scoring.learning.side_by_side import side_by_side

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Answer = TypeVar("Answer")

MOST_ROWS_SIDE_BY_SIDE = 500_000
"""Of more rows one failure is learned of after the other, to bound memory. Ours."""


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
        return row_sums(self.parts)


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
    def by_others_alone(self) -> bool:
        """Whether other plants alone say it: nothing of this fleet was observed."""
        return self.columns.prior is not None and self.posterior.n_steps == 0

    @property
    def of_nameplate(self) -> Floats:
        """What was learned of the nameplate [-] beside the handbook, in the order of its terms."""
        here = self.columns.part_of_column == PARTS.index("nameplate")
        found: Floats = self.posterior.coefficients[here]
        return found

    @property
    def ratio(self) -> HazardRatio:
        """What it multiplies hazards by, and nothing else."""
        return HazardRatio(self.columns, self.posterior.coefficients)

    def log_ratio(self, state: State) -> Floats:
        """Return log(learned over handbook hazard) [-] of each row, and nothing else."""
        return self.ratio.log_ratio(state)

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
        pieces = np.ascontiguousarray(self.ratio.pieces(design, state).T)
        parts = np.zeros((len(PARTS), len(state)))
        for part, column in zip(self.columns.part_of_column, pieces, strict=True):
            parts[part] += column
        unknown = self.columns.of_unknown_site(state) * SITE_SCALE**2
        spread, share = self.posterior.spread_and_share(design)
        return Correction(parts.T, np.sqrt(spread**2 + unknown), share)


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
    following a Poisson law. Where other plants were learned from, these priors are theirs, and
    stand alone where nothing was observed.
    """
    modes = _of_each_mode(rows, partial(_learn_mode, rows, by, only))
    return Learned(modes) if modes else None


def learn_ratios(
    rows: FailureRows, by: int = -1, only: NDArray[np.bool_] | None = None
) -> dict[str, HazardRatio]:
    """Learn what ``learn`` does, but not how sure it is: enough to predict with.

    Parameters
    ----------
    rows, by, only
        As for ``learn``.

    Returns
    -------
    dict of str to HazardRatio
        For each failure that was observed, or of which other plants say something.
    """
    return _of_each_mode(rows, partial(_ratio_of_mode, rows, by, only))


def _of_each_mode(rows: FailureRows, answer: Callable[[str], Answer | None]) -> dict[str, Answer]:
    with threadpool_limits(limits=1, user_api="blas"):  # around all threads, which share it
        large = len(rows) > MOST_ROWS_SIDE_BY_SIDE
        found = map(answer, MODES) if large else side_by_side(answer, MODES)
        return {mode: one for mode, one in zip(MODES, found, strict=True) if one is not None}


def _learn_mode(
    rows: FailureRows, by: int, only: NDArray[np.bool_] | None, mode: str
) -> LearnedMode | None:
    seen = _rows_of(rows, mode, by, only)
    if seen is None:
        return _of_others_alone(rows, mode)
    columns = _columns_of(rows, seen)
    return LearnedMode(columns, _fit(columns, seen, columns.floor))


def _ratio_of_mode(
    rows: FailureRows, by: int, only: NDArray[np.bool_] | None, mode: str
) -> HazardRatio | None:
    seen = _rows_of(rows, mode, by, only)
    if seen is None:
        others = _of_others_alone(rows, mode)
        return None if others is None else others.ratio
    columns = _columns_of(rows, seen)
    return HazardRatio(columns, _fitted(columns, seen, columns.floor, fit_coefficients))


def _of_others_alone(rows: FailureRows, mode: str) -> LearnedMode | None:
    prior = rows.others.get(mode)
    return None if prior is None else untaught(handbook_columns(mode, (), prior))


def _columns_of(rows: FailureRows, seen: "_Seen") -> Covariates:
    prior = rows.others.get(seen.mode)
    if prior is not None:
        return handbook_columns(seen.mode, seen.sites, prior)
    kinds = seen.repeated.kinds
    weight = np.bincount(seen.repeated.kind[seen.rows], seen.years, len(kinds))
    return columns_by_kind(seen.mode, kinds, weight.astype(np.float64), seen.sites)


def learn_unbounded(rows: FailureRows) -> Learned:
    """Learn in columns that mean the same in every plant, for others to learn from.

    Parameters
    ----------
    rows : FailureRows
        Failures of one plant beside what may explain them.

    Returns
    -------
    Learned
        Without the bounds, behind which what speaks against an effect would be lost, while what
        speaks for it is kept: plants taken together would then say too much.
    """
    modes = {}
    for mode in MODES:
        seen = _rows_of(rows, mode, -1, None)
        if seen is not None:
            columns = handbook_columns(mode, seen.sites)
            no_bound = np.full(len(columns.names), -np.inf)
            modes[mode] = LearnedMode(columns, _fit(columns, seen, no_bound))
    return Learned(modes)


def untaught(columns: Covariates) -> LearnedMode:
    """Return what is known of a failure where none of this fleet was observed.

    Parameters
    ----------
    columns : Covariates
        With what other plants say; else the handbook alone stands.

    Returns
    -------
    LearnedMode
    """
    scale, free = columns.scale, np.zeros(len(columns.names), dtype=bool)
    before = columns.before
    mean = np.zeros(len(scale)) if before is None else before.mean
    spread = np.diag(scale**2) if before is None else before.covariance
    return LearnedMode(
        columns,
        Posterior(mean, free, scale, spread, spread, 0.0, 0.0, 0, converged=True, before=before),
    )


@dataclass(frozen=True)
class _Seen:
    """The rows of one failure in which it could be observed.

    Attributes
    ----------
    mode : str
        The failure.
    state, repeated
        Of all rows.
    rows : ndarray of int or slice, shape (n_rows,)
        Which of them; all else is of these.
    """

    mode: str
    state: State
    repeated: RepeatedRows
    rows: Ints | slice
    years: Floats
    failures: Floats
    expected: Floats
    unit: Ints

    @property
    def sites(self) -> tuple[str, ...]:
        """The sites at which there are rows, sorted."""
        here = np.bincount(self.state.site[self.rows], minlength=len(self.state.sites))
        return tuple(self.state.sites[site] for site in np.flatnonzero(here))


def _rows_of(rows: FailureRows, mode: str, by: int, only: NDArray[np.bool_] | None) -> _Seen | None:
    by = range(len(rows.days))[by]
    here = rows.period <= by
    if only is not None:
        here &= only
    one = rows.modes[mode]
    some = slice(None) if here.all() else np.flatnonzero(here)
    years = one.years[some]
    if not (years > 0).any():
        return None
    return _Seen(
        mode,
        one.state_by(rows.place, by),
        one.repeated,
        some,
        years,
        one.failures_by(by)[some],
        one.expected[some],
        pd.factorize(rows.place[some])[0],
    )


def _fit(columns: Covariates, seen: _Seen, floor: Floats) -> Posterior:
    return _fitted(columns, seen, floor, partial(fit_posterior, group=seen.unit))


def _fitted(columns: Covariates, seen: _Seen, floor: Floats, fit: Callable[..., Answer]) -> Answer:
    failures, expected = float(seen.failures.sum()), float(seen.expected.sum())
    return fit(
        in_parts(columns, seen.state, seen.repeated, seen.rows),
        seen.failures,
        seen.expected,
        scale=columns.scale,
        floor=floor,
        start=_level_alone(columns, failures, expected),
        before=columns.before,
    )


def _level_alone(columns: Covariates, failures: float, expected: float) -> Floats:
    """Return coefficients that correct nothing but the level: a good place for a fit to begin."""
    start = np.zeros(len(columns.scale))
    prior = columns.scale[-1] ** -2
    start[-1] = np.log((failures + prior) / (expected + prior))
    return start
