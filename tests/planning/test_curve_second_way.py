"""The curve of hours against a linear programme that divides sets of work at will."""

import numpy as np
import pandas as pd
import pytest
from drawn_work import draw_sets
from scipy.optimize import linprog

from scoring.planning.curve import curve_of_hours


def most_avoided(sets, hours):
    """Return the most that so many hours avoid if parts of sets may be done."""
    of_unit = sets["unit"].to_numpy()[np.newaxis] == np.unique(sets["unit"])[:, np.newaxis]
    rows = np.vstack([of_unit.astype(float), sets["hours"].to_numpy(dtype=float)])
    limits = np.append(np.ones(len(of_unit)), hours)
    return -linprog(-sets["loss_avoided"].to_numpy(), A_ub=rows, b_ub=limits).fun


@pytest.mark.parametrize("currency", [1.0, 1e-3])
@pytest.mark.parametrize("seed", range(8))
def test_the_curve_is_the_best_that_parts_of_sets_can_do(seed, currency):
    sets = draw_sets(np.random.default_rng(400 + seed), n_units=12, most_sets=5)
    sets["loss_avoided"] *= currency
    curve = curve_of_hours(sets)
    for hours in np.linspace(0, curve["hours"].iloc[-1] * 1.1, 9):
        told = np.interp(hours, curve["hours"], curve["loss_avoided"])
        assert told == pytest.approx(most_avoided(sets, hours), rel=1e-6, abs=1e-9)


@pytest.mark.parametrize("seed", range(4))
def test_in_another_currency_the_curve_is_the_same_but_for_its_scale(seed):
    sets = draw_sets(np.random.default_rng(500 + seed), n_units=25, most_sets=6)
    one, other = (
        curve_of_hours(sets),
        curve_of_hours(sets.assign(loss_avoided=sets["loss_avoided"] / 4096)),
    )
    pd.testing.assert_frame_equal(one[["hours"]], other[["hours"]])
    np.testing.assert_allclose(other["loss_avoided"] * 4096, one["loss_avoided"])
