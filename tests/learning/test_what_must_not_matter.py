"""Order, splitting, joining and scaling of rows change nothing."""

import numpy as np
import pytest
from drawn_fleets import DrawnFleet, drawn_fleet

from scoring.learning.hazard_posterior import HazardPosterior


def answers(found, rows):
    return np.array([found.predict(rows), found.log_hazard_spread(rows)])


@pytest.fixture(params=[3.0, 40.0])
def fleet(request):
    return drawn_fleet(11, events=request.param)


@pytest.fixture
def plain(fleet):
    return fleet.fit(HazardPosterior(lower_bound=[0.0, -0.3, 0.0, -np.inf]))


def same(found, plain, fleet):
    np.testing.assert_allclose(answers(found, fleet.rows), answers(plain, fleet.rows), rtol=1e-8)


def test_order_of_rows(fleet, plain):
    mixed = fleet.taken(np.random.default_rng(0).permutation(len(fleet.events)))
    same(mixed.fit(HazardPosterior(lower_bound=[0.0, -0.3, 0.0, -np.inf])), plain, fleet)


def test_order_of_columns(fleet, plain):
    order = [2, 0, 3, 1]
    bounds = np.array([0.0, -0.3, 0.0, -np.inf])[order]
    turned = DrawnFleet(fleet.rows[:, order], fleet.exposure, fleet.prior, fleet.events, fleet.unit)
    found = turned.fit(HazardPosterior(lower_bound=bounds))
    np.testing.assert_allclose(answers(found, turned.rows), answers(plain, fleet.rows), rtol=1e-8)


def test_twice_the_rows_at_half_the_exposure(fleet, plain):
    """The second half of each stretch ends with its failures."""
    both = np.repeat(np.arange(len(fleet.events)), 2)
    split = fleet.taken(both)
    events = np.where(np.arange(len(both)) % 2 == 1, split.events, 0.0)
    halves = DrawnFleet(split.rows, split.exposure / 2, split.prior, events, split.unit)
    same(halves.fit(HazardPosterior(lower_bound=[0.0, -0.3, 0.0, -np.inf])), plain, fleet)


def test_equal_rows_joined(fleet, plain):
    """Rows that know the same may be added up: only the sandwich needs to see the units."""
    kinds, kind = np.unique(fleet.rows, axis=0, return_inverse=True)
    found = HazardPosterior(lower_bound=[0.0, -0.3, 0.0, -np.inf]).fit(
        kinds,
        np.bincount(kind, fleet.events),
        exposure=np.bincount(kind, fleet.exposure * fleet.prior),
    )
    np.testing.assert_allclose(found.coef_, plain.coef_, atol=1e-9)
    np.testing.assert_allclose(found.covariance_, plain.covariance_, atol=1e-9)


def test_exposure_and_prior_hazard_only_count_as_their_product(fleet, plain):
    shifted = DrawnFleet(
        fleet.rows, fleet.exposure * 365.25, fleet.prior / 365.25, fleet.events, fleet.unit
    )
    found = shifted.fit(HazardPosterior(lower_bound=[0.0, -0.3, 0.0, -np.inf]))
    same(found, plain, fleet)


def test_a_column_and_its_prior_scale_turned_to_another_unit(fleet, plain):
    factor = np.array([25.4, 1.0, 0.01, 3.0])
    turned = DrawnFleet(fleet.rows * factor, fleet.exposure, fleet.prior, fleet.events, fleet.unit)
    found = turned.fit(
        HazardPosterior(
            prior_scale=0.75 / factor, lower_bound=np.array([0.0, -0.3, 0.0, -np.inf]) / factor
        )
    )
    np.testing.assert_allclose(answers(found, turned.rows), answers(plain, fleet.rows), rtol=1e-8)


def test_names_of_groups_do_not_matter_and_a_missing_name_is_one_too(fleet):
    rows, events = fleet.rows, fleet.events
    names = np.array([f"unit {number}" for number in fleet.unit], dtype=object)
    names[fleet.unit == 7] = None
    numbered, named = (
        HazardPosterior().fit(rows, events, exposure=fleet.prior, groups=groups)
        for groups in (fleet.unit, names)
    )
    np.testing.assert_array_equal(named.robust_covariance_, numbered.robust_covariance_)


def test_rows_without_exposure_say_nothing(fleet, plain):
    extra = DrawnFleet(
        np.vstack([fleet.rows, np.ones((5, 4))]),
        np.append(fleet.exposure, np.zeros(5)),
        np.append(fleet.prior, np.ones(5)),
        np.append(fleet.events, np.zeros(5)),
        np.append(fleet.unit, np.arange(5)),
    )
    same(extra.fit(HazardPosterior(lower_bound=[0.0, -0.3, 0.0, -np.inf])), plain, fleet)
