"""More running torque, duty or peak never makes a unit safer: held, or floating, over the chain."""

import numpy as np
import pytest
from drawn_units import looks, nameplates, possible
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from looked_at_units import Unit, assess_units, chance

from scoring.contract.events import MODES
from scoring.contract.mountings import EVERY_MOUNTING

LOADS = {
    "output_torque_nm": (50.0, 250.0, 500.0, 1000.0, 2000.0, 4500.0, 8000.0, 30_000.0),
    "duty_h_per_day": (1.0, 4.0, 8.0, 16.0, 24.0),
    "peak_factor": (1.0, 1.5, 2.0, 3.0, 5.0),
}
HELD = {
    "floats": {"isolators_free": 1, "metal_contact": "no"},
    "rubber": {"isolators_free": 0, "metal_contact": "no"},
    "rubber, mis-set": {
        "isolators_free": 0,
        "metal_contact": "no",
        "arm_misset_mm": 4,
        "shaft_runout_mm": 0.4,
        "isolator_squeeze_mm": 6,
    },
    "metal": {"metal_contact": "yes"},
    "not seen": {},
}


@pytest.mark.parametrize("column", LOADS)
@pytest.mark.parametrize("held", HELD)
def test_of_a_unit_of_80_mm(column, held):
    units = [Unit({column: value}, HELD[held]) for value in LOADS[column]]
    assessment = assess_units(units)
    for mode in MODES:
        p = chance(assessment, mode)
        assert (np.diff(p) >= -1e-12 * p[:-1]).all(), (mode, p)
    bearing = chance(assessment, "low_speed_bearing")
    assert bearing[-1] > 1.1 * bearing[0]


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
@settings(
    max_examples=4,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
    phases=[Phase.explicit, Phase.reuse, Phase.generate],  # what broke is told; shrinking is slow
)
@given(data=st.data())
def test_of_drawn_units(mounting, data):
    """Also beside what cannot be known alike: whatever else stands on nameplate and walkdown."""
    plate = data.draw(nameplates(mounting))
    found = possible(plate, data.draw(looks(mounting, plate["shaft_diameter_mm"])))
    units = [
        Unit({**plate, column: value}, possible(plate, found))
        for column, values in LOADS.items()
        for value in values
    ]
    first = np.cumsum([0, *map(len, LOADS.values())])[:-1]
    same_column = ~np.isin(np.arange(1, len(units)), first)
    assessment = assess_units(units)
    for mode in MODES:
        p = chance(assessment, mode)
        assert (np.diff(p) >= -1e-12 * p[:-1])[same_column].all(), mode
