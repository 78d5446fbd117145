"""Lip seals: speed and run-out."""

import numpy as np
import pytest

from scoring.mechanics.seal import RUNOUT_ALLOWANCE, lip_runout, runout_ratio, surface_speed


def test_speed_of_the_surface() -> None:
    # our own calculation: 100 mm at 60 r/min
    assert surface_speed(0.100, 60 * 2 * np.pi / 60) == pytest.approx(0.314, abs=5e-4)


def test_runout() -> None:
    # our own calculation
    assert runout_ratio([0.0, 0.25e-3, 0.5e-3, np.nan]) == pytest.approx(
        [0, 1, 2, np.nan], nan_ok=True
    )
    assert runout_ratio(0.13e-3, RUNOUT_ALLOWANCE.low) == pytest.approx(1)


def test_lip_runout() -> None:
    # our own calculation: half the clearance of 80 µm, and twice 5 kN over 500 N/µm
    found = lip_runout(50e-6, [0.0, 5e3, 10e3, 20e3], 10e3, 80e-6, 500e6)
    assert found * 1e6 == pytest.approx([50, 50 + 40 + 20, 50 + 80 + 40, 50 + 80 + 80])
