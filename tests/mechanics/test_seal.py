"""Lip seals: speed and run-out."""

import numpy as np
import pytest

from scoring.mechanics.seal import RUNOUT_ALLOWANCE, runout_ratio, surface_speed


def test_speed_of_the_surface() -> None:
    # our own calculation: 100 mm at 60 r/min
    assert surface_speed(0.100, 60 * 2 * np.pi / 60) == pytest.approx(0.314, abs=5e-4)


def test_runout() -> None:
    # our own calculation
    assert runout_ratio([0.0, 0.25e-3, 0.5e-3, np.nan]) == pytest.approx(
        [0, 1, 2, np.nan], nan_ok=True
    )
    assert runout_ratio(0.13e-3, RUNOUT_ALLOWANCE.low) == pytest.approx(1)
