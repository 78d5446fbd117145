"""No worse value of any check lowers a chance, raises a slip margin or softens a verdict."""

import numpy as np
import pytest
from drawn_units import ladders, looks, nameplates, possible
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from looked_at_units import Unit, assess_units, chance

from scoring.contract.events import MODES
from scoring.contract.mountings import EVERY_MOUNTING

ROUNDING = 1e-12


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
@settings(
    max_examples=4,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
    phases=[Phase.explicit, Phase.reuse, Phase.generate],  # what broke is told; shrinking is slow
)
@given(data=st.data())
def test_no_worse_value_lowers_a_chance_or_raises_a_slip_margin(mounting, data):
    plate = data.draw(nameplates(mounting))
    others = data.draw(looks(mounting, plate["shaft_diameter_mm"]))
    every = data.draw(ladders(plate))
    steps = [(ladder.check, value) for ladder in every for value in ladder.values]
    same_ladder = np.concatenate([np.arange(len(ladder.values)) > 0 for ladder in every])[1:]
    units = [Unit(plate, possible(plate, {**others, check: value})) for check, value in steps]
    assessment = assess_units(units)

    def said(broken):
        place = np.flatnonzero(broken & same_ladder)
        return [(*steps[n], steps[n + 1][1]) for n in place]

    for mode in MODES:
        p = chance(assessment, mode)
        assert not said(np.diff(p) < -ROUNDING * p[:-1]), mode
    grip = assessment.consequences.grip
    for margin in (grip.margin, grip.high, grip.ratio, grip.relied_on.astype(float)):
        assert not said(np.diff(margin) > ROUNDING * np.abs(margin[:-1]))
    assert ((grip.ratio >= 0) & (grip.ratio <= 1)).all()
    verdicts = assessment.ranking.set_index("unit_id")["verdict"].sort_index().cat.codes
    assert not said(np.diff(verdicts) > 0)
