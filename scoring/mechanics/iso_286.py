"""Limits of size of shafts and bores by ISO 286 tolerance class.

Naturally in millimetres and micrometres, so these functions do not use metres.

Source: ISO 286-2, read in an extract of DIN ISO 286-2, a table of round-bar tolerances, an
extract of JIS B 0401 and seal tables (h11, H8); k6 and m6 read there to 80 mm. All values from
10 to 180 mm are those of the public packages ``pressfit`` 0.1.0 (H, h, k, m) and ``isofits`` 1.0.
Above 180 mm: computed from the standard tolerance factor i = 0.45 D^(1/3) + 0.001 D and the
deviations k = 0.6 D^(1/3), m = IT7 - IT6, G = 2.5 D^0.34 (formulas from memory), rounded to whole
steps, and the same as in ``isofits`` 1.0. Where rounding does not give the package's value, the
cell is blank (F8 above 180 mm) or the band is left out (up to 10 mm, above 315 mm).
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from scoring.mechanics.validity_ranges import Floats

BAND_EDGES_MM = np.array([10.0, 18.0, 30.0, 50.0, 80.0, 120.0, 180.0, 250.0, 315.0])
"""Each band runs from over one edge up to and including the next. [mm]"""

_BLANK = np.nan

SHAFT_DEVIATIONS_UM: dict[str, tuple[tuple[float, ...], tuple[float, ...]]] = {
    "h6": ((-11, -13, -16, -19, -22, -25, -29, -32), (0,) * 8),
    "h7": ((-18, -21, -25, -30, -35, -40, -46, -52), (0,) * 8),
    "h8": ((-27, -33, -39, -46, -54, -63, -72, -81), (0,) * 8),
    "h9": ((-43, -52, -62, -74, -87, -100, -115, -130), (0,) * 8),
    "h10": ((-70, -84, -100, -120, -140, -160, -185, -210), (0,) * 8),
    "h11": ((-110, -130, -160, -190, -220, -250, -290, -320), (0,) * 8),
    "k6": ((1, 2, 2, 2, 3, 3, 4, 4), (12, 15, 18, 21, 25, 28, 33, 36)),
    "m6": ((7, 8, 9, 11, 13, 15, 17, 20), (18, 21, 25, 30, 35, 40, 46, 52)),
}
"""Lower and upper deviation of a shaft, band by band. [µm]"""

HOLE_DEVIATIONS_UM: dict[str, tuple[tuple[float, ...], tuple[float, ...]]] = {
    "H7": ((0,) * 8, (18, 21, 25, 30, 35, 40, 46, 52)),
    "H8": ((0,) * 8, (27, 33, 39, 46, 54, 63, 72, 81)),
    "H9": ((0,) * 8, (43, 52, 62, 74, 87, 100, 115, 130)),
    "G7": ((6, 7, 9, 10, 12, 14, 15, 17), (24, 28, 34, 40, 47, 54, 61, 69)),
    "F8": ((16, 20, 25, 30, 36, 43, _BLANK, _BLANK), (43, 53, 64, 76, 90, 106, _BLANK, _BLANK)),
}
"""Lower and upper deviation of a bore, band by band. [µm]"""


def shaft_limits(
    nominal_diameter_mm: ArrayLike, tolerance_class: ArrayLike
) -> tuple[Floats, Floats]:
    """Smallest and largest shaft that its tolerance class allows.

    Parameters
    ----------
    nominal_diameter_mm : array_like
        Nominal diameter, over 10 to 315; broadcasts. [mm]
    tolerance_class : array_like of str
        One of h6 h7 h8 h9 h10 h11 k6 m6; broadcasts. [-]

    Returns
    -------
    tuple of numpy.ndarray
        Smallest and largest diameter; NaN where the class is blank or unknown or the size is
        outside the table. The edge of a band belongs to the band below. [mm]

    Notes
    -----
    Source: ISO 286-2, as given at the head of this file.

    Examples
    --------
    >>> low, high = shaft_limits([80.0, 80.0, 400.0], ["h9", "m6", "h9"])
    >>> low.round(3).tolist(), high.round(3).tolist()
    ([79.926, 80.011, nan], [80.0, 80.03, nan])
    """
    return _limits(nominal_diameter_mm, tolerance_class, SHAFT_DEVIATIONS_UM)


def hole_limits(
    nominal_diameter_mm: ArrayLike, tolerance_class: ArrayLike
) -> tuple[Floats, Floats]:
    """Smallest and largest bore that its tolerance class allows.

    Parameters
    ----------
    nominal_diameter_mm : array_like
        Nominal diameter, over 10 to 315 (F8: to 180); broadcasts. [mm]
    tolerance_class : array_like of str
        One of H7 H8 H9 G7 F8; broadcasts. [-]

    Returns
    -------
    tuple of numpy.ndarray
        Smallest and largest diameter; NaN where the class is blank or unknown or the size is
        outside the table. The edge of a band belongs to the band below. [mm]

    Notes
    -----
    Source: ISO 286-2, as given at the head of this file.

    Examples
    --------
    >>> low, high = hole_limits(80.0, "H8")
    >>> round(float(low), 3), round(float(high), 3)
    (80.0, 80.046)
    """
    return _limits(nominal_diameter_mm, tolerance_class, HOLE_DEVIATIONS_UM)


def _limits(
    nominal_diameter_mm: ArrayLike,
    tolerance_class: ArrayLike,
    table: dict[str, tuple[tuple[float, ...], tuple[float, ...]]],
) -> tuple[Floats, Floats]:
    nominal = np.asarray(nominal_diameter_mm, dtype=np.float64)
    lower, upper = _deviations_um(nominal, tolerance_class, table)
    return nominal + lower / 1000.0, nominal + upper / 1000.0


def _deviations_um(
    nominal_diameter_mm: ArrayLike,
    tolerance_class: ArrayLike,
    table: dict[str, tuple[tuple[float, ...], tuple[float, ...]]],
) -> tuple[Floats, Floats]:
    nominal = np.asarray(nominal_diameter_mm, dtype=np.float64)
    names = np.sort(np.array(list(table)))
    # One column more than bands, one row more than classes: whatever is unknown lands there
    cells = np.full((2, len(names) + 1, len(BAND_EDGES_MM)), np.nan)
    for row, name in enumerate(names):
        cells[:, row, :-1] = table[str(name)]
    row_of = _row(tolerance_class, names)
    band = np.searchsorted(BAND_EDGES_MM, nominal, side="left") - 1
    band = np.where(band < len(BAND_EDGES_MM) - 1, band, -1)
    row_of, band = np.broadcast_arrays(row_of, band)
    return cells[0, row_of, band], cells[1, row_of, band]


def _row(tolerance_class: ArrayLike, names: NDArray[np.str_]) -> NDArray[np.intp]:
    # Through object to text: None, NaN and the like become words that are no class
    given = np.strings.strip(np.asarray(tolerance_class, dtype=object).astype(np.str_))
    near = np.minimum(np.searchsorted(names, given), len(names) - 1)
    return np.where(names[near] == given, near, len(names))
