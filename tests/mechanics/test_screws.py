"""Screw threads, stress areas, proof loads, preload from torque."""

import numpy as np
import pandas as pd
import pytest

from scoring.contract.quantities import N_PER_LBF, NM_PER_LBFT
from scoring.errors import OutOfRangeError
from scoring.mechanics.low_screws import circle_force_ratio
from scoring.mechanics.screw_threads import thread_size
from scoring.mechanics.stress_area import metric_stress_area, proof_load, unified_stress_area
from scoring.mechanics.torque_to_preload import NUT_FACTORS, preload


@pytest.mark.parametrize(
    ("designation", "diameter_mm", "pitch_mm"),
    [
        ("M10", 10, 1.5),
        (" M12 ", 12, 1.75),
        ("M20x1.5", 20, 1.5),
        ("3/8-16", 9.525, 1.5875),
        ("3/8-16UNC", 9.525, 1.5875),
        ("1-8", 25.4, 3.175),
        ("1 1/8-7", 28.575, 25.4 / 7),
        ("1-1/4-7", 31.75, 25.4 / 7),
    ],
)
def test_designations(designation: str, diameter_mm: float, pitch_mm: float) -> None:
    assert np.ravel(thread_size(designation)) * 1000 == pytest.approx((diameter_mm, pitch_mm))


@pytest.mark.parametrize("blank", ["", None, np.nan, pd.NA, "M11", "M10x12", "3/0-16", "0-8", "x"])
def test_designations_that_are_not_known(blank: object) -> None:
    assert np.isnan(thread_size([blank])).all()


def test_a_column_of_designations_keeps_its_shape() -> None:
    diameter, pitch = thread_size(pd.Series(["M8", None, "M8"], dtype="str").to_numpy())
    assert diameter == pytest.approx([0.008, np.nan, 0.008], nan_ok=True)
    assert pitch.shape == (3,)
    assert thread_size([["M8", "M10"], ["M12", "M16"]])[0].shape == (2, 2)
    assert thread_size([])[0].shape == (0,)


@pytest.mark.parametrize(
    # Source: ISO 898-1, read in two public tables; areas in mm², proof loads in kN
    ("thread", "area", "proof_88", "proof_109", "proof_129"),
    [
        ("M6", 20.1, 11.6, 16.7, 19.5),
        ("M8", 36.6, 21.2, 30.4, 35.5),
        ("M10", 58.0, 33.7, 48.1, 56.3),
        ("M12", 84.3, 48.9, 70.0, 81.8),
        ("M14", 115, 66.7, 95.5, 112),
        ("M16", 157, 91.0, 130, 152),  # 12.9: our own calculation
        ("M20", 245, 147, 203, 238),  # loads: our own calculation
        ("M24", 353, 212, 293, 342),  # loads: our own calculation
    ],
)
def test_stress_areas_and_proof_loads(
    thread: str, area: float, proof_88: float, proof_109: float, proof_129: float
) -> None:
    diameter, pitch = thread_size(thread)
    assert metric_stress_area(diameter, pitch) * 1e6 == pytest.approx(area, rel=0.005)
    loads = [proof_load(diameter, pitch, name) / 1000 for name in ("8.8", "10.9", "12.9")]
    assert loads == pytest.approx([proof_88, proof_109, proof_129], rel=0.01)


def test_class_9_8_stops_at_16_mm() -> None:
    assert np.isnan(proof_load([0.016, 0.020], [0.002, 0.0025], "9.8")).tolist() == [False, True]


def test_torque_and_preload_of_a_3_8_16_screw() -> None:
    # Source: an engineering blog's 3/8-16 example: 4940 lbf takes 30 (K = 0.20) or 23 lbf·ft (0.15)
    diameter, pitch = thread_size("3/8-16")
    force = preload(np.array([30.88, 23.16]) * NM_PER_LBFT, [0.20, 0.15], diameter) / N_PER_LBF
    assert force == pytest.approx([4940, 4940], rel=1e-3)
    # our own calculation: those 4940 lbf are 75 % of 85 ksi (grade 5, from memory) on its area
    area = unified_stress_area(diameter, pitch) / 0.0254**2
    assert 0.75 * 85_000 * area == pytest.approx(4940, rel=1e-3)


def test_anti_seize_overloads_a_screw_that_was_right_when_dry() -> None:
    # our own calculation: M12 10.9 brought to 75 % of its printed proof load of 70 kN at K = 0.20
    force = preload(126.0, [0.20, 0.12], 0.012)
    assert force == pytest.approx([52_500, 87_500])
    assert force / 70_000 == pytest.approx([0.75, 1.25])


@pytest.mark.parametrize(
    ("state", "bound", "printed"),
    [
        # Source: Shigley, Table 8-15, as quoted on a public help page
        ("not known", "high", 0.30),
        ("zinc-plated", "low", 0.20),
        ("lubricated", "typical", 0.18),
        ("anti-seize", "typical", 0.12),
        ("not known", "low", 0.12),
        ("not known", "typical", 0.20),
        # Source: Bickford & Nassar 1998, ch. 2, Table 1, as quoted in an engineering forum
        ("as received", "typical", 0.20),
        ("zinc-plated", "high", 0.295),
        # Source: Bickford 2007, Table 7.1, transcribed in a public code file
        ("as received", "high", 0.267),
        ("anti-seize", "high", 0.23),
    ],
)
def test_nut_factors_as_printed(state: str, bound: str, printed: float) -> None:
    assert getattr(NUT_FACTORS[state], bound) == printed


def test_nut_factors_to_calculate_with_have_a_width_and_can_be_used() -> None:
    for factor in NUT_FACTORS.values():
        assert factor.low < factor.high
        preload(100.0, [factor.low, factor.typical, factor.high], 0.012)


def test_slack_screws() -> None:
    # our own calculation
    assert circle_force_ratio([8, 8, 8, 6], [0, 8, 2, np.nan], [0.5, 0, 0, 1]) == pytest.approx(
        [1.0, 0.0, 0.75, np.nan], nan_ok=True
    )
    with pytest.raises(OutOfRangeError, match="at most all screws"):
        circle_force_ratio(8, 9, 0.5)


def test_ranges() -> None:
    with pytest.raises(OutOfRangeError):
        preload(100, 2.0, 0.012)
    with pytest.raises(OutOfRangeError, match="pitch below the diameter"):
        metric_stress_area(0.01, 0.01)
    assert np.isnan(preload(np.nan, 0.2, 0.012))
