"""What speed, temperature and run-out ask of a rotary lip seal.

Temperatures are in degrees Celsius where a name ends in ``_c``.
"""

import numpy as np
from numpy.typing import ArrayLike

from scoring.mechanics.provenance import Provenance, SourcedRange
from scoring.mechanics.ranges import Floats, between, not_negative, positive

_ABSOLUTE_ZERO_C = -273.15
_HOTTEST_C = 300.0

_HANDBOOK = "The Tribology Handbook, p. 274 (sheet B23.3), lips in oil"

MATERIAL_RANGE_C: dict[str, SourcedRange] = {
    "nbr": SourcedRange(
        low=-40,
        typical=90,
        high=100,
        unit="°C",
        provenance=Provenance.FROM_MEMORY,
        source="low and high: " + _HANDBOOK + "; typical: lasting limit in gear oil, from memory",
    ),
    "hnbr": SourcedRange(
        low=-30,
        typical=130,
        high=140,
        unit="°C",
        provenance=Provenance.FROM_MEMORY,
        source="typical and high: lasting limit in gear oil, from memory; low is ours",
    ),
    "fkm": SourcedRange(
        low=-30,
        typical=160,
        high=200,
        unit="°C",
        provenance=Provenance.FROM_MEMORY,
        source="low and high: " + _HANDBOOK + "; typical: lasting limit in gear oil, from memory",
    ),
}
"""Coldest, hottest for long, and hottest temperature of the lip, by material. [°C]"""

LARGEST_SPEED = SourcedRange(
    low=12.0,
    typical=15.0,
    high=35.0,
    unit="m/s",
    provenance=Provenance.FROM_MEMORY,
    source="typical: SEED seals guide, section 2.1; low (nbr) and high (fkm) from memory",
)
"""Speed of the shaft's surface up to which lip seals are used. [m/s]"""

RUNOUT_ALLOWANCE = SourcedRange(
    low=0.13e-3,
    typical=0.25e-3,
    high=0.25e-3,
    unit="m",
    provenance=Provenance.FROM_MEMORY,
    source="North American seal practice, from memory: aim for 0.13 mm, outer limit 0.25 mm at "
    "low speed (up to about 500 r/min)",
)
"""Total indicator reading at the lip that a seal follows. [m]"""

_RISE_SPEED = (0.0, 2.0, 10.0)
_RISE_LOW = (5.0, 5.0, 20.0)
_RISE_HIGH = (15.0, 15.0, 40.0)


def surface_speed(shaft_diameter: ArrayLike, speed: ArrayLike) -> Floats:
    """Speed of the shaft's surface under the lip.

    Parameters
    ----------
    shaft_diameter : array_like
        Diameter under the lip. [m]
    speed : array_like
        Rotational speed. [rad/s]

    Returns
    -------
    numpy.ndarray
        Half the diameter times the speed. [m/s]

    Raises
    ------
    OutOfRangeError
        If a diameter is not above 0 or a speed negative.

    Notes
    -----
    Source: geometry.

    Examples
    --------
    >>> round(float(surface_speed(0.100, 2 * np.pi)), 3)
    0.314
    """
    radius = positive("shaft diameter", shaft_diameter, "m") / 2.0
    return radius * not_negative("rotational speed", speed, "rad/s")


def lip_temperature_range(sump_c: ArrayLike, surface_speed: ArrayLike) -> tuple[Floats, Floats]:
    """Lowest and highest likely temperature of the lip, from that of the oil.

    Parameters
    ----------
    sump_c : array_like
        Temperature of the oil, at most 300. [°C]
    surface_speed : array_like
        Speed of the shaft's surface, 0 to 10. [m/s]

    Returns
    -------
    tuple of numpy.ndarray
        Oil plus 5 to 15 K up to 2 m/s, rising to 20 to 40 K at 10 m/s. [°C]

    Raises
    ------
    OutOfRangeError
        If a value is outside its range.

    Notes
    -----
    Source: planning value of ours.

    Examples
    --------
    >>> low, high = lip_temperature_range(70.0, 0.314)
    >>> float(low), float(high)
    (75.0, 85.0)
    """
    oil = between("oil temperature", sump_c, "°C", _ABSOLUTE_ZERO_C, _HOTTEST_C)
    speed = between("surface speed", surface_speed, "m/s", 0.0, _RISE_SPEED[-1])
    low: Floats = np.interp(speed, _RISE_SPEED, _RISE_LOW)
    high: Floats = np.interp(speed, _RISE_SPEED, _RISE_HIGH)
    return oil + low, oil + high


def ageing_ratio(lip_c: ArrayLike, reference_c: ArrayLike) -> Floats:
    """How much faster a lip ages than at a reference temperature.

    Parameters
    ----------
    lip_c : array_like
        Temperature of the lip, at most 300. [°C]
    reference_c : array_like
        Temperature at which the ratio is 1, at most 300. [°C]

    Returns
    -------
    numpy.ndarray
        2^((lip - reference) / 10 K). [-]

    Raises
    ------
    OutOfRangeError
        If a temperature is outside its range.

    Notes
    -----
    Source: from memory, the rule that the rate doubles every 10 K; good for a few tens of kelvin.

    Examples
    --------
    >>> float(ageing_ratio(100.0, 80.0))
    4.0
    """
    lip = between("lip temperature", lip_c, "°C", _ABSOLUTE_ZERO_C, _HOTTEST_C)
    reference = between("reference temperature", reference_c, "°C", _ABSOLUTE_ZERO_C, _HOTTEST_C)
    return np.asarray(2.0 ** ((lip - reference) / 10.0))


def runout_ratio(runout: ArrayLike, allowance: ArrayLike = RUNOUT_ALLOWANCE.typical) -> Floats:
    """Run-out of the shaft under the lip, over what a seal follows.

    Parameters
    ----------
    runout : array_like
        Total indicator reading at the seal. [m]
    allowance : array_like
        What a seal follows; the default is for shafts up to about 500 r/min. [m]

    Returns
    -------
    numpy.ndarray
        Above 1 the lip no longer follows. [-]

    Raises
    ------
    OutOfRangeError
        If a run-out is negative or an allowance not above 0.

    Notes
    -----
    Source: default allowance from memory, as said in ``RUNOUT_ALLOWANCE``.

    Examples
    --------
    >>> float(runout_ratio(0.0005))
    2.0
    """
    return not_negative("shaft run-out", runout, "m") / positive("allowance", allowance, "m")
