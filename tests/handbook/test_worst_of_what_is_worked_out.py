"""Effects that are worked out for each unit: their worst, and means without any spread."""

import numpy as np
import pytest

from scoring.handbook import grip_effect, held_arm_effect
from scoring.handbook.effects_table import effects_table
from scoring.handbook.worked_out_effect import MeanMultiplier
from scoring.handbook.worked_out_effects import GRIP, HELD_ARM


@pytest.mark.parametrize("mode", ["low_speed_bearing", "seal_leak"])
def test_the_worst_is_a_logarithm_with_words(mode):
    table = effects_table()
    rows = table[(table["failure_mode"] == mode) & (table["effect"] == grip_effect.NAME)]
    log, words = GRIP.worst(mode)
    assert np.exp(log) == pytest.approx(rows["multiplier"].max())
    assert words == "half of the grip lost, or more"
    log, words = HELD_ARM.worst(mode)
    assert np.exp(log) > held_arm_effect.usual_mean(mode)  # held, against held or not
    assert words == "held, at a unit of usual size"


def test_a_mean_square_a_rounding_below_the_square_of_the_mean_has_no_spread():
    mean = np.array([3.0, 3.0])
    some = MeanMultiplier.of(mean, np.array([9.0 * (1 - 2e-16), 18.0]))
    assert some.unseen_variance.tolist() == [0.0, np.log(2.0)]
