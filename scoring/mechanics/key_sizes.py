"""Parallel keys that go with a shaft diameter.

Naturally in millimetres and inches, so these functions do not use metres.

Source: DIN 6885-1 / ISO 773 and ANSI/ASME B17.1, Table 1, each read in two public tables that
agree.
"""

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.validity_ranges import Floats

ISO_SHAFT_EDGES_MM = (10, 12, 17, 22, 30, 38, 44, 50, 58, 65, 75, 85, 95, 110, 130, 150, 170)
"""Each row runs from over one edge up to and including the next. [mm]"""

ISO_KEYS_MM = (
    (4, 4, 2.5, 1.8),
    (5, 5, 3, 2.3),
    (6, 6, 3.5, 2.8),
    (8, 7, 4, 3.3),
    (10, 8, 5, 3.3),
    (12, 8, 5, 3.3),
    (14, 9, 5.5, 3.8),
    (16, 10, 6, 4.3),
    (18, 11, 7, 4.4),
    (20, 12, 7.5, 4.9),
    (22, 14, 9, 5.4),
    (25, 14, 9, 5.4),
    (28, 16, 10, 6.4),
    (32, 18, 11, 7.4),
    (36, 20, 12, 8.4),
    (40, 22, 13, 9.4),
)
"""Width, height, depth of the keyway in the shaft (t1) and in the hub (t2). [mm]"""

INCH_SHAFT_EDGES = (
    0.4375,
    0.5625,
    0.875,
    1.25,
    1.375,
    1.75,
    2.25,
    2.75,
    3.25,
    3.75,
    4.5,
    5.5,
    6.5,
)
"""Each row runs from over one edge up to and including the next. [in]"""

INCH_KEYS = (
    (1 / 8, 3 / 32),
    (3 / 16, 1 / 8),
    (1 / 4, 3 / 16),
    (5 / 16, 1 / 4),
    (3 / 8, 1 / 4),
    (1 / 2, 3 / 8),
    (5 / 8, 7 / 16),
    (3 / 4, 1 / 2),
    (7 / 8, 5 / 8),
    (1, 3 / 4),
    (5 / 4, 7 / 8),
    (3 / 2, 1),
)
"""Width, which is also the height of a square key, and height of a rectangular key. [in]"""


def iso_key(shaft_diameter_mm: ArrayLike) -> Floats:
    """Parallel key of DIN 6885-1 / ISO 773 for a shaft.

    Parameters
    ----------
    shaft_diameter_mm : array_like
        Shaft diameter, over 10 to 170; shape (...). [mm]

    Returns
    -------
    numpy.ndarray
        Width, height, depth in the shaft, depth in the hub along the last axis, shape (..., 4);
        NaN where the size is outside the table. [mm]

    Notes
    -----
    Source: DIN 6885-1 / ISO 773, as given at the head of this file.

    Examples
    --------
    >>> iso_key([30.0, 80.0, 200.0]).tolist()
    [[8.0, 7.0, 4.0, 3.3], [22.0, 14.0, 9.0, 5.4], [nan, nan, nan, nan]]
    """
    return _row(shaft_diameter_mm, ISO_SHAFT_EDGES_MM, ISO_KEYS_MM)


def inch_key(shaft_diameter_in: ArrayLike) -> Floats:
    """Parallel key of ASME B17.1 for a shaft.

    Parameters
    ----------
    shaft_diameter_in : array_like
        Shaft diameter, over 7/16 to 6 1/2; shape (...). [in]

    Returns
    -------
    numpy.ndarray
        Width (and height if square), height if rectangular, depth of the keyway of a square key
        along the last axis, shape (..., 3); NaN where the size is outside the table. Square keys
        are preferred in this range. [in]

    Notes
    -----
    Source: ANSI/ASME B17.1, Table 1, as given at the head of this file; the depth is half the
    height.

    Examples
    --------
    >>> inch_key(2.9375).tolist()
    [0.75, 0.5, 0.375]
    """
    sizes = _row(shaft_diameter_in, INCH_SHAFT_EDGES, INCH_KEYS)
    return np.concatenate([sizes, sizes[..., :1] / 2.0], axis=-1)


def _row(
    diameter: ArrayLike, edges: tuple[float, ...], rows: tuple[tuple[float, ...], ...]
) -> Floats:
    # The last row, all blank, is where sizes outside the table land
    table = np.array([*rows, (np.nan,) * len(rows[0])], dtype=np.float64)
    row = np.searchsorted(np.array(edges), np.asarray(diameter, dtype=np.float64)) - 1
    return np.asarray(table[np.where((row >= 0) & (row < len(rows)), row, len(rows))])
