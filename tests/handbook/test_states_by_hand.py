"""What an effect looks at: states of single units by hand, and the words for them."""

from dataclasses import replace

import numpy as np
import pytest
from fleets import Book
from units_looked_at import evidence_of

from scoring.contract import CHECK_BY_NAME
from scoring.handbook import held_arm_effect
from scoring.handbook.effects_table import effects_table
from scoring.handbook.multipliers import CONDITIONS

BY_NAME = {one.name: one for one in CONDITIONS}
STATED = {"required_engagement_mm": "100", "screw_torque_nm": "200", "ambient_c": "30"}


def state(effect, unit, **seen):
    book = Book().unit(mounting="shrink_disc", **unit).look("2024-01-02", **seen)
    return BY_NAME[effect].state(evidence_of(book))[0]


@pytest.mark.parametrize(
    ("effect", "unit", "seen", "expected"),
    [
        ("engagement_in_a_disc", STATED, {"engagement_mm": "60"}, 0.4),
        ("engagement_in_a_disc", STATED, {"engagement_mm": "130"}, 0),
        ("engagement_in_a_disc", STATED, {"shaft_end": "short"}, 0.2),
        ("engagement_in_a_disc", STATED, {"shaft_end": "reaches"}, 0),
        ("engagement_in_a_disc", STATED, {"shaft_end": "short", "engagement_mm": "90"}, 0.2),
        ("engagement_in_a_disc", STATED, {"shaft_end": "short", "engagement_mm": "70"}, 0.3),
        ("engagement_in_a_disc", {}, {"engagement_mm": "60"}, 0.5),  # 1.5 times 80 mm are usual
        ("engagement_in_a_disc", {}, {"engagement_mm": "130"}, 0),
        ("final_torque", STATED, {"final_torque_nm": "152"}, (0.95 * 200 - 152) / 200),
        ("final_torque", STATED, {"final_torque_nm": "248"}, 0),  # none is missing
        ("final_torque", STATED, {"final_torque_nm": "200"}, 0),
        ("final_torque", STATED, {"screws_low": "3"}, 0.3),
        ("final_torque", {}, {"screws_low": "3"}, 0.3),
        ("final_torque", STATED, {"screws_low": "2", "screws_missing": "2"}, 0.2),
        ("final_torque", STATED, {"screws_low": "1", "final_torque_nm": "152"}, 0.19),
        ("final_torque", STATED, {"screws_low": "3", "final_torque_nm": "152"}, 0.3),
        ("running_temperature", STATED, {"running_temperature_c": "85"}, 55),
        ("running_temperature", {}, {"running_temperature_c": "85"}, 65),
        ("vibration", STATED, {"vibration_mm_s": "3"}, 3),
        ("oil_level", STATED, {"oil_level": "low"}, 2),
    ],
)
def test_states_by_hand(effect, unit, seen, expected):
    assert state(effect, unit, **seen) == pytest.approx(expected, nan_ok=True)


@pytest.mark.parametrize(
    ("effect", "number", "words"),
    [
        ("breather", 1, "plugged"),
        ("oil_level", 2, "low"),
        ("arm_bolts", 1, "loose"),
        ("tightening_order", 0, "right"),
        ("tightening_order", 1, "wrong pattern"),
        ("tightening_order", 2, "no order"),
        ("arm_angle", 15, "15 ° too small"),
        ("running_temperature", 40, "40 K over the surroundings"),
        ("torque_passes", 2, "2 passes short"),
    ],
)
def test_states_in_words(effect, number, words):
    assert BY_NAME[effect].state_words(number) == words


def test_a_state_with_a_unit_or_without_words_is_told_as_a_number():
    assert replace(BY_NAME["breather"], unit="mm").state_words(1) == "1 mm"
    assert replace(BY_NAME["arm_angle"], unit="").state_words(15) == "15"


@pytest.mark.parametrize(
    ("mode", "effect", "word", "usual", "multiplier"),
    [
        ("seal_leak", "breather", "plugged", 0.09, 3),
        ("low_speed_bearing", "breather", "plugged", 0.09, 1.5),
        ("low_speed_bearing", "oil_level", "low", 0.04, 2.5),
        ("seal_leak", "arm_angle", "45 ° too small", 0.01, 1.2),
    ],
)
def test_rows_of_the_table_by_hand(mode, effect, word, usual, multiplier):
    """A multiplier's logarithm is unsure by half of it; 90 % lie within 1.645 of that."""
    table = effects_table()
    here = (table["failure_mode"] == mode) & (table["effect"] == effect) & (table["state"] == word)
    row = table[here].squeeze()
    assert row["usual_share"] == usual
    assert row["multiplier"] == multiplier
    logs = np.log(multiplier) * np.array([1 - 1.644854 / 2, 1 + 1.644854 / 2])
    assert [row["low"], row["high"]] == pytest.approx(np.exp(logs), rel=1e-6)


@pytest.mark.parametrize(
    ("mode", "effect", "state", "power", "deviation"),
    [
        ("low_speed_bearing", "running hours", "twice the usual 16 h/day", 0.8, 0.3),
        ("seal_leak", "peak over running torque", "twice the usual 2", 0.2, 0.25),
        ("joint_slip", "running hours", "twice the usual 16 h/day", 0.3, 0.3),
    ],
)
def test_twice_a_number_of_the_nameplate_by_hand(mode, effect, state, power, deviation):
    row = the_row(mode, effect)
    assert row["state"] == state
    assert np.isnan(row["usual_share"])
    ends = [2 ** (power + 1.644854 * times * deviation) for times in (-1, 0, 1)]
    assert row[["low", "multiplier", "high"]].tolist() == pytest.approx(ends, rel=1e-6)


def test_a_ratio_and_a_temperature_of_the_nameplate_in_words():
    load = the_row("low_speed_bearing", "load over rating of the low-speed bearings")
    assert load["state"] == "twice the usual"
    warmer = the_row("seal_leak", "temperature around the unit")
    assert warmer["state"] == "10 more than the usual 20 °C"
    assert warmer["multiplier"] == pytest.approx(np.exp(0.2))


@pytest.mark.parametrize(
    ("mode", "effect", "word", "share", "multiplier"),
    [
        ("seal_leak", "surroundings", "dusty", 0.35, 1.25),
        ("seal_leak", "surroundings", "dry indoor", 0.25, 0.7),
        ("low_speed_bearing", "surroundings", "washdown", 0.1, 1.2),
    ],
)
def test_a_word_of_the_nameplate_by_hand(mode, effect, word, share, multiplier):
    table = effects_table()
    here = (table["failure_mode"] == mode) & (table["state"] == word)
    row = table[here & (table["effect"] == effect)].squeeze()
    assert row["usual_share"] == share
    assert row["multiplier"] == pytest.approx(multiplier)
    assert row["low"] * row["high"] == pytest.approx(multiplier**2)


def the_row(mode, effect):
    table = effects_table()
    return table[(table["failure_mode"] == mode) & (table["effect"] == effect)].squeeze()


def test_the_held_arm_of_the_table_by_hand():
    table = effects_table()
    row = table[(table["failure_mode"] == "seal_leak") & (table["effect"] == "held_arm")].squeeze()
    mean = held_arm_effect.usual_mean("seal_leak")
    assert row["multiplier"] == pytest.approx(mean)
    assert row["usual_share"] == 1
    logs = np.log(mean) * np.array([1 - 1.644854 * 0.5, 1 + 1.644854 * 0.5])
    assert [row["low"], row["high"]] == pytest.approx(np.exp(logs), rel=1e-6)


def test_good_states_and_states_that_multiply_by_one_are_no_rows():
    table = effects_table()
    counts = table.groupby(["failure_mode", "effect"]).size()
    assert counts["seal_leak", "disc_seat_surface"] == 2  # dust multiplies leaks by 1
    assert counts["low_speed_bearing", "disc_seat_surface"] == 3
    assert counts["seal_leak", "breather"] == 1


def test_every_width_is_as_many_times_as_large_on_either_side_of_the_middle():
    """A width of a logarithm: the product of its ends is the square of the middle."""
    table = effects_table()
    middle, low, high = (table[name].to_numpy() for name in ("multiplier", "low", "high"))
    assert low * high == pytest.approx(middle**2)
    assert (np.minimum(low, high) <= middle).all()
    assert (middle <= np.maximum(low, high)).all()


def test_a_condition_looks_at_symptoms_or_at_none():
    for one in CONDITIONS:
        assert len({CHECK_BY_NAME[name].symptom for name in one.checks}) <= 1, one.name
    assert any(CHECK_BY_NAME[one.checks[0]].symptom for one in CONDITIONS)
