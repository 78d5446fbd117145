"""How often a joint slips by its margin, given what it survived: by hand and a second way."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.stats import norm

from scoring.handbook.slip_hazard import LOG_MARGINS, slip_hazards, slips_of_a_margin

FIELD_RATE = 0.003


def hazard_of(log_margin: float, usual_slips: float) -> float:
    margin = np.exp(log_margin)
    return FIELD_RATE * (0.3 + 1 / (margin**4 + 1 / 60)) / usual_slips


def survives(middle: float, spread: float, usual_slips: float, years: float) -> float:
    def share(x: float) -> float:
        return np.exp(-hazard_of(x, usual_slips) * years) * norm.pdf(x, middle, spread)

    return quad(share, middle - 9 * spread, middle + 9 * spread, epsabs=1e-13, limit=200)[0]


def test_slips_fall_smoothly_from_those_of_no_grip_to_those_that_no_margin_shows():
    margin = np.linspace(0, 12, 400)
    slips = slips_of_a_margin(margin)
    assert (np.diff(slips) < 0).all()
    assert slips[0] == pytest.approx(60.3)
    assert slips[-1] == pytest.approx(0.3, rel=1e-3)
    # between, twice the margin slips a sixteenth as often, what no margin shows apart
    assert (slips_of_a_margin(np.array(1.0)) - 0.3) / (
        slips_of_a_margin(np.array(2.0)) - 0.3
    ) == pytest.approx(16, rel=0.02)


@pytest.mark.parametrize("spread", [0.1, 0.2, 0.25])
@pytest.mark.parametrize("years", [0.0, 1.0, 5.0])
@pytest.mark.parametrize("middle", [-2.0, -0.5, 0.0, 0.6, 1.2])
def test_the_year_ahead_of_what_survived_by_another_integral(middle, years, spread):
    """What is left after one year more, over what was left; by adaptive quadrature."""
    ahead, square = slip_hazards(spread, 0.5).at(np.array([middle]), np.array([years]))
    left = survives(middle, spread, 0.5, years + 1) / survives(middle, spread, 0.5, years)
    assert ahead[0] == pytest.approx(-np.log(left), rel=1e-5)
    assert square[0] >= ahead[0] ** 2 * 0.5


@pytest.mark.parametrize("years", [0.1, 0.25, 0.5, 2.0, 3.0, 8.0, 12.0, 20.0])
def test_the_year_ahead_at_every_age_that_is_worked_out(years):
    ahead, _ = slip_hazards(0.25, 0.5).at(np.array([-0.5]), np.array([years]))
    left = survives(-0.5, 0.25, 0.5, years + 1) / survives(-0.5, 0.25, 0.5, years)
    assert ahead[0] == pytest.approx(-np.log(left), rel=1e-5)


def test_a_joint_that_has_run_is_better_than_it_was_taken_for():
    hazards = slip_hazards(0.25, 0.1)
    weak = np.full(11, -0.5)
    ahead, _ = hazards.at(weak, np.linspace(0, 20, 11))
    assert (np.diff(ahead) < 0).all()
    assert ahead[-1] < 0.6 * ahead[0]
    # where its margin is known for sure, surviving says nothing new
    sure, _ = slip_hazards(0.05, 0.1).at(np.full(2, -3.5), np.array([0.0, 20.0]))
    assert sure[1] == pytest.approx(sure[0], rel=1e-3)


@given(
    st.floats(-4, 4),
    st.floats(0, 1),
    st.floats(0, 25),
    st.sampled_from([0.075, 0.1, 0.175, 0.25]),
    st.floats(0.05, 5),
)
def test_a_smaller_margin_never_slips_less(middle, less, years, spread, usual_slips):
    hazards = slip_hazards(spread, round(usual_slips, 1) + 0.05)
    ahead, _ = hazards.at(np.array([middle, middle - less]), np.array([years, years]))
    assert ahead[1] >= ahead[0] * (1 - 1e-12)


def test_beyond_the_table_its_ends_stand():
    hazards = slip_hazards(0.1, 0.5)
    ends, _ = hazards.at(LOG_MARGINS[[0, -1]], np.zeros(2))
    beyond, _ = hazards.at(np.array([-50.0, 50.0]), np.zeros(2))
    assert beyond == pytest.approx(ends)
    assert ends[0] == pytest.approx(FIELD_RATE * 60.3 / 0.5, rel=1e-3)
    assert ends[1] == pytest.approx(FIELD_RATE * 0.3 / 0.5, rel=1e-3)
