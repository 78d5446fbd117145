"""The hazard of each failure and the chance of the first one within a horizon."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.interval import Z90
from scoring.consequences.row_sums import row_sums
from scoring.contract.events import JOINT_SLIP, MODES, SEAL_LEAK
from scoring.handbook import grip_effect
from scoring.handbook.base_rates import BASE_RATES
from scoring.handbook.handbook_hazard import age_exposure, log_base
from scoring.handbook.multipliers import Multipliers, multipliers
from scoring.handbook.nameplate_columns import nameplate_columns
from scoring.handbook.unit_evidence import UnitEvidence
from scoring.learning.credit_of_cures import log_not_credited
from scoring.learning.failure_rows import shares_of_ages, state_now
from scoring.learning.learned import Correction, LearnedMode
from scoring.learning.own_failures import OwnFailures
from scoring.learning.past_states import bad_as_known
from scoring.records import DAYS_PER_YEAR
from scoring.risk.chance_of_failing import chance_of_failing
from scoring.timeline.known import Known
from scoring.timeline.what_hanging_does import WITNESS_MARK

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class ModeRisk:
    """The risk of one failure at each unit.

    Attributes
    ----------
    log_base : ndarray, shape (n_units,)
        Logarithm of the handbook's rate of a unit without faults, of its duty and surroundings, at
        the usual age. [log 1/year]
    multipliers : Multipliers
        What multiplies it.
    correction : Correction or None
        What the fleet's own failures multiply that by; None by the handbook alone.
    age_exposure : ndarray, shape (n_units,)
        Horizon in years, weighted by how the hazard grows with age. [year]
    log_spread : ndarray, shape (n_units,)
        Standard deviation of the logarithm of the hazard. [-]
    expected : ndarray, shape (n_units,)
        Expected failures within the horizon, were the unit to go on. [-]
    probability, low, high : ndarray, shape (n_units,)
        Chance of the first failure within the horizon, and its 90 % interval. [-]
    credited : ndarray, shape (n_units,)
        The chance with which re-work that is only hypothetical is credited; ``probability`` where
        there is none. [-]
    """

    log_base: Floats
    multipliers: Multipliers
    correction: Correction | None
    age_exposure: Floats
    log_spread: Floats
    expected: Floats
    probability: Floats
    low: Floats
    high: Floats
    credited: Floats


def mode_risk(
    mode: str,
    evidence: UnitEvidence,
    horizon_days: int,
    learned: tuple[LearnedMode, OwnFailures] | None = None,
    effects: Multipliers | None = None,
) -> ModeRisk:
    r"""Work out the risk of one failure.

    .. math:: p = E[1 - \exp(-H X)], \quad H = h_0 \prod_k M_k \, R \int (a / a_0)^{b - 1} da

    Parameters
    ----------
    mode : str
        The failure.
    evidence : UnitEvidence
        What was known, limits, how the torque arm is held, how usual faults are.
    horizon_days : int
        Days looked ahead, above 0. [d]
    learned : tuple of LearnedMode and OwnFailures, optional
        What the fleet's own failures say, and those of each unit; without it ``R`` is 1.
    effects : Multipliers, optional
        What multiplies the hazard, where it is worked out already.

    Returns
    -------
    ModeRisk

    Notes
    -----
    ``X`` is by how much units alike on paper differ. The hazard is lognormal about its mean ``H``:
    its spread joins what was not seen or is blank, how units alike on paper differ, and how unsure
    the handbook is or, with failures to learn from, how unsure these leave it. A 90 % interval lies
    about the median, exp(-spread² / 2) times the mean, and holds the chance. A seal seen dripping
    has failed: its probability is 1 until it is renewed; a joint whose witness mark was seen moved
    has slipped, until its seat was seen. Hypothetical re-work is credited what its cures are known
    to do: neither all of what was learned nor all of a bound; that is no less than the chance that
    is predicted.
    """
    rate, known = BASE_RATES[mode], evidence.known
    if effects is None:
        effects = multipliers(mode, evidence)
    age = known.history[rate.age_column].to_numpy()
    start = age / DAYS_PER_YEAR
    end = start + horizon_days / DAYS_PER_YEAR
    exposure = age_exposure(rate, start, end)
    plate = nameplate_columns(mode, known.units, evidence.nameplate)
    base = log_base(known.units, plate)
    log_mean = effects.log_mean.to_numpy()
    expected = np.exp(base + row_sums(log_mean)) * exposure
    of_effects = effects.log_variance.to_numpy() - effects.unseen_variance.to_numpy()
    unsure = rate.uncertainty**2 + row_sums(of_effects) + plate.variance
    blanks = plate.variance_of_blanks()
    correction, withheld = None, grip_effect.log_not_credited(mode, evidence)
    if learned is not None:
        of_fleet, own = learned
        state = state_now(log_mean, known, shares_of_ages(mode, start, end), own, plate)
        correction = of_fleet.correct(state)
        if known.hypothetical is not None:
            before = replace(state, bad=bad_as_known(known.hypothetical.before))
            withheld = withheld + log_not_credited(of_fleet, before, state)
        expected = expected * np.exp(correction.log_ratio)
        untaught = np.delete(of_effects, of_fleet.columns.effects, axis=1)
        unsure = correction.log_spread**2 + row_sums(untaught)
        if of_fleet.columns.level_alone:
            unsure += plate.variance
        else:
            blanks = plate.variance_of_blanks(of_fleet.of_nameplate)
    unseen = row_sums(effects.unseen_variance.to_numpy()) + blanks
    spread = np.sqrt(unsure + unseen + rate.unlike_units**2)
    median = expected * np.exp(-(spread**2) / 2)
    chance = chance_of_failing(expected)
    low, high = (-np.expm1(-median * np.exp(sign * Z90 * spread)) for sign in (-1, 1))
    limits = (chance, np.minimum(low, chance), np.maximum(high, chance))
    credited = chance_of_failing(expected * np.exp(withheld))
    failed = _has_failed(mode, known)
    return ModeRisk(
        base,
        effects,
        correction,
        exposure,
        spread,
        expected,
        *(np.where(failed, 1.0, one) for one in (*limits, credited)),
    )


def mode_risks(
    evidence: UnitEvidence,
    horizon_days: int,
    learned: dict[str, tuple[LearnedMode, OwnFailures]],
    effects: Mapping[str, Multipliers] = MappingProxyType({}),
) -> dict[str, ModeRisk]:
    """Work out the risk of every failure.

    Parameters
    ----------
    evidence : UnitEvidence
        What was known, limits, how the torque arm is held, how usual faults are.
    horizon_days : int
        Days looked ahead, above 0. [d]
    learned : dict of str to tuple of LearnedMode and OwnFailures
        What the fleet's own failures say, and those of each unit, for each failure whose hazard
        they are to correct.
    effects : mapping of str to Multipliers, optional
        What multiplies each hazard, where it is worked out already.

    Returns
    -------
    dict of str to ModeRisk
        For each of ``MODES``.
    """
    return {
        mode: mode_risk(mode, evidence, horizon_days, learned.get(mode), effects.get(mode))
        for mode in MODES
    }


def _has_failed(mode: str, known: Known) -> NDArray[np.bool_]:
    if mode == SEAL_LEAK:
        return known.history["leak_since"].notna().to_numpy(dtype=bool)
    if mode == JOINT_SLIP:
        return np.asarray(known.exceedance[WITNESS_MARK] > 0)
    return np.zeros(len(known.units), dtype=bool)
