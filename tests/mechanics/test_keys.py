"""Stresses in keys, and the keys that go with a shaft."""

import numpy as np
import pytest

from scoring.errors import OutOfRangeError
from scoring.mechanics.key_sizes import ISO_KEYS_MM, inch_key, iso_key
from scoring.mechanics.keys import carrying_length, shear_stress, side_pressure


def test_length_of_an_inch_key() -> None:
    # Source: Wentzell, Machine Design, Example 15.1, p. 332 (printed output of a volunteer's
    # recomputation): 180 in·lbf, 1/2 in shaft, 1/8 in key, safety 2.5: 0.47 in by shear at
    # 30 500 psi, 0.56 in by compression at 51 000 psi. Stress times length does not change.
    assert 2.5 * shear_stress(180, 0.5, 0.125, 1.0) / 30_500 == pytest.approx(0.47, abs=0.005)
    pressed = 2.5 * side_pressure(180, 0.5, 0.125 / 2, 1.0) / 51_000
    assert pressed == pytest.approx(0.56, abs=0.005)


def test_a_short_key_is_stressed_more() -> None:
    # our own calculation: 3000 N·m, 80 mm shaft, key 22 × 14, t1 = 9 mm
    length = np.array([0.100, 0.060, 0.040])
    shear = shear_stress(3000, 0.080, 0.022, length) / 1e6
    assert shear == pytest.approx([34.09, 56.82, 85.23], abs=0.01)
    middle = side_pressure(3000, 0.080, 0.007, length) / 1e6
    assert middle == pytest.approx([107.1, 178.6, 267.9], abs=0.05)
    hub = side_pressure(3000, 0.080, 0.005, length) / 1e6
    assert hub == pytest.approx([150, 250, 375])


@pytest.mark.parametrize(
    # Source: DIN 6885-1 / ISO 773, read in two public tables
    ("up_to", "width", "height", "in_shaft", "in_hub"),
    [
        (12, 4, 4, 2.5, 1.8),
        (17, 5, 5, 3, 2.3),
        (22, 6, 6, 3.5, 2.8),
        (30, 8, 7, 4, 3.3),
        (38, 10, 8, 5, 3.3),
        (44, 12, 8, 5, 3.3),
        (50, 14, 9, 5.5, 3.8),
        (58, 16, 10, 6, 4.3),
        (65, 18, 11, 7, 4.4),
        (75, 20, 12, 7.5, 4.9),
        (85, 22, 14, 9, 5.4),
        (95, 25, 14, 9, 5.4),
        (110, 28, 16, 10, 6.4),
        (130, 32, 18, 11, 7.4),
        (150, 36, 20, 12, 8.4),
        (170, 40, 22, 13, 9.4),
    ],
)
def test_metric_keys(
    up_to: float, width: float, height: float, in_shaft: float, in_hub: float
) -> None:
    for shaft in (up_to, up_to - 1):
        assert iso_key(shaft).tolist() == [width, height, in_shaft, in_hub]
    assert iso_key(up_to + 0.01).tolist() != [width, height, in_shaft, in_hub]


@pytest.mark.parametrize(
    # Source: ANSI/ASME B17.1, Table 1, read in two public tables
    ("over", "up_to", "square", "rectangular"),
    [
        (7 / 16, 9 / 16, 1 / 8, 3 / 32),
        (9 / 16, 7 / 8, 3 / 16, 1 / 8),
        (7 / 8, 1.25, 1 / 4, 3 / 16),
        (1.25, 1.375, 5 / 16, 1 / 4),
        (1.375, 1.75, 3 / 8, 1 / 4),
        (1.75, 2.25, 1 / 2, 3 / 8),
        (2.25, 2.75, 5 / 8, 7 / 16),
        (2.75, 3.25, 3 / 4, 1 / 2),
        (3.25, 3.75, 7 / 8, 5 / 8),
        (3.75, 4.5, 1, 3 / 4),
        (4.5, 5.5, 1.25, 7 / 8),
        (5.5, 6.5, 1.5, 1),
    ],
)
def test_inch_keys(over: float, up_to: float, square: float, rectangular: float) -> None:
    assert inch_key([over + 1e-6, up_to]).tolist() == [[square, rectangular, square / 2]] * 2


def test_keyways_leave_a_little_room_over_the_key() -> None:
    # our own calculation: depths in shaft and hub together exceed the height by up to 0.4 mm
    _, height, in_shaft, in_hub = np.array(ISO_KEYS_MM).T
    room = in_shaft + in_hub - height
    assert (room > 0.2).all()
    assert (room < 0.45).all()


def test_sizes_outside_the_tables_are_blank() -> None:
    assert np.isnan(iso_key([10, 170.1, np.nan, -5])).all()
    assert np.isnan(inch_key([7 / 16, 6.6, np.nan])).all()
    assert iso_key([[20.0], [30.0]]).shape == (2, 1, 4)


def test_carrying_length() -> None:
    # our own calculation
    assert carrying_length(0.1, 0.022, [0, 1, 2]) == pytest.approx([0.1, 0.089, 0.078])
    assert carrying_length(0.01, 0.022) == 0.0
    with pytest.raises(OutOfRangeError):
        carrying_length(0.1, 0.022, 3)
