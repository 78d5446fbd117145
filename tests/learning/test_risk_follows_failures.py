"""More failures never lower the risk where they happened; a bound never lets a finding help."""

import numpy as np
import pytest
from drawn_fleets import drawn_fleet
from hypothesis import given
from hypothesis import strategies as st

from scoring.learning.hazard_posterior import HazardPosterior


def hazards(fleet, events, bound):
    found = HazardPosterior(lower_bound=bound).fit(
        fleet.rows, events, exposure=fleet.exposure, prior_hazard=fleet.prior
    )
    return found.predict(fleet.rows, fleet.prior)


@given(
    seed=st.integers(0, 10_000),
    row=st.integers(0, 59),
    bound=st.sampled_from([0.0, -0.2, -np.inf]),
    expected=st.sampled_from([0.3, 5.0, 50.0]),
)
def test_none_one_two_failures_of_a_unit(seed, row, bound, expected):
    fleet = drawn_fleet(seed, n_rows=60, events=expected)
    risks = []
    for failures in (0.0, 1.0, 2.0):
        events = fleet.events.copy()
        events[row] = failures
        risks.append(hazards(fleet, events, bound)[row])
    assert (np.diff(risks) > -1e-9 * risks[0]).all()


@given(seed=st.integers(0, 10_000), expected=st.sampled_from([0.3, 5.0, 50.0]))
def test_a_finding_held_at_nought_never_lowers_a_risk(seed, expected):
    fleet = drawn_fleet(seed, n_rows=60, events=expected)
    found = fleet.fit(HazardPosterior(lower_bound=0.0))
    without, with_it = np.zeros((4, 4)), np.eye(4)
    assert (found.predict(with_it) >= found.predict(without)).all()


@pytest.mark.parametrize("bound", [0.0, -np.inf])
def test_exposure_without_failures_lowers_the_level(bound):
    fleet = drawn_fleet(2)
    quiet = [
        hazards(fleet, np.zeros(len(fleet.events)), bound).mean(),
        HazardPosterior(lower_bound=bound)
        .fit(fleet.rows, np.zeros(300), exposure=3 * fleet.exposure, prior_hazard=fleet.prior)
        .predict(fleet.rows, fleet.prior)
        .mean(),
    ]
    assert fleet.prior.mean() > quiet[0] > quiet[1] > 0
