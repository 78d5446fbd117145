"""The rows that ours learns from, prepared for general-purpose models.

They get all that ours gets: what was found, the handbook's multiplier of every finding and its log
hazard, every number and word of the nameplate that bears on a hazard, the load over the bearing's
rating worked out, and the sites. A blank is filled as a careful user would: with what is usual for
such a shaft.
"""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from other_models import OFFSET, ModelRows

from scoring.consequences.bearing_loads import running_bearing_loads
from scoring.consequences.nameplate import read_nameplates
from scoring.contract.events import SEAL_LEAK
from scoring.handbook.multipliers import EFFECT_NAMES
from scoring.handbook.nameplate_columns import nameplate_columns
from scoring.learning.covariates import PLAIN_CHECKS
from scoring.learning.failure_rows import state_now
from scoring.learning.own_failures import OwnFailures
from scoring.records import DAYS_PER_YEAR

SHAFT = "shaft_diameter_mm"
NUMBERS = ("duty_h_per_day", "output_speed_rpm", "peak_factor", "starts_per_day")
RATING = "bearing_dynamic_rating_n"
WORDS = ("environment", "mounting", "seal_material", "bearing_kind")
FEW = 10
"""Nameplates below which a line through the known ones says nothing."""


@dataclass(frozen=True)
class Usual:
    """What blanks are filled with.

    Attributes
    ----------
    bad : ndarray, shape (n_checks,)
        Share of each check that is bad where it was looked at.
    sizes : dict of str to tuple of float
        Of each number its logarithm at a shaft of 1 mm, and its power of the shaft.
    ambient : float
        [°C]
    """

    bad: np.ndarray
    sizes: dict
    ambient: float


def rows_to_learn_from(units, rows, mode):
    """Lay out what is known of each stretch, and what happened in it; and what blanks were."""
    one = rows.modes[mode]
    keep = one.years > 0
    state, place = one.state.where(keep), rows.place[keep]
    bad = np.array([(state.bad[:, k] == 1).sum() for k in range(len(PLAIN_CHECKS))]) / np.maximum(
        (state.bad >= 0).sum(axis=0), 1
    )
    ambient = units["ambient_c"].mean()
    usual = Usual(
        bad,
        {name: _line(units[name], units[SHAFT]) for name in (*NUMBERS, RATING)},
        20.0 if np.isnan(ambient) else ambient,
    )
    years = one.years[keep]
    start = (rows.start_on[keep] - rows.days[0]) / np.timedelta64(1, "D") / DAYS_PER_YEAR
    features = _features(units, place, state, one.age_years[keep], usual)
    features[OFFSET] = np.log(np.maximum(one.expected[keep], 1e-12) / years)
    learned_from = ModelRows(
        features=features,
        unit=place,
        start=start,
        stop=start + years,
        events=one.events[keep, -1],
    )
    return learned_from, usual


def rows_ahead(assessment, mode, usual):
    """Lay out the same features of every unit in service; the assessment is the handbook's."""
    known = assessment.known
    risk = assessment.risk.modes[mode]
    nothing = np.zeros(len(known.units))
    log_mean = risk.multipliers.log_mean.to_numpy()
    own, plate = OwnFailures(nothing, nothing), nameplate_columns(mode, known.units)
    state = state_now(log_mean, known, (nothing, nothing), own, plate)
    age = known.history["seal_age_days" if mode == SEAL_LEAK else "bearing_age_days"].to_numpy()
    units = known.units.reset_index(drop=True)
    features = _features(units, np.arange(len(units)), state, age / DAYS_PER_YEAR, usual)
    features[OFFSET] = np.log(np.maximum(risk.expected, 1e-12))
    return features


def _line(values, shaft):
    """Fit logarithms by the logarithm of the shaft: intercept and slope."""
    known = values.notna().to_numpy()
    logs = np.log(values.to_numpy(float)[known])
    if known.sum() < FEW:
        return (logs.mean() if known.any() else 0.0), 0.0
    slope, intercept = np.polyfit(np.log(shaft.to_numpy(float)[known]), logs, 1)
    return intercept, slope


def _features(units, place, state, age, usual):
    plate = _of_nameplates(units, usual).iloc[place].reset_index(drop=True)
    columns = {
        f"handbook {name}": state.log_multipliers[:, k].astype(float)
        for k, name in enumerate(EFFECT_NAMES)
    }
    columns["handbook"] = sum(columns.values())
    bad = np.where(state.bad < 0, usual.bad, state.bad)
    columns |= {f"finding {name}": bad[:, k] for k, name in enumerate(PLAIN_CHECKS)}
    at = np.array(state.sites, dtype=object)[state.site]
    for site in sorted(set(state.sites)):
        columns[f"site {site}"] = (at == site).astype(float)
    columns["age"] = age
    columns["log age"] = np.log(age + 0.25)
    columns["early life"] = (age < 0.25).astype(float)
    return pd.concat([pd.DataFrame(columns), plate], axis=1)


def _of_nameplates(units, usual):
    log_shaft = np.log(units[SHAFT].to_numpy(float))

    def filled(name):
        intercept, slope = usual.sizes[name]
        logs = np.log(units[name].to_numpy(float))
        return np.where(np.isnan(logs), intercept + slope * log_shaft, logs)

    columns = {name: filled(name) for name in NUMBERS}
    columns[SHAFT] = log_shaft
    load = running_bearing_loads(read_nameplates(units)).max(axis=1)
    columns["load over rating"] = np.log(load) - filled(RATING)
    columns["rating unknown"] = units[RATING].isna().to_numpy(float)
    columns["warmth"] = (units["ambient_c"].fillna(usual.ambient).to_numpy(float) - 20) / 10
    for name in WORDS:
        for word in units[name].cat.categories:
            columns[f"{name} {word}"] = (units[name] == word).to_numpy(float)
    return pd.DataFrame(columns)
