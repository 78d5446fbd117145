"""Every effect at every unit: by what it multiplies each hazard, and how sure that is."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.usual_states import CHANCE_THAT_REWORK_TAKES
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.handbook import held_arm_effect
from scoring.handbook.effect import MODES, Effect, Evidence
from scoring.handbook.effects_of_symptoms import EFFECTS_OF_SYMPTOMS
from scoring.handbook.effects_of_the_arm import EFFECTS_OF_THE_ARM, EFFECTS_OF_THE_HOUSING
from scoring.handbook.effects_of_the_joint import EFFECTS_OF_THE_JOINT
from scoring.records import has_mounting
from scoring.timeline.known import Known, Status

Floats = NDArray[np.float64]

EFFECTS: tuple[Effect, ...] = (
    *EFFECTS_OF_THE_JOINT,
    *EFFECTS_OF_THE_ARM,
    *EFFECTS_OF_THE_HOUSING,
    *EFFECTS_OF_SYMPTOMS,
)

SEEN, REPORTED_CURED, NOT_SEEN, NOT_HERE = (
    "seen",
    "reported cured",
    "not seen",
    "not on this mounting",
)


@dataclass(frozen=True)
class Multipliers:
    """By what each effect multiplies the hazard of one failure.

    Attributes
    ----------
    log_mean : DataFrame, shape (n_units, n_effects)
        Logarithm of the mean multiplier, over what was not seen. [-]
    log_variance : DataFrame, shape (n_units, n_effects)
        Variance of the logarithm: what was not seen, and how unsure the handbook is. [-]
    basis : DataFrame of str, shape (n_units, n_effects)
        Whether the state was seen, reported cured, not seen, or is not on this mounting.
    states : DataFrame, shape (n_units, n_effects)
        The state, missing unless seen.
    """

    log_mean: pd.DataFrame
    log_variance: pd.DataFrame
    basis: pd.DataFrame
    states: pd.DataFrame


def multipliers(mode: str, evidence: Evidence) -> Multipliers:
    """Evaluate every effect at every unit.

    Parameters
    ----------
    mode : str
        The failure.
    evidence : Evidence
        What was known, limits, consequences.

    Returns
    -------
    Multipliers
    """
    columns: dict[str, tuple[Floats, Floats, NDArray[np.object_], Floats]] = {
        effect.name: _one_effect(effect, mode, evidence) for effect in EFFECTS
    }
    columns[held_arm_effect.NAME] = _held_arm(mode, evidence)
    return Multipliers(
        *(pd.DataFrame({name: parts[i] for name, parts in columns.items()}) for i in range(4))
    )


def _one_effect(
    effect: Effect, mode: str, evidence: Evidence
) -> tuple[Floats, Floats, NDArray[np.object_], Floats]:
    known = evidence.known
    here = has_mounting(known.units, effect.mountings)
    state = np.where(here, effect.state(evidence), np.nan)
    seen = ~np.isnan(state)
    cured = here & ~seen & _any_reported_cured(known, effect.checks)
    unseen = here & ~seen & ~cured

    mean, square = np.ones(len(state)), np.ones(len(state))
    multiplier = np.exp(effect.log_multiplier(mode, state[seen]))
    mean[seen], square[seen] = multiplier, multiplier**2
    take = CHANCE_THAT_REWORK_TAKES
    faulty = effect.moments_if_faulty(mode)
    mean[cured], square[cured] = (take + (1 - take) * moment for moment in faulty)
    mean[unseen], square[unseen] = effect.usual_moments(mode)

    basis = np.select([seen, cured, unseen], [SEEN, REPORTED_CURED, NOT_SEEN], NOT_HERE)
    log_mean = np.log(mean)
    variance = np.log(square / mean**2) + (effect.uncertainty * log_mean) ** 2
    return log_mean, variance, basis.astype(object), state


def _any_reported_cured(known: Known, checks: tuple[str, ...]) -> NDArray[np.bool_]:
    status = known.status[list(checks)].to_numpy()
    return np.asarray((status == Status.REPORTED_CURED).any(axis=1))


def _held_arm(mode: str, evidence: Evidence) -> tuple[Floats, Floats, NDArray[np.object_], Floats]:
    restraint = evidence.restraint
    mean, square = held_arm_effect.held_arm_moments(mode, restraint)
    log_mean = np.log(mean)
    uncertainty = held_arm_effect.UNCERTAINTY
    variance = np.log(np.maximum(square / mean**2, 1.0)) + (uncertainty * log_mean) ** 2
    held = 1 - (1 - restraint.share_clamped) * (1 - restraint.share_metal)
    cured = _any_reported_cured(evidence.known, ("isolators_free", "metal_contact"))
    basis = np.select([np.isin(held, (0, 1)), cured], [SEEN, REPORTED_CURED], NOT_SEEN)
    return log_mean, variance, basis.astype(object), held


def usual_log_product(mode: str, mounting: str) -> float:
    """Return the logarithm of the product of mean multipliers where nobody has looked.

    A field rate already contains average faults: divided by this product it is the rate of a
    unit without any.

    Examples
    --------
    >>> usual_log_product("seal_leak", "keyed_bore") > 0
    True
    """
    logs = [
        np.log(effect.usual_moments(mode)[0]) for effect in EFFECTS if mounting in effect.mountings
    ]
    return float(np.sum(logs) + np.log(held_arm_effect.usual_mean(mode)))


USUAL_LOG_PRODUCTS = {
    mode: np.array([usual_log_product(mode, mounting) for mounting in EVERY_MOUNTING])
    for mode in MODES
}
