"""Only the required columns, a leak that stands, and everything assumed said."""

import numpy as np
import pytest
from looked_at_units import Unit, assess_units, chance

from scoring.consequences.assumed_sizes import ASSUMED_SIZES, COUNTED_AS_USUAL
from scoring.contract.events import MODES
from scoring.contract.mountings import EVERY_MOUNTING, KEYED_BORE, SHRINK_DISC, TAPERED_BUSHING


def assumed(assessment):
    return [set(words.split("; ")) for words in assessment.ranking["assumed"]]


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_five_columns_are_enough_and_everything_assumed_is_said(mounting):
    assessment = assess_units([Unit({"mounting": mounting})])
    said = assumed(assessment)[0]
    assert said >= {size.words for size in ASSUMED_SIZES} | set(COUNTED_AS_USUAL.values())
    assert said >= {
        "started when it was hung",
        "isolator 25 mm thick",
        "roller bearings",
        "run-out not measured: a distribution",
        "mis-set not measured: a distribution",
        "squeeze not measured: a distribution",
        "costs: planning values of ours",
    }
    assert ("3 torque passes asked for" in said) == (mounting != KEYED_BORE)
    assert ("collar gap of at least 1 mm" in said) == (mounting == TAPERED_BUSHING)
    ranked = assessment.ranking.iloc[0]
    assert 0 < ranked["p_low_speed_bearing"] < ranked["p_seal_leak"] < 0.2
    assert ranked["expected_loss"] > 0
    assert ranked["verdict"] == "watch"


def test_what_is_given_is_not_called_assumed():
    given = {
        "output_torque_nm": 900,
        "output_speed_rpm": 40,
        "environment": "dusty",
        "hub_outer_mm": 110,
    }
    said = assumed(assess_units([Unit(given, {"shaft_runout_mm": 0.1})]))[0]
    for words in ("running torque", "output speed", "surroundings", "hub 1.25", "run-out"):
        assert not any(one.startswith(words) for one in said), words


def test_what_only_some_checks_ask_for_is_said_where_they_were_seen():
    checks = {"torque_passes": 1, "running_temperature_c": 50, "shaft_diameter_measured_mm": 80}
    one, other = assumed(assess_units([Unit({}), Unit({}, checks)]))
    words = {"8 clamp screws", "20 °C around the unit", "bore of class H7"}
    assert words <= one ^ other


def test_torque_from_the_motor_s_power_is_said():
    plate = {"motor_power_kw": 7.5, "output_speed_rpm": 60}
    assessment = assess_units([Unit(plate)])
    torque = assessment.consequences.nameplate["output_torque_nm"][0]
    assert torque == pytest.approx(7500 / (2 * np.pi))
    assert "running torque from the motor's full power" in assumed(assessment)[0]


@pytest.mark.parametrize("mounting", EVERY_MOUNTING)
def test_a_leak_that_stands_is_certain(mounting):
    plate = {"mounting": mounting}
    units = [Unit(plate, {"seal_weep": word}) for word in ("dry", "damp", "dripping")]
    renewed = Unit(plate, {"seal_weep": "dripping"}, "renew_seal")
    dry, damp, dripping, mended = chance(assess_units([*units, renewed]), "seal_leak")
    assert dripping == 1
    assert dry < damp < 1
    assert mended < damp


def test_a_unit_nobody_looked_at_has_the_field_rate_of_each_failure():
    """On average over units with a backstop, of which one may be wrong, and without."""
    share_with = {"yes": 0.3, "no": 0.7}
    units = [
        Unit({"mounting": mounting, "backstop": there})
        for there in share_with
        for mounting in EVERY_MOUNTING
    ]
    risk = assess_units(units).risk
    for mode in MODES:
        one = risk.modes[mode]
        rates = np.exp(one.log_base + one.multipliers.log_mean.to_numpy().sum(axis=1))
        rate = np.array(list(share_with.values())) @ rates.reshape(2, -1)
        if mode == "joint_slip":  # hung nine months ago, where three years are usual
            assert rate == pytest.approx(0.003, rel=0.05)
        else:
            assert rate == pytest.approx({"low_speed_bearing": 0.02, "seal_leak": 0.08}[mode])


def test_given_sizes_of_an_isolator_are_kept():
    plates = [
        {"isolator_outer_mm": 20, "isolator_inner_mm": 19},
        {"isolator_outer_mm": 20},
        {"isolator_inner_mm": 100},
    ]
    units = [Unit({"mounting": SHRINK_DISC, **plate}) for plate in plates]
    plate = assess_units(units).consequences.nameplate
    assert plate["isolator_outer_mm"] * 1e3 == pytest.approx([20, 20, 120])
    assert plate["isolator_inner_mm"] * 1e3 == pytest.approx([19, 20 / 1.2, 100])
