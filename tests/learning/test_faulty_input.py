"""What cannot be fitted is refused with a reason, and what does not converge is said."""

import tracemalloc

import numpy as np
import pytest
from drawn_fleets import drawn_fleet
from sklearn.exceptions import ConvergenceWarning

from scoring.learning.hazard_posterior import HazardPosterior

ROWS = np.array([[0.0], [1.0]])


@pytest.mark.parametrize(
    ("settings", "given", "message"),
    [
        ({}, {"y": [-1, 0]}, "below 0"),
        ({}, {"y": [1, 0], "exposure": [0.0, 1.0]}, "no exposure"),
        ({}, {"y": [1, 0], "prior_hazard": [0.0, 1.0]}, "no prior hazard"),
        ({}, {"y": [1, 0], "exposure": [-1.0, 1.0]}, "not below 0"),
        ({}, {"y": [1, 0], "exposure": [1.0]}, "2 rows"),
        ({}, {"y": [1, 0], "prior_hazard": [np.nan, 1.0]}, "NaN"),
        ({}, {"y": [1, 0], "groups": ["a"]}, "2 rows"),
        ({"prior_scale": [1.0, 2.0]}, {"y": [1, 0]}, "1 columns"),
        ({"prior_scale": 0.0}, {"y": [1, 0]}, "above 0"),
        ({"level_scale": np.inf}, {"y": [1, 0]}, "finite"),
        ({"lower_bound": np.nan}, {"y": [1, 0]}, "lower_bound"),
    ],
)
def test_refused(settings, given, message):
    with pytest.raises(ValueError, match=message):
        HazardPosterior(**settings).fit(ROWS, **given)


def test_too_few_steps_are_said():
    with pytest.warns(ConvergenceWarning, match="1 steps"):
        HazardPosterior(max_iter=1).fit(ROWS, [5, 0])


@pytest.mark.slow
def test_two_hundred_thousand_rows_take_few_steps_and_few_copies():
    """Steps and memory, and no seconds: these depend on what else the machine does."""
    fleet = drawn_fleet(1, n_rows=200_000, n_columns=60, events=3000.0, effects=0.2)
    tracemalloc.start()
    found = fleet.fit(HazardPosterior(lower_bound=0.0))
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert found.n_iter_ < 20
    assert most < 3 * fleet.rows.nbytes
