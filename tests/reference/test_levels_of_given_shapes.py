"""A level over a prior hazard, and its exact limits, of published lives of a given Weibull shape.

The most likely characteristic life of a given shape is ``(sum t^b / r)^(1/b)`` with r failures: the
formula of the help of the R package WeibullR, ``weibayes``. The numbers were computed by closed
form and by a Poisson regression.
"""

import numpy as np
import pytest
from published_lifetimes import cage_lives

from scoring.learning.hazard_posterior import HazardPosterior
from scoring.learning.observed_expected import exact_limits

# shape, scale, rating life, expected at scale 10,000, observed over expected, one-sided low limit
SHAPES_GIVEN = [
    (1.5, 28982.1567, 6465.2098, 29.6037891, 0.202676758, 18419.2449),
    (2.0, 12320.3366, 3999.0931, 9.10744166, 0.658801914, 8769.5724),
    (3.0, 5408.9505, 2554.6945, 0.9494897324, 6.319183658, 4312.0478),
]


@pytest.mark.parametrize("numbers", SHAPES_GIVEN)
def test_a_given_shape_is_a_level_over_a_prior_hazard(numbers):
    shape, scale, rating, expected, ratio, low = numbers
    lives = cage_lives()
    by_prior = lives.count * (lives.end / 1e4) ** shape
    level = HazardPosterior(level_scale=1e4).fit(
        np.zeros((len(by_prior), 1)), lives.failed, prior_hazard=by_prior
    )
    assert level.events_ == 6
    assert level.expected_ == pytest.approx(expected, rel=1e-6)
    assert np.exp(level.level_) == pytest.approx(ratio, rel=1e-6)
    life = 1e4 * np.exp(-level.level_ / shape)
    assert life == pytest.approx(scale, rel=1e-6)
    assert life * (-np.log(0.9)) ** (1 / shape) == pytest.approx(rating, rel=1e-6)
    _, most = exact_limits(level.events_, 0.9)
    assert 1e4 * (level.expected_ / most) ** (1 / shape) == pytest.approx(low, rel=1e-6)


def test_three_units_without_a_failure():
    """Computed by closed form: the least characteristic life of shape 3, one-sided at 95 %."""
    _, most = exact_limits(0, 0.9)
    lives = np.array([1600.0, 2600.0, 2900.0])
    assert ((lives**3).sum() / most) ** (1 / 3) == pytest.approx(2486.624, rel=1e-6)
