"""Checks that show one cause give the same chance, one as the other and both as each alone."""

import numpy as np
import pytest
from looked_at_units import Unit, assess_units, chance

from scoring.contract.mountings import EVERY_MOUNTING
from scoring.handbook.held_arm_effect import HARMS as MODES

METAL_HOLDS_IT = {
    "metal contact": {"metal_contact": "yes"},
    "no clearance": {"smallest_clearance_mm": 0},
    "isolator missing": {"isolator_stack": "isolator_missing"},
    "where it touches": {"contact_at": "housing"},
}
PAIRS = [
    (one, other) for n, one in enumerate(METAL_HOLDS_IT) for other in list(METAL_HOLDS_IT)[n + 1 :]
]
BESIDE = {
    "nothing else seen": {},
    "one isolator turns": {"isolators_free": 1},
    "none turns, and it is mis-set": {
        "isolators_free": 0,
        "arm_misset_mm": 3,
        "shaft_runout_mm": 0.4,
        "isolator_squeeze_mm": 5,
    },
}
"""What was found besides, the same for all that are compared."""


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
@pytest.mark.parametrize("beside", BESIDE)
def test_whichever_check_shows_that_metal_holds_the_arm(mounting, beside):
    plate, common = {"mounting": mounting}, BESIDE[beside]
    alone = [Unit(plate, {**common, **facts}) for facts in METAL_HOLDS_IT.values()]
    pairs = [
        Unit(plate, {**common, **METAL_HOLDS_IT[one], **METAL_HOLDS_IT[other]})
        for one, other in PAIRS
    ]
    together = {check: value for facts in METAL_HOLDS_IT.values() for check, value in facts.items()}
    assessment = assess_units(
        [*alone, *pairs, Unit(plate, {**common, **together}), Unit(plate, common)]
    )
    for mode in MODES:
        *same, without = chance(assessment, mode)
        assert np.ptp(same) == pytest.approx(0, abs=1e-15), mode
        assert same[0] > 1.1 * without
    life = assessment.consequences.bearing_life_ratio
    assert np.ptp(life[:-1]) == pytest.approx(0, abs=1e-15)


FREE = {
    "isolators_free": 1,
    "metal_contact": "no",
    "isolator_stack": "complete",
    "smallest_clearance_mm": 12,
}
FORCES = ({"arm_misset_mm": 0}, {"arm_misset_mm": 9}, {"shaft_runout_mm": 0})
MORE_FORCES = (*FORCES, {"shaft_runout_mm": 1.5}, {"arm_misset_mm": 9, "shaft_runout_mm": 1.5})


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_mis_set_and_run_out_do_nothing_to_an_arm_that_floats(mounting):
    plate = {"mounting": mounting}
    units = [Unit(plate, FREE), *(Unit(plate, {**FREE, **forced}) for forced in MORE_FORCES)]
    assessment = assess_units(units)
    for mode in MODES:
        assert np.ptp(chance(assessment, mode)) == pytest.approx(0, abs=1e-15)


@pytest.mark.parametrize("held", [{"isolators_free": 0}, {"metal_contact": "yes"}])
def test_of_a_held_arm_mis_set_and_run_out_count_in_the_held_arm_alone(held):
    units = [Unit({}, {**FREE, **held, **forced}) for forced in MORE_FORCES]
    effects = assess_units(units).risk.modes
    for mode in MODES:
        logs = effects[mode].multipliers.log_mean
        differ = [name for name in logs if np.ptp(logs[name]) > 1e-12]
        assert differ == ["held_arm"]


def test_what_a_bad_anchor_joint_or_little_clearance_does_grows_up_to_metal_contact():
    steps = [
        {},
        {"isolator_stack": "washer_missing"},
        {"isolator_stack": "damaged"},
        {"isolator_stack": "isolator_missing"},
    ]
    clearances = [{"smallest_clearance_mm": value} for value in (3, 2, 1, 0.01, 0)]
    for ladder in (steps, clearances):
        for isolators in (0, 1):
            units = [Unit({}, {**FREE, "isolators_free": isolators, **one}) for one in ladder]
            assessment = assess_units(units)
            for mode in MODES:
                assert (np.diff(chance(assessment, mode)) > 0).all()
