"""Whatever a fleet's failures taught, more load, duty or peak, or less rating, lowers no chance."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from drawn_units import looks, nameplates, possible
from generated_fleets import AS_OF as LEARNED_ON
from generated_fleets import generated_assessor, generated_book
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from looked_at_units import Unit, assess_units

from scoring.assessment import FleetAssessor
from scoring.contract.events import MODES
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.handbook.unit_evidence import UnitEvidence
from scoring.learning.covariates import PARTS
from scoring.learning.learned import Learned, learn, learn_unbounded
from scoring.learning.other_plants import KnownPlant, OtherPlants
from scoring.learning.own_failures import OwnFailures
from scoring.learning.plant_share import share_of
from scoring.risk.fleet_risk import fleet_risk

ROUNDING = 1e-12
LEARNED_OF = ("low_speed_bearing", "seal_leak")
HARDER = {
    "output_torque_nm": (50.0, 400.0, 1000.0, 2000.0, 6000.0, 30_000.0),
    "duty_h_per_day": (1.0, 8.0, 16.0, 24.0),
    "peak_factor": (1.0, 1.5, 2.0, 5.0),
    "bearing_dynamic_rating_n": (600_000.0, 150_000.0, 75_000.0, 30_000.0),
}


@cache
def rows_of_a_fleet():
    return generated_assessor(200, 5).failure_rows(LEARNED_ON)


@cache
def rows_in_which_failed(work: str):
    """Return rows of which those failed that had the easiest work, or the hardest."""
    rows = rows_of_a_fleet()
    modes = {}
    for mode, one in rows.modes.items():
        load = one.state.nameplate[:, : 3 if mode in LEARNED_OF else 1].sum(axis=1)
        far = load < np.quantile(load, 0.3) if work == "easy" else load > np.quantile(load, 0.7)
        failed = far & (one.expected > 0)
        events = np.repeat(failed[:, np.newaxis], len(rows.days), axis=1).astype(np.int64)
        modes[mode] = replace(one, events=events)
    return replace(rows, modes=modes)


@cache
def taught_that(work: str) -> Learned:
    return learn(rows_in_which_failed(work))


@cache
def taught_by_other_plants() -> Learned:
    """Begin with four plants in which those failed that had the easiest work."""
    taught = learn_unbounded(rows_in_which_failed("easy")).modes
    shares = {mode: share_of(one) for mode, one in taught.items()}
    plants = (KnownPlant("0" * 64, 200, dict.fromkeys(MODES, 0), shares),) * 4
    return learn(replace(rows_in_which_failed("easy"), others=OtherPlants(plants).priors))


def of_nameplate(learned: Learned, mode: str) -> dict[str, float]:
    """Return what was learned of it beside the handbook, by name."""
    columns, posterior = learned.modes[mode].columns, learned.modes[mode].posterior
    here = columns.part_of_column == PARTS.index("nameplate")
    names = np.array(columns.names)[here]
    return dict(zip(names, posterior.coefficients[here].tolist(), strict=True))


@pytest.mark.parametrize("mode", LEARNED_OF)
def test_failures_move_the_powers_and_bounds_hold_them(mode):
    """Else the search below would not come where it could go wrong."""
    down, up = (of_nameplate(taught_that(work), mode) for work in ("easy", "hard"))
    after_others = of_nameplate(taught_by_other_plants(), mode)
    handbook = {"low_speed_bearing": (0.9, 0.8, 0.5), "seal_leak": (0.2, 0.7, 0.2)}[mode]
    least = [0.1 * 1.3 * 10 / 3 if mode == "low_speed_bearing" else 0.0, 0.0, 0.0]
    columns = ("load_over_rating", "duty_h_per_day", "peak_factor")
    held = 0
    for column, power, bound in zip(columns, handbook, least, strict=True):
        assert down[column] < 0 < up[column]
        assert power + down[column] >= bound - 1e-12
        assert power + after_others[column] >= bound - 1e-12
        held += power + down[column] == pytest.approx(bound, abs=1e-9)
    assert held >= 1


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
@settings(
    max_examples=3,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
    phases=[Phase.explicit, Phase.reuse, Phase.generate],  # what broke is told; shrinking is slow
)
@given(data=st.data(), failures=st.integers(0, 3), expected=st.floats(0, 4))
def test_no_harder_work_lowers_a_chance(mounting, data, failures, expected):
    plate = {"site": rows_of_a_fleet().modes[MODES[0]].state.sites[0]}
    plate |= data.draw(nameplates(mounting))
    found = possible(plate, data.draw(looks(mounting, plate["shaft_diameter_mm"])))
    steps = [(column, value) for column, values in HARDER.items() for value in values]
    first = np.cumsum([0, *map(len, HARDER.values())])[:-1]
    same_column = ~np.isin(np.arange(1, len(steps)), first)
    judged = assess_units([Unit({**plate, column: value}, found) for column, value in steps])
    evidence = UnitEvidence.of(judged.known, judged.limits, judged.prevalence)
    so_far = OwnFailures(np.full(len(steps), float(failures)), np.full(len(steps), expected))
    for learned in (None, taught_that("easy"), taught_that("hard"), taught_by_other_plants()):
        taught = learned.modes if learned else {}
        used = {mode: (one, so_far) for mode, one in taught.items()}
        risk = fleet_risk(evidence, 365, used)
        for mode in MODES:
            p = risk.modes[mode].probability
            assert np.isfinite(p).all()
            lower = same_column & (np.diff(p) < -ROUNDING * p[:-1])
            assert not [(*steps[n], steps[n + 1][1]) for n in np.flatnonzero(lower)], mode


@pytest.mark.parametrize("mode", LEARNED_OF)
def test_an_interval_is_wider_far_from_the_usual_nameplate_and_where_it_is_blank(mode):
    """By the handbook by hand; of what was learned, in the same order and never wider."""
    site = {"site": rows_of_a_fleet().modes[MODES[0]].state.sites[0]}
    usual = {
        "duty_h_per_day": 16,
        "output_speed_rpm": 60,
        "peak_factor": 2,
        "output_torque_nm": 1792,
        "bearing_dynamic_rating_n": 75_000,
        "ambient_c": 20,
        "environment": "outdoor",
        "bearing_kind": "roller",
        "seal_material": "hnbr",
    }
    far = {**usual, "duty_h_per_day": 4, "output_speed_rpm": 240}
    blank = {k: v for k, v in usual.items() if k not in {"duty_h_per_day", "output_speed_rpm"}}
    judged = assess_units([Unit({**site, **plate}) for plate in (usual, far, blank)])
    evidence = UnitEvidence.of(judged.known, judged.limits, judged.prevalence)
    none_yet = OwnFailures(np.zeros(3), np.full(3, 0.1))
    variance = fleet_risk(evidence, 365, {}).modes[mode].log_spread ** 2
    duty, speed = (0.8, 0.4) if mode == "low_speed_bearing" else (0.7, 0.4)
    # a quarter of the duty and four times the speed, each power unsure by 0.3
    assert variance[1] - variance[0] == pytest.approx(2 * (0.3 * np.log(4)) ** 2)
    assert variance[2] - variance[0] == pytest.approx((duty * 0.35) ** 2 + (speed * 0.5) ** 2)
    learned = taught_that("hard").modes[mode]
    after = fleet_risk(evidence, 365, {mode: (learned, none_yet)}).modes[mode].log_spread ** 2
    assert after[1] > after[0]
    assert after[2] > after[0]
    assert after[1] < variance[1]


@pytest.mark.parametrize("mode", LEARNED_OF)
def test_a_units_own_failures_are_held_against_usual_work(mode):
    """Else harder work, of which more failures are expected, would make them look few."""
    book = generated_book(200, 5)
    harder = {"duty_h_per_day": "24", "peak_factor": "5", "output_torque_nm": "30000"}
    other = replace(book, units=[{**unit, **harder} for unit in book.units])
    rows = FleetAssessor(other.fleet()).failure_rows(LEARNED_ON)
    before, after = rows_of_a_fleet().modes[mode], rows.modes[mode]
    assert (after.expected >= before.expected).all()
    assert after.expected.sum() > 1.2 * before.expected.sum()
    np.testing.assert_allclose(after.expected_of_its_kind, before.expected_of_its_kind, rtol=1e-12)
