"""The interval of a fleet's expected loss, beside draws of all that is unsure."""

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest
from kept_plants import SMALL_QUARRY

from scoring.assessment import FleetAssessor
from scoring.consequences.interval import Z90
from scoring.contract.events import MODES
from scoring.files.read_fleet import read_fleet
from scoring.handbook.base_rates import BASE_RATES
from scoring.intake import check_fleet
from scoring.risk.chance_of_failing import chance_of_failing
from scoring.risk.fleet_risk import FleetRisk
from scoring.risk.loss_of_the_fleet import loss_of_the_fleet

AS_OF = pd.Timestamp("2026-06-30")
DRAWS = 4000


@pytest.fixture(scope="module")
def assessor():
    return FleetAssessor(check_fleet(read_fleet(SMALL_QUARRY).tables, AS_OF).fleet)


def said_of(assessment):
    corrections = assessment.yardstick.corrections(assessment.known.place)
    return loss_of_the_fleet(assessment.known, assessment.risk, 365, corrections)


def test_the_mean_is_the_sum_of_the_ranking(assessor):
    assessment = assessor.assess(AS_OF)
    loss = said_of(assessment)
    assert loss.mean == pytest.approx(assessment.ranking["expected_loss"].sum(), rel=1e-6)
    assert loss.units == len(assessment.ranking)
    assert loss.low < loss.mean < loss.high


def test_by_the_handbook_it_is_as_wide_as_draws_are(assessor):
    """All units share the level, each effect and each power; all else each has for itself."""
    assessment = assessor.assess(AS_OF)
    random = np.random.default_rng(9001)
    total = np.zeros(DRAWS)
    for mode in MODES:
        one, rate = assessment.risk.modes[mode], BASE_RATES[mode]
        many = one.multipliers
        of_effects = (many.log_variance - many.unseen_variance).to_numpy()
        size = (DRAWS, of_effects.shape[1])
        shared = random.normal(size=size) @ np.sqrt(np.maximum(of_effects, 0)).T
        shared += rate.uncertainty * random.normal(size=(DRAWS, 1))
        alone = one.log_spread**2 - rate.uncertainty**2 - of_effects.sum(axis=1)
        logs = shared + np.sqrt(alone) * random.normal(size=shared.shape)
        logs -= one.log_spread**2 / 2
        failed = one.low >= 1
        chance = np.where(failed, 1.0, chance_of_failing(one.expected * np.exp(logs)))
        total += chance @ assessment.risk.costs.of_failure(mode)
    loss = said_of(assessment)
    drawn = np.log(np.quantile(total, 0.95) / np.quantile(total, 0.05)) / (2 * Z90)
    assert np.log(loss.high / loss.low) / (2 * Z90) == pytest.approx(drawn, rel=0.15)


def test_failures_make_it_narrower(assessor):
    by_handbook = said_of(assessor.assess(AS_OF))
    learned = said_of(assessor.assess(AS_OF, 365, assessor.learn(AS_OF)))
    assert learned.high / learned.low < by_handbook.high / by_handbook.low


def test_what_has_failed_is_lost_for_certain(assessor):
    assessment = assessor.assess(AS_OF)
    one = np.ones(len(assessment.known.units))
    modes = {
        mode: replace(risk, probability=one, low=one, high=one)
        for mode, risk in assessment.risk.modes.items()
    }
    costs = assessment.risk.costs
    loss = sum(costs.of_failure(mode) for mode in MODES)
    certain = loss_of_the_fleet(assessment.known, FleetRisk(modes, costs, loss), 365, {})
    assert certain.low == certain.mean == certain.high == pytest.approx(loss.sum())
