"""Lip seals: speed, temperature, run-out."""

import numpy as np
import pytest

from scoring.errors import OutOfRangeError
from scoring.mechanics.seal import (
    LARGEST_SPEED,
    MATERIAL_RANGE_C,
    RUNOUT_ALLOWANCE,
    ageing_ratio,
    lip_temperature_range,
    runout_ratio,
    surface_speed,
)


@pytest.mark.parametrize(
    # Source: The Tribology Handbook, p. 274 (sheet B23.3)
    ("material", "coldest", "hottest"),
    [("nbr", -40, 100), ("fkm", -30, 200)],
)
def test_temperature_range_of_lips_in_oil(material: str, coldest: float, hottest: float) -> None:
    found = MATERIAL_RANGE_C[material]
    assert (found.low, found.high) == (coldest, hottest)


def test_general_limit_of_speed() -> None:
    # Source: SEED seals guide, section 2.1
    assert LARGEST_SPEED.typical == 15


def test_a_low_speed_shaft_is_far_from_that_limit() -> None:
    # our own calculation: 100 mm at 60 r/min
    assert surface_speed(0.100, 60 * 2 * np.pi / 60) == pytest.approx(0.314, abs=5e-4)


def test_lip_is_warmer_than_the_oil() -> None:
    # planning value of ours
    low, high = lip_temperature_range(70.0, [0.3, 2.0, 6.0, 10.0, np.nan])
    assert low == pytest.approx([75, 75, 82.5, 90, np.nan], nan_ok=True)
    assert high == pytest.approx([85, 85, 97.5, 110, np.nan], nan_ok=True)
    with pytest.raises(OutOfRangeError):
        lip_temperature_range(70.0, 10.1)


def test_ageing_and_runout() -> None:
    # our own calculation
    assert ageing_ratio([80, 90, 70], 80) == pytest.approx([1, 2, 0.5])
    assert runout_ratio([0.0, 0.25e-3, 0.5e-3, np.nan]) == pytest.approx(
        [0, 1, 2, np.nan], nan_ok=True
    )
    assert runout_ratio(0.13e-3, RUNOUT_ALLOWANCE.low) == pytest.approx(1)
