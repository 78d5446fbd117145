"""Each argument of each formula: what is outside its range is refused, the ends are not."""

from importlib import import_module
from pkgutil import iter_modules

import numpy as np
import pytest

from scoring import mechanics
from scoring.errors import OutOfRangeError
from scoring.mechanics import (
    bearing_rating_life,
    bearings_in_series,
    friction_torque,
    interference_fit,
    joint_slip,
    keys,
    low_screws,
    reliability_factors,
    restrained_arm,
    rubber_isolator,
    rubber_modulus,
    seal,
    shaft_torsion,
    shrink_disc,
    squeezed_rubber,
    staged_tightening,
    stress_area,
    tapered_bushing,
    torque_arm_reaction,
    torque_to_preload,
    variable_load,
    wedge,
)

ABOVE_0 = ([0.0, -1.0], [1e-9])
FROM_0 = ([-1e-9, -1.0], [0.0])
EXPONENT = ([0.999, 4.001], [1.0, 4.0])
SHARE = ([-1e-9, 1.001], [0.0, 1.0])

# Formula, arguments inside its range, and of each argument: refused values, taken ends
RANGES = [
    (bearing_rating_life.rating_life, (9.0, 2.0, 3.0), (ABOVE_0, ABOVE_0, EXPONENT)),
    (bearing_rating_life.running_time, (9.0, 2.0), (FROM_0, ABOVE_0)),
    (bearings_in_series.system_rating_life, ([9.0, 8.0], 1.5), (None, ABOVE_0)),
    (friction_torque.capacity_from_radial_force, (9.0, 0.1, 0.2), (FROM_0, ABOVE_0, SHARE)),
    (friction_torque.pressure_of_radial_force, (9.0, 0.1, 0.1), (FROM_0, ABOVE_0, ABOVE_0)),
    (
        friction_torque.capacity_of_pressure,
        (9.0, 0.1, 0.1, 0.2),
        (FROM_0, ABOVE_0, ABOVE_0, SHARE),
    ),
    (
        friction_torque.pressure_for_capacity,
        (9.0, 0.1, 0.1, 0.2),
        (FROM_0, ABOVE_0, ABOVE_0, ABOVE_0),
    ),
    (
        interference_fit.interference_pressure,
        (1e-6, 0.1, 0.2, 2e11),
        (FROM_0, ([0.0, 0.2, 0.3], [0.19]), ([0.0, 0.1, 0.05], [0.11]), ABOVE_0),
    ),
    (joint_slip.slip_margin, (9.0, 1.0, 2.0), (FROM_0, ABOVE_0, ([0.0, 0.999], [1.0]))),
    (
        joint_slip.edge_slip,
        (1.0, 9.0, 0.1, 0.1, 8e10),
        (FROM_0, ([-1e-9], [1.0]), ABOVE_0, ABOVE_0, ABOVE_0),
    ),
    (keys.shear_stress, (9.0, 0.1, 0.01, 0.1), (FROM_0, ABOVE_0, ABOVE_0, ABOVE_0)),
    (keys.side_pressure, (9.0, 0.1, 0.01, 0.1), (FROM_0, ABOVE_0, ABOVE_0, ABOVE_0)),
    (keys.carrying_length, (0.1, 0.01, 1.0), (FROM_0, ABOVE_0, ([-0.1, 2.1], [0.0, 2.0]))),
    (
        low_screws.circle_force_ratio,
        (8.0, 2.0, 0.5, 1.0),
        (([0.0, 1.9], [2.0]), ([0.9, 8.1], [1.0, 8.0]), SHARE, ([-1e-9, 2.1], [0.0, 2.0])),
    ),
    (reliability_factors.factor, (0.95,), (([0.8999, 0.9996], [0.9, 0.9995]),)),
    (reliability_factors.factor_before_2007, (0.95,), (([0.8999, 0.9996], [0.9, 0.9995]),)),
    (restrained_arm.slope_of_runout, (1e-4, 0.2), (FROM_0, ABOVE_0)),
    (restrained_arm.anchor_force, (1e5, 1e-3), (FROM_0, FROM_0)),
    (
        restrained_arm.shared_at_the_anchor,
        (9.0, 8.0, 10.0, 0.9),
        (FROM_0, FROM_0, FROM_0, SHARE),
    ),
    (restrained_arm.share_of_nearer_bearing, (0.1, 0.2), (FROM_0, ABOVE_0)),
    (
        restrained_arm.loads_of_both_bearings,
        (1.0, 1.0, 0.5, 0.2, 0.5),
        (([np.inf], [-9.0]), ([np.inf], [-9.0]), ABOVE_0, ABOVE_0, FROM_0),
    ),
    (
        restrained_arm.life_ratio,
        ([9.0, 9.0], [1.0, 1.0], [1.0, 1.0], 3.0, 1.3),
        (ABOVE_0, FROM_0, FROM_0, ([1.9, 4.1], [2.0, 4.0]), ([0.0, -1.0], [0.5])),
    ),
    (rubber_isolator.annulus_area, (0.07, 0.02), (([0.0, 0.02], [0.021]), ([-0.1, 0.07], [0.0]))),
    (rubber_isolator.pad_stiffness, (1e6, 0.01, 0.02), (ABOVE_0, ABOVE_0, ABOVE_0)),
    (rubber_modulus.shear_modulus, (50.0,), (([29.9, 75.1], [30.0, 75.0]),)),
    (seal.surface_speed, (0.1, 6.0), (ABOVE_0, FROM_0)),
    (seal.lip_runout, (5e-5, 9.0, 9.0, 1e-4, 1e8), (FROM_0, FROM_0, ABOVE_0, FROM_0, ABOVE_0)),
    (seal.runout_ratio, (1e-4, 2e-4), (FROM_0, ABOVE_0)),
    (shaft_torsion.torsion_capacity, (0.1, 1e8), (ABOVE_0, ABOVE_0)),
    (shrink_disc.closing_pressure, (1e-6, 0.1, 0.2, 2e11), (FROM_0, None, None, ABOVE_0)),
    (shrink_disc.grip_pressure, (9.0, 1.0), (FROM_0, FROM_0)),
    (shrink_disc.grip_ratio, (9.0, 1.0, 1.0, 0.5), (ABOVE_0, FROM_0, FROM_0, FROM_0)),
    (shrink_disc.engagement_factor, (0.1, 0.1), (FROM_0, ABOVE_0)),
    (tapered_bushing.engagement_factor, (0.1, 0.1), (FROM_0, ABOVE_0)),
    (squeezed_rubber.squeezed_shear_stiffness, (1e5, 0.2), (FROM_0, ([-0.1, 0.601], [0.0, 0.6]))),
    (stress_area.metric_stress_area, (0.01, 0.0015), (([0.0, 0.0015], [0.01]), ([0.0, 0.01], []))),
    (stress_area.unified_stress_area, (0.01, 0.0015), (([0.0, 0.0015], [0.01]), ([0.0, 0.01], []))),
    (
        torque_arm_reaction.link_force,
        (9.0, 0.5, 1.5, 1.0),
        (FROM_0, ABOVE_0, ([0.0, np.pi], [0.1, 3.1]), ([np.inf], [-9.0])),
    ),
    (
        torque_to_preload.preload,
        (9.0, 0.2, 0.01),
        (FROM_0, ([0.0499, 0.601], [0.05, 0.6]), ABOVE_0),
    ),
    (
        variable_load.damage_of_a_turn,
        (1.0, 1.0, 1.0, 3.0),
        (FROM_0, FROM_0, FROM_0, ([1.9, 4.1], [2.0, 4.0])),
    ),
    (
        wedge.radial_force,
        (9.0, 0.07, 0.1),
        (FROM_0, ([0.0, np.pi / 4 + 1e-6], [1e-9, np.pi / 4]), SHARE),
    ),
    (
        wedge.radial_force_when_held,
        (9.0, 0.07, 0.1, 0.15),
        (FROM_0, ([0.0, np.pi / 4 + 1e-6], [1e-9, np.pi / 4]), SHARE, SHARE),
    ),
    (
        staged_tightening.mean_and_lowest_preload,
        (8, 3),
        (([0, 65, 7.5], [1, 64]), ([-1, 21, 2.5], [0, 20])),
    ),
]
CASES = [
    pytest.param(
        formula, inside, place, *ends, id=f"{formula.__module__}.{formula.__name__}-{place}"
    )
    for formula, inside, of_arguments in RANGES
    for place, ends in enumerate(of_arguments)
    if ends is not None
]


def put(inside, place, value):
    return [value if n == place else one for n, one in enumerate(inside)]


@pytest.mark.parametrize(("formula", "inside", "place", "refused", "taken"), CASES)
def test_an_argument_outside_its_range_is_refused_and_its_ends_are_not(
    formula, inside, place, refused, taken
):
    for value in taken:
        assert np.isfinite(formula(*put(inside, place, value))).all()
    for value in (*refused, np.inf if place or len(inside) > 1 else 99.0):
        with pytest.raises(OutOfRangeError):
            formula(*put(inside, place, value))
    answer = formula(*put(inside, place, np.nan))
    assert np.isnan(np.ravel(np.asarray(answer))).all()


def test_every_formula_with_a_range_is_in_the_list():
    public = set()
    for module in iter_modules(mechanics.__path__):
        made = vars(import_module(f"scoring.mechanics.{module.name}"))
        public |= {
            one
            for one in made.values()
            if getattr(one, "__module__", "") == f"scoring.mechanics.{module.name}"
            and "Raises" in (getattr(one, "__doc__", None) or "")
        }
    of_ranges = {one for one in public if one.__module__.endswith(("ranges", "provenance"))}
    elsewhere = {"pass_levels", "screw_sequence", "preload_round_the_circle", "proof_load"}
    elsewhere |= {"misalignment_factor", "tabulated_factor"}
    listed = {formula for formula, _, _ in RANGES}
    assert {one.__name__ for one in public - of_ranges - listed} <= elsewhere
