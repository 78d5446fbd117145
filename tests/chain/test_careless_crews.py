"""A careless crew raises the risk of what nobody saw of its work, and of nothing that was seen."""

import numpy as np
import pytest
from looked_at_units import Unit, assess_units, chance

from scoring.assessment import FleetAssessor
from scoring.contract import CHECK_BY_NAME, Worse
from scoring.contract.events import MODES
from scoring.contract.mountings import EVERY_MOUNTING, TAPERED_BUSHING
from scoring.handbook.multipliers import SEEN
from scoring.handbook.prevalence import Prevalence

PLATE = {"required_engagement_mm": 80, "screw_torque_nm": 100, "shaft_tolerance": "h8"}
MEASURED_GOOD = {
    "engagement_mm": 80,
    "shaft_diameter_measured_mm": 79.99,
    "shaft_runout_mm": 0.02,
    "torque_passes": 3,
    "final_torque_nm": 100,
    "screws_low": 0,
    "screws_missing": 0,
    "collar_gap_mm": 1.5,
    "disc_offset_mm": 0,
    "isolators_free": 1,
    "isolator_squeeze_mm": 0.5,
    "smallest_clearance_mm": 20,
    "arm_misset_mm": 0.1,
    "arm_angle_deg": 90,
    "running_temperature_c": 20,
    "vibration_mm_s": 1,
}
CARELESS = {
    "isolators_free": 0,
    "metal_contact": "yes",
    "breather": "plugged",
    "seated": "short",
    "arm_bolts": "loose",
    "arm_misset_mm": 6,
    "shaft_runout_mm": 0.6,
}
CREWS = ("careful crew", "careless crew")
LOOKED_AT = 30


def all_good(mounting):
    """Return the good value of every check of a mounting."""
    right_order = "star" if mounting == TAPERED_BUSHING else "circular"
    return {
        name: MEASURED_GOOD.get(name)
        or (right_order if check.worse is Worse.BY_MOUNTING else None)
        or (check.allowed[0] if check.allowed else MEASURED_GOOD[name])
        for name, check in CHECK_BY_NAME.items()
        if mounting in check.mountings
    }


def two_crews(mounting):
    """Each crew hung a unit nobody looked at, one seen good everywhere, and many looked at."""
    plate, good = {**PLATE, "mounting": mounting}, all_good(mounting)
    units = []
    for crew in CREWS:
        hung = {**plate, "installer": crew}
        found = {**good, **CARELESS} if crew == "careless crew" else good
        units += [Unit(hung), Unit(hung, good), *([Unit(hung, found)] * LOOKED_AT)]
    units.append(Unit(plate))
    return assess_units(units)


UNLOOKED, SEEN_GOOD = [0, LOOKED_AT + 2], [1, LOOKED_AT + 3]
"""Of each crew, careful first."""
BY_NOBODY_NAMED = -1


@pytest.fixture(scope="module", params=EVERY_MOUNTING)
def assessment(request):
    return two_crews(request.param)


@pytest.mark.parametrize("mode", MODES)
def test_what_nobody_saw_of_a_careless_crew_s_work_is_riskier(assessment, mode):
    p = chance(assessment, mode)
    careful, careless = p[UNLOOKED]
    assert careful < p[BY_NOBODY_NAMED] < careless
    assert careless > 1.15 * careful


@pytest.mark.parametrize("mode", MODES)
def test_what_was_seen_and_good_is_no_riskier_whoever_hung_it(assessment, mode):
    risk = assessment.risk.modes[mode]
    careful, careless = (risk.multipliers.log_mean.iloc[unit] for unit in SEEN_GOOD)
    assert careful.tolist() == careless.tolist()
    assert (careful.drop("grip") == 0).all()
    assert careful["grip"] <= 0  # a joint seen good slips less than usual ones
    assert risk.probability[SEEN_GOOD[0]] == risk.probability[SEEN_GOOD[1]]
    assert risk.low[SEEN_GOOD[0]] == risk.low[SEEN_GOOD[1]]


@pytest.mark.parametrize("mode", MODES)
def test_a_state_that_was_seen_multiplies_by_the_same_whoever_hung_it(assessment, mode):
    effects = assessment.risk.modes[mode].multipliers
    # what was seen of a grip is one part of it, and the rest is as usual
    seen = (effects.basis == SEEN).drop(columns="grip").to_numpy()
    logs, states = effects.log_mean.to_numpy(), effects.states.to_numpy()
    for column in np.flatnonzero(seen.any(axis=0)):
        for state in np.unique(states[seen[:, column], column]):
            same = seen[:, column] & (states[:, column] == state)
            assert np.ptp(logs[same, column]) == 0


@pytest.mark.parametrize("mode", MODES)
def test_no_effect_of_the_careless_crew_s_unlooked_unit_is_milder(assessment, mode):
    careful, careless = assessment.risk.modes[mode].multipliers.log_mean.to_numpy()[UNLOOKED]
    assert (careless >= careful).all()
    assert (careless > careful).any()


def test_where_nobody_looked_at_all_it_is_the_handbook_s_to_the_last_digits(monkeypatch):
    units = [Unit({"mounting": m, "installer": "crew A"}) for m in EVERY_MOUNTING]
    learned = assess_units(units)
    monkeypatch.setattr(FleetAssessor, "prevalence", lambda *_: Prevalence())
    handbook = assess_units(units)
    for mode in MODES:
        for what in ("expected", "probability", "low", "high"):
            one, other = (getattr(a.risk.modes[mode], what) for a in (learned, handbook))
            np.testing.assert_allclose(one, other, rtol=1e-12)
