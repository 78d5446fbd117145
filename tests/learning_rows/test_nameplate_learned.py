"""What failures say of the nameplate, on rows whose failures follow powers that are known."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from generated_fleets import AS_OF, generated_assessor
from scipy.optimize import minimize

from scoring.handbook.nameplate_columns import TERMS
from scoring.learning.covariates import PARTS
from scoring.learning.learned import learn

MODES = ("low_speed_bearing", "seal_leak")
TRUE = {"duty_h_per_day": 0.5, "output_speed_rpm": -0.4, "environment: dusty": 0.3}
"""Beside the handbook's; all others are the handbook's."""
MANY = 300.0
"""Times the years, so that chance hides nothing."""


@cache
def rows_with_known_powers(mode):
    """Let failures of a generated fleet's rows follow the handbook and the powers above."""
    rows, names = generated_assessor(200, 5).failure_rows(AS_OF), TERMS[mode].names
    one = rows.modes[mode]
    one = replace(one, aged_years=MANY * one.aged_years, years=MANY * one.years)
    truth = np.array([TRUE.get(name, 0.0) for name in names])
    mean = one.expected * np.exp(one.state.nameplate @ truth)
    events = np.random.default_rng(3).poisson(mean)
    per_day = np.repeat(events[:, np.newaxis], len(rows.days), axis=1)
    return replace(rows, modes={**rows.modes, mode: replace(one, events=per_day)}), truth


def of_nameplate(mode):
    rows, truth = rows_with_known_powers(mode)
    learned = learn(rows).modes[mode]
    here = learned.columns.part_of_column == PARTS.index("nameplate")
    return rows, learned, here, truth


@pytest.mark.parametrize("mode", MODES)
def test_powers_that_are_true_are_found(mode):
    rows, learned, here, truth = of_nameplate(mode)
    assert rows.modes[mode].events[:, -1].sum() > 1500
    found = dict(zip(TERMS[mode].names, learned.posterior.coefficients[here], strict=True))
    for name, power in TRUE.items():
        assert found[name] == pytest.approx(power, abs=0.2)
    deviation = np.sqrt(
        np.maximum(
            *(np.diag(c)[here] for c in (learned.posterior.laplace, learned.posterior.sandwich))
        )
    )
    off = (learned.posterior.coefficients[here] - truth) / deviation
    assert (np.abs(off) < 3.5).all()
    assert (deviation < TERMS[mode].deviation).all()


@pytest.mark.parametrize("mode", MODES)
def test_a_plain_search_over_these_columns_finds_the_same(mode):
    """All else as learned, by the slope of the likelihood written out row by row sums."""
    rows, learned, here, _ = of_nameplate(mode)
    one, posterior = rows.modes[mode], learned.posterior
    design = learned.columns.design(one.state_by(rows.place, -1))
    others = np.exp(design[:, ~here] @ posterior.coefficients[~here])
    base, plate = one.expected * others, one.state.nameplate
    events = one.events[:, -1]
    scale = TERMS[mode].deviation

    def minus_log_posterior(b):
        logs = plate @ b
        mean = base * np.exp(logs)
        value = mean.sum() - (events * logs).sum() + 0.5 * ((b / scale) ** 2).sum()
        return value, plate.T @ (mean - events) + b / scale**2

    bounds = [(low if np.isfinite(low) else None, None) for low in TERMS[mode].floor]
    found = minimize(
        minus_log_posterior,
        np.zeros(len(scale)),
        jac=True,
        bounds=bounds,
        method="L-BFGS-B",
        options={"ftol": 1e-15, "gtol": 1e-9, "maxiter": 5000},
    )
    assert found.x == pytest.approx(posterior.coefficients[here], abs=2e-4)


def test_of_slips_nothing_is_learned_of_the_nameplate():
    learned = learn(generated_assessor(200, 5).failure_rows(AS_OF)).modes.get("joint_slip")
    if learned is not None:
        assert learned.columns.nameplate == ()
        assert len(learned.of_nameplate) == 0
