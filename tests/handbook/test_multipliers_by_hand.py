"""Multipliers and how sure they are: seen, cured, not seen, not there; by hand."""

from dataclasses import replace
from math import exp, log
from statistics import fmean, pvariance

import numpy as np
import pytest
from fleets import Book
from units_looked_at import evidence_of

from scoring.contract.events import MODES
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.handbook import multipliers as multipliers_of_effects
from scoring.handbook.multipliers import (
    EFFECTS,
    has_multiplier,
    log_mean_multipliers,
    multipliers,
)

BEARING, SEAL, SLIP = "low_speed_bearing", "seal_leak", "joint_slip"
(BREATHER,) = (effect for effect in EFFECTS if effect.name == "breather")


def of_effect(book, mode, effect):
    """Return mean multiplier, its two variances, its basis and its state at the first unit."""
    found = multipliers(mode, evidence_of(book))
    mean = exp(found.log_mean[effect].iloc[0])
    return (
        mean,
        found.unseen_variance[effect].iloc[0],
        found.log_variance[effect].iloc[0],
        found.basis[effect].iloc[0],
        found.states[effect].iloc[0],
    )


def seen(**cells):
    return Book().unit(mounting="keyed_bore").look("2024-01-02", **cells)


def cured(actions):
    return Book().unit(mounting="keyed_bore").reworked("2024-02-01", actions)


NOBODY = Book().unit(mounting="keyed_bore")


@pytest.mark.parametrize(
    ("book", "which", "mean_and_mean_square", "basis"),
    [
        # breather: plugged at 9 of 100; a plugged one has three times the leaks, 1.5 the failures
        (seen(breather="open"), (SEAL, "breather"), (1, 1), "seen"),
        (seen(breather="plugged"), (SEAL, "breather"), (3, 9), "seen"),
        (seen(breather="plugged"), (BEARING, "breather"), (1.5, 2.25), "seen"),
        (NOBODY, (SEAL, "breather"), (0.91 + 0.09 * 3, 0.91 + 0.09 * 9), "not seen"),
        # re-work on record takes in 85 of 100: else it is still plugged
        (
            cured("open_breather"),
            (SEAL, "breather"),
            (0.85 + 0.15 * 3, 0.85 + 0.15 * 9),
            "reported cured",
        ),
        # arm bolts: 90, 8, 2 of 100 multiply the bearing's failures by 1, 1.8, 2.6;
        # of the 10 that are faulty 8 and 2 have each state
        (NOBODY, (BEARING, "arm_bolts"), (1.096, 1.2944), "not seen"),
        (
            cured("tighten_arm_bolts"),
            (BEARING, "arm_bolts"),
            (
                0.85 + 0.15 * (8 * 1.8 + 2 * 2.6) / 10,
                0.85 + 0.15 * (8 * 3.24 + 2 * 6.76) / 10,
            ),
            "reported cured",
        ),
        # angle: half way between the states of 1 and 1.15, on the scale of logarithms
        (seen(arm_angle_deg="67.5"), (BEARING, "arm_angle"), (1.15**0.5, 1.15), "seen"),
    ],
)
def test_mean_and_variance_by_hand(book, which, mean_and_mean_square, basis):
    mean, square = mean_and_mean_square
    got, unseen, variance, how, _ = of_effect(book, *which)
    assert got == pytest.approx(mean)
    assert unseen == pytest.approx(log(square / mean / mean), abs=1e-12)
    # the handbook is unsure of a multiplier's logarithm by half of it
    assert variance == pytest.approx(log(square / mean / mean) + (0.5 * log(mean)) ** 2, abs=1e-12)
    assert how == basis


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_what_nobody_saw_is_as_unsure_as_a_thousand_units_scatter(mounting, mode):
    """A lognormal multiplier of mean m and variance v has ln(1 + v / m²) on the log scale."""
    found = multipliers(mode, evidence_of(Book().unit(mounting=mounting, backstop="yes")))
    for effect in EFFECTS:
        mean, variance = 1.0, 0.0
        if mounting in effect.mountings:
            counts = [round(1000 * share) for share in effect.usual]
            thousand = np.repeat(effect.multipliers[mode], counts).tolist()
            assert len(thousand) == 1000
            mean, variance = fmean(thousand), pvariance(thousand)
        spread = log(1 + variance / mean**2)
        unsure = (effect.uncertainty * log(mean)) ** 2
        assert found.log_mean[effect.name].iloc[0] == pytest.approx(log(mean))
        assert found.unseen_variance[effect.name].iloc[0] == pytest.approx(spread, abs=1e-12)
        assert found.log_variance[effect.name].iloc[0] == pytest.approx(spread + unsure)


@pytest.mark.parametrize("mode", MODES)
def test_what_a_mounting_does_not_have_multiplies_by_one_for_sure(mode):
    here = Book().unit(mounting="keyed_bore").look("2024-01-02", guard="fitted")
    for effect in (e for e in EFFECTS if "keyed_bore" not in e.mountings):
        mean, unseen, variance, basis, state = of_effect(here, mode, effect.name)
        assert (mean, unseen, variance) == (1, 0, 0)
        assert basis == "not on this mounting"
        assert np.isnan(state)


def test_a_state_is_told_where_it_was_seen_and_nowhere_else():
    book = Book().unit("U1", mounting="keyed_bore").unit("U2", mounting="keyed_bore")
    book.look("2024-01-02", "U2", arm_angle_deg="72")
    states = multipliers(SEAL, evidence_of(book)).states["arm_angle"]
    assert np.isnan(states.iloc[0])
    assert states.iloc[1] == 3


def test_the_quick_table_of_the_past_is_the_same():
    book = Book()
    for mounting in EVERY_MOUNTING:
        book.unit(mounting, mounting=mounting)
        book.look("2024-01-02", mounting, breather="plugged", oil_level="low", metal_contact="yes")
        book.unit(f"{mounting} 2", mounting=mounting)
        book.reworked("2024-01-05", "correct_oil_level;tighten_arm_bolts", f"{mounting} 2")
    evidence = evidence_of(book)
    quick = log_mean_multipliers(evidence)
    assert set(quick) == set(MODES)
    for mode in MODES:
        slow = multipliers(mode, evidence).log_mean
        assert list(slow.columns) == [*(effect.name for effect in EFFECTS), "held_arm", "grip"]
        np.testing.assert_allclose(quick[mode], slow.to_numpy(), rtol=1e-12, atol=1e-15)


def test_an_effect_that_multiplies_by_one_alone_multiplies_nothing(monkeypatch):
    idle = replace(
        BREATHER, name="idle", multipliers={BEARING: (1, 1.5), SEAL: (1, 1), SLIP: (1, 1)}
    )
    monkeypatch.setattr(multipliers_of_effects, "EFFECTS", (*EFFECTS, idle))
    assert has_multiplier("idle", BEARING) is True
    assert has_multiplier("idle", SEAL) is False
    assert has_multiplier("breather", SEAL) is True
    assert has_multiplier("held_arm", BEARING) is True
    assert has_multiplier("held_arm", SLIP) is False
    assert [has_multiplier("grip", mode) for mode in (BEARING, SEAL, SLIP)] == [True, True, True]
    assert [has_multiplier("key", mode) for mode in (BEARING, SEAL, SLIP)] == [True, True, True]


# The held arm: rubber holds 18 of 100 arms; metal touches metal at 3 of 100, and by what else was
# not seen: of 100 anchor joints 7 lack a washer and 5 have bad rubber, of which metal gets through
# 3 and 8 in 100, and 0.5 have none; of 100 clearances 7 and 3 are small, and touch at 4 and 8 of
# 100.
# The leaks of a held arm are 1.6 and 2 times as many where nothing forces the lip.

ANCHOR, CLEARANCE = 0.07 * 0.03 + 0.05 * 0.08 + 0.005, 0.07 * 0.04 + 0.03 * 0.08
BY_OTHERS = 1 - (1 - ANCHOR) * (1 - CLEARANCE)
BY_ANY = 1 - 0.97 * (1 - BY_OTHERS)
SOUND = {"isolator_stack": "complete", "smallest_clearance_mm": "10"}
UNFORCED = {"arm_misset_mm": "0", "shaft_runout_mm": "0"}


@pytest.mark.parametrize(
    ("cells", "clamped", "metal", "basis"),
    [
        ({}, 0.18, BY_ANY, "not seen"),
        ({"isolators_free": "1"}, 0, BY_ANY, "not seen"),
        ({"isolators_free": "0"}, 1, BY_ANY, "seen"),  # held in any case
        ({"isolators_free": "1", "metal_contact": "no"}, 0, BY_OTHERS, "not seen"),
        ({"isolators_free": "1", "metal_contact": "no", **SOUND}, 0, 0, "seen"),
        ({"isolators_free": "0", "metal_contact": "no", **SOUND}, 1, 0, "seen"),
        ({"isolators_free": "1", "metal_contact": "yes"}, 0, 1, "seen"),
        ({"isolators_free": "1", "smallest_clearance_mm": "0"}, 0, 1, "seen"),
        ({"isolators_free": "1", "isolator_stack": "isolator_missing"}, 0, 1, "seen"),
        ({"metal_contact": "yes"}, 0.18, 1, "seen"),
        ({"metal_contact": "no", **SOUND}, 0.18, 0, "not seen"),
        (
            {"isolators_free": "1", **SOUND, "isolator_stack": "damaged"},
            0,
            1 - 0.97 * 0.92,
            "not seen",
        ),
        (
            {
                "isolators_free": "1",
                "metal_contact": "no",
                **SOUND,
                "smallest_clearance_mm": "2.25",
            },
            0,
            0.02,
            "seen",
        ),
    ],
)
def test_a_held_arm_leaks_by_custom(cells, clamped, metal, basis):
    mean, unseen, variance, how, held = of_effect(seen(**UNFORCED, **cells), SEAL, "held_arm")
    rubber = clamped * (1 - metal)
    free = 1 - rubber - metal
    expected = free + 1.6 * rubber + 2 * metal
    scatter = free + 1.6**2 * rubber + 2**2 * metal - expected**2
    assert mean == pytest.approx(expected)
    assert unseen == pytest.approx(log(1 + scatter / expected**2), abs=1e-12)
    assert variance == pytest.approx(
        log(1 + scatter / expected**2) + (0.5 * log(expected)) ** 2, abs=1e-12
    )
    assert how == basis
    assert held == pytest.approx(1 - free)


def test_an_arm_that_re_work_is_said_to_have_freed_may_still_be_held():
    book = seen(**UNFORCED).reworked("2024-02-01", "back_off_isolators")
    mean, _, _, how, held = of_effect(book, SEAL, "held_arm")
    assert how == "reported cured"
    assert held == pytest.approx(1 - 0.85 * (1 - BY_ANY))  # it takes in 85 of 100
    assert mean == pytest.approx(1 + 0.6 * 0.15 * (1 - BY_ANY) + BY_ANY)


@pytest.mark.parametrize(
    ("actions", "metal"),
    [  # each takes in 85 of 100; of the faulty anchor joints 7, 5 and 0.5 of 12.5 have each state
        ("restore_clearance", 1 - (1 - 0.15) * (1 - ANCHOR) * (1 - 0.15 * CLEARANCE / 0.1)),
        ("replace_isolators", 1 - 0.97 * (1 - 0.15 * ANCHOR / 0.125) * (1 - CLEARANCE)),
    ],
)
def test_metal_may_still_hold_what_re_work_is_said_to_have_cured(actions, metal):
    book = seen(**UNFORCED, isolators_free="1").reworked("2024-02-01", actions)
    _, _, _, how, held = of_effect(book, SEAL, "held_arm")
    assert how == "reported cured"
    clamped = 0.15 if actions == "replace_isolators" else 0
    assert held == pytest.approx(1 - (1 - clamped) * (1 - metal))
