"""Whatever a fleet's failures taught, no worse value of any check lowers a chance."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from drawn_units import ladders, looks, nameplates, possible
from generated_fleets import AS_OF as LEARNED_ON
from generated_fleets import generated_assessor
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from looked_at_units import Unit, assess_units

from scoring.contract.events import MODES
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.handbook.unit_evidence import UnitEvidence
from scoring.learning.covariates import handbook_columns
from scoring.learning.learned import Learned, learn, learn_unbounded
from scoring.learning.other_plants import KnownPlant, OtherPlants
from scoring.learning.own_failures import OwnFailures
from scoring.learning.plant_share import share_of
from scoring.risk.fleet_risk import fleet_risk

ROUNDING = 1e-12


@cache
def rows_of_a_fleet():
    return generated_assessor(200, 5).failure_rows(LEARNED_ON)


def taught_by_its_failures() -> Learned:
    return learn(rows_of_a_fleet())


def contrary_rows():
    """Return rows of which those failed that the handbook thought best, and no others."""
    rows = rows_of_a_fleet()
    modes = {}
    for mode, one in rows.modes.items():
        hazard = one.state.log_multipliers.sum(axis=1) + (one.state.bad == 1).sum(axis=1)
        best = (hazard < np.quantile(hazard, 0.3)) & (one.expected > 0)
        events = np.repeat(best[:, np.newaxis], len(rows.days), axis=1).astype(np.int64)
        modes[mode] = replace(one, events=events)
    return replace(rows, modes=modes)


def taught_the_contrary() -> Learned:
    return learn(contrary_rows())


def contrary_plants():
    """Return what three plants say in which those failed that the handbook thought best."""
    taught = learn_unbounded(contrary_rows()).modes
    shares = {mode: share_of(one) for mode, one in taught.items()}
    return OtherPlants((KnownPlant("0" * 64, 200, dict.fromkeys(MODES, 0), shares),) * 3).priors


def taught_by_other_plants_and_failures() -> Learned:
    return learn(replace(rows_of_a_fleet(), others=contrary_plants()))


def taught_by_other_plants_alone() -> Learned:
    nothing_seen = np.zeros(len(rows_of_a_fleet()), dtype=bool)
    return learn(replace(rows_of_a_fleet(), others=contrary_plants()), only=nothing_seen)


def taught_by_nothing_but_years() -> Learned:
    rows = rows_of_a_fleet()
    modes = {m: replace(one, events=np.zeros_like(one.events)) for m, one in rows.modes.items()}
    return learn(replace(rows, modes=modes))


TEACHERS = {
    "failures": cache(taught_by_its_failures),
    "the contrary": cache(taught_the_contrary),
    "years": cache(taught_by_nothing_but_years),
    "other plants and failures": cache(taught_by_other_plants_and_failures),
    "other plants alone": cache(taught_by_other_plants_alone),
}


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("teacher", TEACHERS)
def test_no_coefficient_turns_a_finding_into_a_good_sign(teacher, mode):
    if mode not in TEACHERS[teacher]().modes:
        assert mode == "joint_slip"  # nobody wrote a slip down
        return
    learned = TEACHERS[teacher]().modes[mode]
    columns, coefficients = learned.columns, learned.posterior.coefficients
    assert learned.posterior.converged
    assert learned.by_others_alone == (teacher == "other plants alone")
    assert (coefficients >= columns.floor).all()
    assert columns.floor[columns.part_of_column == 0].tolist() == [-1.0] * len(columns.effects)
    assert (columns.floor[columns.part_of_column == 1] == 0).all()


@pytest.mark.parametrize("mode", ["low_speed_bearing", "seal_leak"])
def test_the_contrary_presses_multipliers_to_their_bound(mode):
    """Else the search below would not come where it could go wrong."""
    learned = taught_the_contrary().modes[mode]
    effects = learned.columns.part_of_column == 0
    assert (learned.posterior.coefficients[effects] == -1).sum() >= 2
    assert learned.posterior.held.sum() > 10


@pytest.mark.parametrize("mode", ["low_speed_bearing", "seal_leak"])
def test_contrary_plants_press_means_to_their_bound(mode):
    columns, prior = handbook_columns(mode), contrary_plants()[mode]
    floor = columns.floor[columns.passes]
    assert (prior.mean >= floor).all()
    assert (prior.mean == floor).sum() > 10


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
@settings(
    max_examples=2,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
    phases=[Phase.explicit, Phase.reuse, Phase.generate],  # what broke is told; shrinking is slow
)
@given(data=st.data(), failures=st.integers(0, 3), expected=st.floats(0, 4))
def test_no_worse_value_lowers_a_chance(mounting, data, failures, expected):
    plate = {"site": rows_of_a_fleet().modes[MODES[0]].state.sites[0]}
    plate |= data.draw(nameplates(mounting))
    others = data.draw(looks(mounting, plate["shaft_diameter_mm"]))
    every = data.draw(ladders(plate))
    steps = [(ladder.check, value) for ladder in every for value in ladder.values]
    same_ladder = np.concatenate([np.arange(len(ladder.values)) > 0 for ladder in every])[1:]
    judged = assess_units(
        [Unit(plate, possible(plate, {**others, check: value})) for check, value in steps]
    )
    so_far = OwnFailures(np.full(len(steps), float(failures)), np.full(len(steps), expected))
    evidence = UnitEvidence.of(judged.known, judged.limits, judged.prevalence)
    for name, teacher in TEACHERS.items():
        used = {mode: (learned, so_far) for mode, learned in teacher().modes.items()}
        risk = fleet_risk(evidence, 365, used)
        for mode in MODES:
            p = risk.modes[mode].probability
            assert np.isfinite(p).all()
            lower = same_ladder & (np.diff(p) < -ROUNDING * p[:-1])
            assert not [(*steps[n], steps[n + 1][1]) for n in np.flatnonzero(lower)], (name, mode)


HELD = (
    {"isolators_free": 1, "metal_contact": "no"},
    {"isolators_free": 0, "metal_contact": "no", "arm_misset_mm": 3, "shaft_runout_mm": 0.5},
    {"metal_contact": "yes"},
    {},
)
TORQUES = (50.0, 250.0, 500.0, 1000.0, 2000.0, 4500.0, 8000.0, 30_000.0)


@pytest.mark.parametrize("teacher", TEACHERS)
def test_more_running_torque_lowers_no_chance(teacher):
    """However much a fleet's failures taught of held arms, short of three times the handbook's."""
    site = {"site": rows_of_a_fleet().modes[MODES[0]].state.sites[0]}
    units = [Unit({**site, "output_torque_nm": t}, look) for look in HELD for t in TORQUES]
    judged = assess_units(units)
    none_yet = OwnFailures(np.zeros(len(units)), np.full(len(units), 0.1))
    used = {mode: (learned, none_yet) for mode, learned in TEACHERS[teacher]().modes.items()}
    evidence = UnitEvidence.of(judged.known, judged.limits, judged.prevalence)
    risk = fleet_risk(evidence, 365, used)
    for mode in MODES:
        p = risk.modes[mode].probability.reshape(len(HELD), len(TORQUES))
        assert (np.diff(p, axis=1) >= -ROUNDING * p[:, :-1]).all(), mode
