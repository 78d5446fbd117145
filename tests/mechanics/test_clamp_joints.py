"""Friction joints: wedge, Lamé, shrink disc, tapered bushing, slip."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.errors import OutOfRangeError
from scoring.mechanics import shrink_disc, tapered_bushing
from scoring.mechanics.friction_coefficients import BORE_FRICTION
from scoring.mechanics.friction_torque import (
    capacity_from_radial_force,
    capacity_of_pressure,
    pressure_for_capacity,
    pressure_of_radial_force,
)
from scoring.mechanics.interference_fit import STEEL_MODULUS, interference_pressure
from scoring.mechanics.iso_286 import hole_limits, shaft_limits
from scoring.mechanics.joint_slip import edge_slip, slip_margin
from scoring.mechanics.torque_to_preload import preload
from scoring.mechanics.wedge import radial_force, radial_force_when_held

SHAFT, HUB, LENGTH = 0.080, 0.100, 0.040
RUNNING_TORQUE, PEAK = 1500.0, 3.0


def _pressure_in_the_bore(squeeze, clearance, shaft, hub, poisson):
    """Return the pressure between hub and solid shaft, squeezed from outside: Lamé in full.

    Both are of steel; a clearance below zero is an interference.
    """
    wall = STEEL_MODULUS * (hub**2 - shaft**2)
    hub_opens = shaft * ((1 - poisson) * shaft**2 + (1 + poisson) * hub**2) / wall
    hub_closes = 2 * shaft * hub**2 / wall
    shaft_shrinks = shaft / STEEL_MODULUS * (1 - poisson)
    return np.maximum((squeeze * hub_closes - clearance) / (hub_opens + shaft_shrinks), 0.0)


def _disc_capacity(
    bore_friction: float = 0.15,
    preload_ratio: float = 1.0,
    cone_friction: float = 0.06,
    clearance: float = 49e-6,
) -> float:
    """Slip torque in N·m of a disc with eight M8 screws at 30 N·m on a shaft of 80 mm."""
    pull = 8 * preload(30.0, 0.20, 0.008) * preload_ratio
    squeeze = 2 * radial_force(pull, np.radians(4.0), cone_friction)
    outside = pressure_of_radial_force(squeeze, HUB, LENGTH)
    inside = shrink_disc.grip_pressure(outside, shrink_disc.closing_pressure(clearance, SHAFT, HUB))
    return float(capacity_of_pressure(inside, SHAFT, LENGTH, bore_friction))


def test_press_fit_example() -> None:
    # Source: a web guide's press-fit example: 50 mm shaft, 80 mm hub, 40 mm long, 0.040 mm
    # interference, 200 GPa, friction 0.15: 48.75 MPa, 45.9 kN, 1149 N·m
    pressure = interference_pressure(40e-6, 0.050, 0.080, 200e9)
    assert pressure == pytest.approx(48.75e6, rel=1e-4)
    torque = capacity_of_pressure(pressure, 0.050, 0.040, 0.15)
    assert torque == pytest.approx(1149, abs=0.5)
    assert torque / 0.025 == pytest.approx(45.9e3, abs=60)
    assert pressure_for_capacity(1149.0, 0.050, 0.040, 0.15) == pytest.approx(pressure, rel=5e-4)


def test_cone_clutch_example() -> None:
    # Source: Wentzell, Machine Design, Example 16.3, p. 360 (printed output of a volunteer's
    # recomputation): f = 0.35, mean radius 6 in, 75 lbf: 234.75 in·lbf at 20°, 303.86 at 10°
    angle = np.radians([20.0, 10.0])
    # The clutch's torque comes from the force normal to the cone, not from its radial part
    normal_force = radial_force(75.0, angle, 0.35) / (np.cos(angle) - 0.35 * np.sin(angle))
    assert 0.35 * 6.0 * normal_force == pytest.approx([234.75, 303.86], rel=1e-4)


def test_friction_as_printed() -> None:
    # Source: DIN 7190-1, section 5.3, as restated on a research-association help page, steel on
    # steel: shrink fit, normal 0.15; shrink fit, degreased 0.20; oil-pressure fit, mineral oil 0.12
    dry = BORE_FRICTION["clean and dry"]
    assert (dry.low, dry.typical, dry.high) == (0.15, 0.15, 0.20)
    assert BORE_FRICTION["oil film"].typical == 0.12


def test_the_dirtier_the_bore_the_less_friction() -> None:
    states = ["clean and dry", "dust or dirt", "oil film", "anti-seize or grease"]
    assert list(BORE_FRICTION) == states
    for part in ("low", "typical", "high"):
        values = [getattr(BORE_FRICTION[state], part) for state in states]
        assert values == sorted(values, reverse=True)


def test_wedge() -> None:
    # our own calculation
    assert radial_force(1.0, np.radians(4.0), [0.06, 0.10, 0.15]) == pytest.approx(
        [7.664, 5.844, 4.499], abs=1e-3
    )


def test_closing_pressure_of_usual_fits() -> None:
    # our own calculation, 80 H7/h6, H7/h9, H8/h11 at the largest clearance
    _, largest_bore = hole_limits(80.0, ["H7", "H7", "H8"])
    smallest_shaft, _ = shaft_limits(80.0, ["h6", "h9", "h11"])
    clearance = (largest_bore - smallest_shaft) / 1000
    closing = shrink_disc.closing_pressure(clearance, SHAFT, HUB)
    assert closing / 1e6 == pytest.approx([22.71, 48.20, 109.39], abs=0.01)
    assert shrink_disc.grip_pressure(150e6, closing) / 1e6 == pytest.approx(
        [127.29, 101.80, 40.61], abs=0.01
    )
    assert shrink_disc.grip_pressure(100e6, closing[2]) == 0.0


@given(st.floats(1e-6, 200e-6), st.floats(1.05, 3.0))
def test_interference_is_clearance_below_zero(interference: float, ratio: float) -> None:
    full = _pressure_in_the_bore(0.0, -interference, 0.05, 0.05 * ratio, 0.3)
    assert full == pytest.approx(float(interference_pressure(interference, 0.05, 0.05 * ratio)))


@given(
    st.floats(0, 400e6),
    st.floats(0, 400e-6),
    st.floats(0.02, 0.3),
    st.floats(1.05, 3.0),
    st.floats(0.0, 0.5),
)
def test_short_form_is_the_full_solution(
    squeeze: float, clearance: float, shaft: float, ratio: float, poisson: float
) -> None:
    closing = shrink_disc.closing_pressure(clearance, shaft, shaft * ratio)
    short = shrink_disc.grip_pressure(squeeze, closing)
    full = _pressure_in_the_bore(squeeze, clearance, shaft, shaft * ratio, poisson)
    assert full == pytest.approx(float(short), 1e-9, 1e-2)
    if squeeze <= closing:
        assert short == 0.0


def test_worked_shrink_disc() -> None:
    # our own calculation
    assert preload(30.0, 0.20, 0.008) == pytest.approx(18_750)
    squeeze = 2 * radial_force(8 * 18_750.0, np.radians(4.0), 0.06)
    assert squeeze == pytest.approx(2299e3, rel=1e-3)
    outside = squeeze / (np.pi * HUB * LENGTH)
    assert outside == pytest.approx(183.0e6, rel=1e-3)
    inside = shrink_disc.grip_pressure(outside, shrink_disc.closing_pressure(49e-6, SHAFT, HUB))
    assert inside == pytest.approx(160.3e6, rel=1e-3)
    assert _disc_capacity() == pytest.approx(9667, rel=1e-3)
    assert slip_margin(_disc_capacity(), RUNNING_TORQUE, PEAK) == pytest.approx(2.15, abs=0.01)


@pytest.mark.parametrize(
    ("change", "capacity", "ratio"),
    [  # our own calculation
        ({"bore_friction": 0.20}, 12_889, 1.333),
        ({"bore_friction": 0.12}, 7_733, 0.800),
        ({"bore_friction": 0.06}, 3_867, 0.400),
        ({"preload_ratio": 0.82}, 7_680, 0.794),
        ({"preload_ratio": 0.64}, 5_694, 0.589),
        ({"cone_friction": 0.10}, 7_045, 0.729),
        ({"clearance": 220e-6}, 4_886, 0.505),
        ({"bore_friction": 0.12, "preload_ratio": 0.82, "clearance": 104e-6}, 4_914, 0.508),
    ],
)
def test_what_faults_cost_a_shrink_disc(
    change: dict[str, float], capacity: float, ratio: float
) -> None:
    found = _disc_capacity(**change)
    assert found == pytest.approx(capacity, rel=1e-3)
    assert found / _disc_capacity() == pytest.approx(ratio, abs=1e-3)


@pytest.mark.parametrize(
    ("friction", "squeeze", "clearance"),
    [(0.12, 0.82, 104e-6), (0.06, 1.0, 49e-6), (0.15, 0.64, 49e-6), (0.15, 0.1, 200e-6)],
)
def test_ratio_from_the_rating_is_the_ratio_of_capacities(
    friction: float, squeeze: float, clearance: float
) -> None:
    rated = _disc_capacity()
    grip = shrink_disc.grip_ratio(
        pressure_for_capacity(rated, SHAFT, LENGTH, 0.15),
        shrink_disc.closing_pressure(49e-6, SHAFT, HUB),
        shrink_disc.closing_pressure(clearance, SHAFT, HUB),
        squeeze,
    )
    found = _disc_capacity(bore_friction=friction, preload_ratio=squeeze, clearance=clearance)
    assert rated * friction / 0.15 * grip == pytest.approx(found)


@given(
    st.floats(0.0, 300e-6),
    st.floats(0.0, 300e-6),
    st.floats(0.02, 0.3),
    st.floats(0.02, 0.3),
    st.tuples(st.floats(0.0, 1.5), st.floats(0.0, 1.5)),
)
def test_capacity_moves_the_right_way(
    clearance: float,
    more_clearance: float,
    friction: float,
    more_friction: float,
    preloads: tuple[float, float],
) -> None:
    little, much = sorted((clearance, more_clearance))
    assert _disc_capacity(clearance=much) <= _disc_capacity(clearance=little)
    low, high = sorted((friction, more_friction))
    assert _disc_capacity(bore_friction=low) <= _disc_capacity(bore_friction=high)
    loose, tight = sorted(preloads)
    assert _disc_capacity(preload_ratio=loose) <= _disc_capacity(preload_ratio=tight)


@pytest.mark.parametrize(
    ("taper_friction", "bore_friction", "force_kn", "capacity"),
    [  # our own calculation: six M10 at 40 N·m, K = 0.2, shaft 60 mm, 3/4 inch per foot
        (0.15, 0.15, 659.0, 2965),
        (0.10, 0.15, 911.4, 4101),
        (0.15, 0.06, 659.0, 1186),
        (0.06, 0.06, 1312.6, 2363),
    ],
)
def test_worked_tapered_bushing(
    taper_friction: float, bore_friction: float, force_kn: float, capacity: float
) -> None:
    pull = 6 * preload(40.0, 0.2, 0.010)
    # its angle was rounded to 1.79 degrees
    force = radial_force(pull, np.radians(1.79), taper_friction)
    assert force / 1000 == pytest.approx(force_kn, rel=1e-3)
    assert capacity_from_radial_force(force, 0.060, bore_friction) == pytest.approx(
        capacity, rel=1e-3
    )


def test_a_bushing_held_against_a_collar_gives_about_half():
    # our own calculation: the same bushing, dry; 361 instead of 659 kN, 1626 instead of 2965 N·m
    pull = 6 * preload(40.0, 0.2, 0.010)
    held = radial_force_when_held(pull, np.radians(1.79), 0.15, 0.15)
    assert held / 1000 == pytest.approx(361, abs=0.5)
    assert capacity_from_radial_force(held, 0.060, 0.15) == pytest.approx(1626, abs=1)


@given(st.floats(0.01, 0.5), st.floats(0.0, 0.9), st.floats(0.0, 0.9), st.floats(0.0, 0.9))
def test_a_held_cone_presses_less_and_its_torque_still_rises_with_friction(
    angle: float, on_cone: float, one: float, other: float
) -> None:
    free = radial_force(1.0, angle, on_cone)
    low, high = sorted((one, other))
    held = radial_force_when_held(1.0, angle, on_cone, [low, high])
    assert held[1] <= held[0] <= free
    assert low * held[0] <= high * held[1] * (1 + 1e-12)


@given(st.floats(0, 0.2), st.floats(0, 0.2))
def test_capacity_never_falls_with_engagement(one: float, other: float) -> None:
    short, long = sorted((one, other))
    for module in (tapered_bushing, shrink_disc):
        factors = module.engagement_factor([short, long], 0.1)
        assert 0 <= factors[0] <= factors[1] <= 1


def test_a_short_shaft() -> None:
    # our own calculation; common practice, no source: at 40 % a shrink disc is not fit for torque
    assert shrink_disc.engagement_factor(0.04, 0.1) == 0.0
    assert shrink_disc.engagement_factor(0.1, 0.1) == 1.0
    assert tapered_bushing.engagement_factor(0.04, 0.1) == pytest.approx(0.4)
    assert np.isnan(shrink_disc.engagement_factor([np.nan, 0.1], [0.1, np.nan])).all()


def test_edge_slip() -> None:
    # our own calculation: 80 mm shaft, 90 mm long, 3000 N·m
    slip = edge_slip(3000.0, [6000, 4000, 3000, 2999, 0, np.nan], 0.080, 0.090)
    assert slip[:3] * 1e6 == pytest.approx([8.5, 12.7, 16.9], abs=0.05)
    assert np.isinf(slip[3:5]).all()
    assert np.isnan(slip[5])


def test_ranges() -> None:
    with pytest.raises(OutOfRangeError, match="a hub larger than its shaft"):
        interference_pressure(1e-6, 0.05, 0.05)
    with pytest.raises(OutOfRangeError, match="at least 1"):
        slip_margin(1000, 500, 0.9)
    with pytest.raises(OutOfRangeError, match="pi/4"):
        radial_force(1.0, 1.0, 0.1)
    assert np.isnan(_disc_capacity(clearance=np.nan))
