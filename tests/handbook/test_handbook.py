"""The handbook is whole: every effect has an origin, every cause is looked at, nothing falls."""

from dataclasses import replace

import numpy as np
import pytest

from scoring.contract import CHECKS
from scoring.contract.events import JOINT_SLIP, MODES
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.handbook import grip_effect, held_arm_effect
from scoring.handbook.base_rates import BASE_RATES
from scoring.handbook.effect import Effect, refuse_two_of_one_check
from scoring.handbook.effects_table import effects_table
from scoring.handbook.multipliers import CONDITIONS, EFFECTS, USUAL_LOG_PRODUCTS
from scoring.handbook.nameplate_columns import TERMS
from scoring.handbook.nameplate_effects import NUMBERS, WORDS

BY_NAME = pytest.mark.parametrize("effect", EFFECTS, ids=lambda effect: effect.name)
HARMS_PEOPLE_NOT_BEARINGS = {"guard"}
SHOWN_BY_THE_GRIP = {"witness_mark", "screws_rechecked"}
"""What bears on how the joint grips, and on bearing and seal only through that."""


@BY_NAME
def test_every_effect_has_an_origin_and_a_range(effect):
    assert effect.origin
    assert effect.uncertainty > 0
    assert effect.label
    assert set(effect.multipliers) == set(MODES)


@BY_NAME
def test_usual_shares_add_up_and_the_good_state_is_the_most_usual(effect):
    assert sum(effect.usual) == pytest.approx(1)
    assert effect.usual[0] == max(effect.usual)
    assert min(effect.usual) > 0


@BY_NAME
@pytest.mark.parametrize("mode", MODES)
def test_multipliers_never_fall_between_the_states_either(effect, mode):
    first, last = effect.states[0], effect.states[-1]
    states = np.linspace(first - 10, last + 10, 500)
    logs = effect.log_multiplier(mode, states)
    assert (np.diff(logs) >= 0).all()
    assert (logs[0], np.exp(logs[-1])) == (0, pytest.approx(effect.multipliers[mode][-1]))
    assert np.isnan(effect.log_multiplier(mode, np.array([np.nan])))


@BY_NAME
@pytest.mark.parametrize("mode", MODES)
def test_not_seen_lies_between_good_and_worst_and_a_faulty_one_above_it(effect, mode):
    usual, _ = effect.usual_mean_and_square(mode)
    faulty, _ = effect.mean_and_square_if_faulty(mode)
    if max(effect.multipliers[mode]) == 1:
        assert (usual, faulty) == pytest.approx((1, 1))
        return
    assert 1 < usual < faulty <= effect.multipliers[mode][-1] + 1e-12


def test_every_check_that_is_a_cause_is_looked_at():
    looked_at = {check for one in CONDITIONS for check in one.checks}
    looked_at |= set(held_arm_effect.CHECKS)
    apart = HARMS_PEOPLE_NOT_BEARINGS | SHOWN_BY_THE_GRIP
    assert {check.name for check in CHECKS} - looked_at == apart


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_every_check_of_a_mounting_is_looked_at_on_that_mounting(mounting):
    looked_at = {c for e in CONDITIONS if mounting in e.mountings for c in e.checks}
    looked_at |= set(held_arm_effect.CHECKS)
    has = {check.name for check in CHECKS if mounting in check.mountings}
    assert has - looked_at == HARMS_PEOPLE_NOT_BEARINGS | (SHOWN_BY_THE_GRIP & has)


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_base_rate_times_usual_multipliers_is_the_field_rate(mounting, mode):
    rate = BASE_RATES[mode].field_rate
    base = rate / np.exp(USUAL_LOG_PRODUCTS[mode][EVERY_MOUNTING.index(mounting)])
    product = held_arm_effect.usual_mean(mode) * grip_effect.usual_mean(mode, mounting)
    for effect in EFFECTS:
        if mounting in effect.mountings:
            states = zip(effect.usual, effect.multipliers[mode], strict=True)
            mean = sum(share * multiplier for share, multiplier in states)
            product *= 1 + effect.share_with * (mean - 1)
    assert base * product == pytest.approx(rate)
    assert base < (rate + 1e-12 if mode == JOINT_SLIP else 0.75 * rate)


@pytest.mark.parametrize("mode", MODES)
def test_base_rates_have_an_origin_and_rise_with_age(mode):
    assert BASE_RATES[mode].origin
    # a joint does not age: it has survived its peaks, or slips
    assert BASE_RATES[mode].age_slope == 1 if mode == JOINT_SLIP else BASE_RATES[mode].age_slope > 1
    assert BASE_RATES[mode].uncertainty > 0


def test_the_table_covers_every_effect_with_its_range_and_origin():
    table = effects_table()
    for mode in MODES:
        names = set(table.loc[table["failure_mode"] == mode, "effect"])
        special = {grip_effect.NAME}
        if mode != JOINT_SLIP:
            special |= {held_arm_effect.NAME}
        harmful = {effect.name for effect in EFFECTS if max(effect.multipliers[mode]) > 1}
        plate = {one.label for one in TERMS[mode].numbers + TERMS[mode].words}
        assert names == harmful | special | plate
        assert not plate & (harmful | special)
    assert set(table["effect"]) >= {effect.name for effect in EFFECTS}
    assert table["origin"].str.len().min() > 0
    assert (table["low"] <= table["multiplier"]).all()
    assert (table["multiplier"] <= table["high"]).all()
    faults = ~table["effect"].isin([one.label for one in (*NUMBERS, *WORDS)])
    assert (table.loc[faults, "multiplier"] > 1).all()
    assert table.loc[faults, "usual_share"].notna().all()
    assert table["state"].str.len().min() > 0


GOOD = dict.fromkeys(MODES, (1, 2))


@pytest.mark.parametrize(
    ("change", "complaint"),
    [
        ({"states": (1, 0)}, "never fall"),
        ({"multipliers": dict.fromkeys(MODES, (1, 0.5))}, "never fall"),
        ({"multipliers": dict.fromkeys(MODES, (1.1, 2))}, "multiplies by 1"),
        ({"multipliers": GOOD | {MODES[0]: (1, 0.5)}}, "never fall"),
        ({"multipliers": GOOD | {MODES[0]: (1.1, 2)}}, "multiplies by 1"),
        ({"multipliers": GOOD | {MODES[0]: (1, 2, 3)}}, "one share and one multiplier"),
        ({"usual": (0.9, 0.2)}, "add up"),
        ({"multipliers": dict.fromkeys(MODES, (1, 2, 3))}, "one share and one multiplier"),
        ({"states": (0, 2)}, "steps down the words of breather, 0 to 1; given were 0, 2"),
        ({"states": (0, 0.5)}, "steps down the words of breather, 0 to 1; given were 0, 0.5"),
    ],
)
def test_an_effect_whose_states_and_multipliers_do_not_fit_is_refused(change, complaint):
    parts = {
        "name": "made up",
        "label": "made up",
        "checks": ("breather",),
        "state": lambda evidence: evidence.exceedance("breather"),
        "unit": "",
        "states": (0, 1),
        "usual": (0.9, 0.1),
        "multipliers": GOOD,
    }
    assert Effect(**parts).name == "made up"
    with pytest.raises(ValueError, match=complaint):
        Effect(**{**parts, **change})


def test_two_effects_of_one_check_at_one_mounting_are_refused():
    breather = next(effect for effect in EFFECTS if "breather" in effect.checks)
    again = replace(breather, name="breather_again")
    with pytest.raises(ValueError, match=r"breather at .* shows .* and breather_again"):
        refuse_two_of_one_check((*CONDITIONS, again))
    elsewhere = replace(again, mountings=("keyed_bore",))
    here = replace(breather, mountings=("shrink_disc",))
    refuse_two_of_one_check((here, elsewhere))


@pytest.mark.parametrize("check", ["isolators_free", "isolator_squeeze_mm", "metal_contact"])
def test_an_effect_of_what_shows_that_an_arm_is_held_is_refused(check):
    bolts = next(effect for effect in EFFECTS if effect.name == "arm_bolts")
    again = replace(bolts, name="again", checks=(check,), unit="mm")
    with pytest.raises(ValueError, match=f"{check} at .* shows held_arm and again"):
        refuse_two_of_one_check((*CONDITIONS, again))
