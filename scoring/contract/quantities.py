"""Units of measure: the suffix a heading carries, and how another suffix is converted.

Exact definitions: 1 in = 25.4 mm, 1 lb = 0.45359237 kg, standard gravity 9.80665 m/s^2;
1 hp is the mechanical horsepower of 550 ft·lbf/s.
"""

from dataclasses import dataclass
from math import sqrt

METRIC, INCH = "metric", "inch"
"""Systems of measure that a person may read and write in."""

MM_PER_INCH = 25.4
N_PER_LBF = 0.45359237 * 9.80665
NM_PER_LBFT = N_PER_LBF * 0.3048
NM_PER_LBIN = N_PER_LBF * 0.0254
KW_PER_HP = 550 * NM_PER_LBFT / 1000
RMS_PER_PEAK = 1 / sqrt(2)


@dataclass(frozen=True)
class Conversion:
    """How a value in another unit becomes one in the contract's unit.

    Attributes
    ----------
    suffix : str
        What the heading ends in.
    unit : str
        The unit for display.
    factor : float
        ``value = (given - offset) * factor``.
    offset : float
        Zero of the given scale, in the given unit.
    assumption : str
        What the conversion takes for granted; empty if nothing.
    """

    suffix: str
    unit: str
    factor: float
    offset: float = 0.0
    assumption: str = ""


CONVERSIONS: dict[str, tuple[Conversion, ...]] = {
    "_mm_s": (
        Conversion(
            "_in_s_peak",
            "in/s peak",
            MM_PER_INCH * RMS_PER_PEAK,
            assumption="peak velocity divided by the square root of two, as for a pure tone",
        ),
        Conversion("_in_s_rms", "in/s r.m.s.", MM_PER_INCH),
    ),
    "_mm": (Conversion("_in", "in", MM_PER_INCH),),
    "_nm": (Conversion("_lbft", "lbf·ft", NM_PER_LBFT), Conversion("_lbin", "lbf·in", NM_PER_LBIN)),
    "_n": (Conversion("_lbf", "lbf", N_PER_LBF),),
    "_kg": (Conversion("_lb", "lb", 0.45359237),),
    "_kw": (Conversion("_hp", "hp", KW_PER_HP),),
    "_c": (Conversion("_f", "°F", 5 / 9, 32.0),),
}
"""Conversions by the suffix of the contract's column; the longest suffix that fits counts."""

AMBIGUOUS_SUFFIXES: dict[str, dict[str, str]] = {
    "_mm_s": {
        "_in_s": "say whether it is _in_s_peak or _in_s_rms; they differ by a factor of 1.41"
    },
}
"""Suffixes that cannot be converted without a guess, with what to write instead."""


def contract_suffix(name: str) -> str:
    """Return the suffix by which a contract column can be converted, or an empty string.

    Examples
    --------
    >>> contract_suffix("vibration_mm_s"), contract_suffix("shaft_diameter_mm")
    ('_mm_s', '_mm')
    >>> contract_suffix("unit_id")
    ''
    """
    return next((suffix for suffix in CONVERSIONS if name.endswith(suffix)), "")


def alternative_names(name: str) -> dict[str, Conversion]:
    """Return the headings that may stand for a contract column, with their conversions.

    Examples
    --------
    >>> sorted(alternative_names("screw_torque_nm"))
    ['screw_torque_lbft', 'screw_torque_lbin']
    """
    suffix = contract_suffix(name)
    stem = name.removesuffix(suffix)
    return {stem + c.suffix: c for c in CONVERSIONS.get(suffix, ())}


def ambiguous_names(name: str) -> dict[str, str]:
    """Return the headings that look like a contract column but cannot be converted."""
    suffix = contract_suffix(name)
    stem = name.removesuffix(suffix)
    return {stem + s: advice for s, advice in AMBIGUOUS_SUFFIXES.get(suffix, {}).items()}
