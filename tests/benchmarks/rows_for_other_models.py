"""The rows that ours learns from, prepared for general-purpose models."""

import numpy as np
import pandas as pd
from other_models import ModelRows

from scoring.contract.events import SEAL_LEAK
from scoring.handbook.multipliers import EFFECT_NAMES
from scoring.learning.covariates import PLAIN_CHECKS
from scoring.learning.failure_rows import state_now
from scoring.learning.own_failures import OwnFailures
from scoring.records import DAYS_PER_YEAR

NAMEPLATE = {
    "duty_h_per_day": 16.0,
    "output_speed_rpm": 60.0,
    "shaft_diameter_mm": 80.0,
    "peak_factor": 2.0,
}
WORDS = ("environment", "mounting", "seal_material", "bearing_kind")


def rows_to_learn_from(units, rows, mode):
    """Lay out what is known of each stretch, and what happened in it."""
    one = rows.modes[mode]
    keep = one.years > 0
    state, place = one.state.where(keep), rows.place[keep]
    share = np.array([(state.bad[:, k] == 1).sum() for k in range(len(PLAIN_CHECKS))]) / np.maximum(
        (state.bad >= 0).sum(axis=0), 1
    )
    start = (rows.start_on[keep] - rows.days[0]) / np.timedelta64(1, "D") / DAYS_PER_YEAR
    learned_from = ModelRows(
        features=_features(units.iloc[place], state, one.age_years[keep], share),
        unit=place,
        start=start,
        stop=start + one.years[keep],
        events=one.events[keep, -1],
    )
    return learned_from, share


def rows_ahead(assessment, mode, share):
    """Lay out the same features of every unit in service."""
    known = assessment.known
    log_mean = assessment.risk.modes[mode].multipliers.log_mean.to_numpy()
    nothing = np.zeros(len(known.units))
    state = state_now(log_mean, known, (nothing, nothing), OwnFailures(nothing, nothing))
    age = known.history["seal_age_days" if mode == SEAL_LEAK else "bearing_age_days"].to_numpy()
    return _features(known.units, state, age / DAYS_PER_YEAR, share)


def _features(units, state, age, share):
    units = units.reset_index(drop=True)
    columns = {
        f"handbook {name}": state.log_multipliers[:, k].astype(float)
        for k, name in enumerate(EFFECT_NAMES)
    }
    columns["handbook"] = sum(columns.values())
    bad = np.where(state.bad < 0, share, state.bad)
    columns |= {f"finding {name}": bad[:, k] for k, name in enumerate(PLAIN_CHECKS)}
    for name, usual in NAMEPLATE.items():
        columns[name] = np.log(units[name].fillna(usual).to_numpy() / usual)
    for name in WORDS:
        for word in units[name].cat.categories:
            columns[f"{name} {word}"] = (units[name] == word).to_numpy(dtype=float)
    at = np.array(state.sites, dtype=object)[state.site]
    for site in sorted(set(state.sites)):
        columns[f"site {site}"] = (at == site).astype(float)
    columns["age"] = age
    columns["early life"] = (age < 0.25).astype(float)
    return pd.DataFrame(columns)
