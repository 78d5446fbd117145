"""ISO 286 limits: against the printed table, and against an independent package."""

import isofits
import numpy as np
import pandas as pd
import pytest
from numpy.typing import ArrayLike

from scoring.mechanics.iso_286 import (
    BAND_EDGES_MM,
    HOLE_DEVIATIONS_UM,
    SHAFT_DEVIATIONS_UM,
    hole_limits,
    shaft_limits,
)
from scoring.mechanics.validity_ranges import Floats

SHAFTS = list(SHAFT_DEVIATIONS_UM)
HOLES = list(HOLE_DEVIATIONS_UM)

# Source: ISO 286-2, read in an extract of DIN ISO 286-2, a table of round-bar tolerances, an
# extract of JIS B 0401 and seal tables; upper/lower in micrometres, six bands from 10 to 180 mm.
PRINTED = """
h6 0/-11 0/-13 0/-16 0/-19 0/-22 0/-25
h7 0/-18 0/-21 0/-25 0/-30 0/-35 0/-40
h8 0/-27 0/-33 0/-39 0/-46 0/-54 0/-63
h9 0/-43 0/-52 0/-62 0/-74 0/-87 0/-100
h10 0/-70 0/-84 0/-100 0/-120 0/-140 0/-160
h11 0/-110 0/-130 0/-160 0/-190 0/-220 0/-250
k6 12/1 15/2 18/2 21/2 25/3 28/3
m6 18/7 21/8 25/9 30/11 35/13 40/15
H7 18/0 21/0 25/0 30/0 35/0 40/0
H8 27/0 33/0 39/0 46/0 54/0 63/0
H9 43/0 52/0 62/0 74/0 87/0 100/0
G7 24/6 28/7 34/9 40/10 47/12 54/14
F8 43/16 53/20 64/25 76/30 90/36 106/43
"""
TOPS = [18, 30, 50, 80, 120, 180]
CELLS = [
    (name, top, *(float(part) for part in cell.split("/")))
    for name, *cells in (line.split() for line in PRINTED.split("\n") if line)
    for top, cell in zip(TOPS, cells, strict=True)
]


def _limits(name: str, size: ArrayLike) -> tuple[Floats, Floats]:
    return (shaft_limits if name in SHAFTS else hole_limits)(size, name)


def test_all_78_cells_of_the_printed_table() -> None:
    assert len(CELLS) == 78
    for name, top, upper, lower in CELLS:
        # a size inside the band, and its upper edge, which belongs to it
        for size in (top - 1.0, float(top)):
            low, high = _limits(name, size)
            assert (high - size) * 1000 == pytest.approx(upper, abs=1e-6), (name, size)
            assert (low - size) * 1000 == pytest.approx(lower, abs=1e-6), (name, size)


@pytest.mark.parametrize("name", SHAFTS + HOLES)
def test_same_as_the_package_isofits(name: str) -> None:
    sizes = [11, 18, 19, 30, 31, 50, 51, 65, 80, 81, 120, 121, 160, 180]
    sizes += [] if name == "F8" else [181, 225, 250, 251, 280, 315]
    low, high = _limits(name, sizes)
    body = "shaft" if name in SHAFTS else "hole"
    # Source: package isofits 1.0
    theirs = np.array([isofits.isotol(body, size, name, "both") for size in sizes])
    assert high - sizes == pytest.approx(theirs[:, 0] / 1000, abs=1e-9)
    assert low - sizes == pytest.approx(theirs[:, 1] / 1000, abs=1e-9)


def test_above_180_mm_the_rounded_tolerance_factor_gives_the_same() -> None:
    # our own calculation from the formulas (from memory) that the standard's tables come from
    edges = BAND_EDGES_MM[6:]
    mean = np.sqrt(edges[:-1] * edges[1:])
    factor = 0.45 * np.cbrt(mean) + 0.001 * mean
    for name, units in {"h6": 10, "h7": 16, "h8": 25, "h9": 40, "h10": 64, "h11": 100}.items():
        tolerance = units * factor
        step = np.select([tolerance < 100, tolerance < 200], [1.0, 5.0], 10.0)
        rounded = np.round(tolerance / step) * step
        assert (-rounded).tolist() == list(SHAFT_DEVIATIONS_UM[name][0][6:])
    assert np.round(0.6 * np.cbrt(mean)).tolist() == list(SHAFT_DEVIATIONS_UM["k6"][0][6:])
    assert np.round(2.5 * mean**0.34).tolist() == list(HOLE_DEVIATIONS_UM["G7"][0][6:])


@pytest.mark.parametrize(
    ("nominal", "hole", "shaft", "smallest", "largest"),
    [  # our own calculation from the table, micrometres
        (80, "H7", "h6", 0, 49),
        (80, "H7", "h9", 0, 104),
        (80, "H7", "h11", 0, 220),
        (80, "H8", "h11", 0, 236),
        (50, "H7", "k6", -18, 23),
        (100, "H7", "m6", -35, 22),
        (100, "G7", "h6", 12, 69),
        (150, "G7", "h9", 14, 154),
    ],
)
def test_clearance_of_a_fit(
    nominal: float, hole: str, shaft: str, smallest: float, largest: float
) -> None:
    smallest_bore, largest_bore = hole_limits(nominal, hole)
    smallest_shaft, largest_shaft = shaft_limits(nominal, shaft)
    assert (smallest_bore - largest_shaft) * 1000 == pytest.approx(smallest, abs=1e-9)
    assert (largest_bore - smallest_shaft) * 1000 == pytest.approx(largest, abs=1e-9)


def test_what_is_not_known_stays_not_known() -> None:
    sizes = [80, 80, 80, 80, 80, 80, 10, 9.5, 316, np.nan, 0, -80]
    classes = ["h12", "", None, np.nan, pd.NA, "H7", "h6", "h6", "h6", "h6", "h6", "h6"]
    for limit in shaft_limits(sizes, np.array(classes, dtype=object)):
        assert np.isnan(limit).all()
    assert np.isnan(hole_limits(200.0, "F8")).all()


def test_columns_of_a_table_and_broadcasting() -> None:
    low, _ = shaft_limits(
        pd.Series([60.0, 90.0]).to_numpy(), pd.Series(["h6", None], dtype="str").to_numpy()
    )
    assert low[0] == pytest.approx(59.981)
    assert np.isnan(low[1])
    assert shaft_limits([[60.0], [90.0]], SHAFTS)[0].shape == (2, 8)
    assert shaft_limits([], [])[0].shape == (0,)
