"""Nominal diameter and pitch from the designation of a screw thread.

Source: metric coarse pitches M6 to M24, public tables of ISO 898-1; the other coarse pitches from
memory. A unified designation carries its own threads per inch.
"""

import re

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.validity_ranges import Floats

COARSE_PITCH_MM: dict[float, float] = {
    4.0: 0.7,
    5.0: 0.8,
    6.0: 1.0,
    8.0: 1.25,
    10.0: 1.5,
    12.0: 1.75,
    14.0: 2.0,
    16.0: 2.0,
    18.0: 2.5,
    20.0: 2.5,
    22.0: 2.5,
    24.0: 3.0,
    27.0: 3.0,
    30.0: 3.5,
    33.0: 3.5,
    36.0: 4.0,
}
"""Coarse pitch by nominal diameter. [mm]"""

_M_PER_INCH = 0.0254
_METRIC = re.compile(r"M(\d+(?:\.\d+)?)(?:[x×](\d+(?:\.\d+)?))?")
_WHOLE = r"([1-9]\d*)"
_UNIFIED = re.compile(rf"(?:(?:{_WHOLE}[ -])?{_WHOLE}/{_WHOLE}|{_WHOLE})-{_WHOLE}(?:UN[CFS]?)?")


def thread_size(designation: ArrayLike) -> tuple[Floats, Floats]:
    """Nominal diameter and pitch of metric and unified screw threads.

    Parameters
    ----------
    designation : array_like of str
        For example ``M10``, ``M10x1.25``, ``3/8-16``, ``1 1/8-7``, ``1-8``; any shape. [-]

    Returns
    -------
    tuple of numpy.ndarray
        Diameter and pitch; NaN where the designation is blank or not understood. [m]

    Notes
    -----
    Source: as given at the head of this file.

    Examples
    --------
    >>> diameter, pitch = thread_size(["M10", "M10x1.25", "3/8-16", ""])
    >>> (diameter * 1000).round(3).tolist(), (pitch * 1000).round(4).tolist()
    ([10.0, 10.0, 9.525, nan], [1.5, 1.25, 1.5875, nan])
    """
    given = np.strings.strip(np.asarray(designation, dtype=object).astype(np.str_))
    # A fleet has few different threads: each is read once
    different, where = np.unique(given, return_inverse=True)
    sizes = np.array([_read(str(one)) for one in different]).reshape(-1, 2)
    found = sizes[where].reshape(*given.shape, 2)
    return found[..., 0], found[..., 1]


def _read(designation: str) -> tuple[float, float]:
    if metric := _METRIC.fullmatch(designation):
        diameter = float(metric[1])
        pitch = float(metric[2]) if metric[2] else COARSE_PITCH_MM.get(diameter, float("nan"))
        if 0 < pitch < diameter:
            return diameter / 1000.0, pitch / 1000.0
    if unified := _UNIFIED.fullmatch(designation):
        whole, above, below, inches, threads = (int(part or 0) for part in unified.groups())
        size = whole + above / below if below else float(inches)
        if size * threads > 1:
            return size * _M_PER_INCH, _M_PER_INCH / threads
    return float("nan"), float("nan")
