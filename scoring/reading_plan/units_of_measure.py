"""Units as people write them, and what turns a value in one of them into the contract's."""

import re
from dataclasses import dataclass

from scoring.contract.quantities import CONVERSIONS, N_PER_LBF, contract_suffix

_WRITTEN = {
    "mm": "mm millimeter millimetre millimètres milímetros",
    "cm": "cm",
    "m": "m meter metre",
    "in": 'in inch inches " zoll ″ pulg pulgadas po pouces pol polegadas in.',
    "ft": "ft feet foot",
    "N·m": "n·m nm n.m n-m newton-meter newtonmeter",
    "kN·m": "kn·m knm kn.m",
    "lbf·ft": "lbf·ft lb-ft lbft lb·ft ft-lb ft-lbs ftlb ftlbs lbs-ft ft·lb ft.lb lbf-ft lb.ft",
    "lbf·in": "lbf·in lb-in lbin in-lb in-lbs inlb inlbs lb·in lbf-in lb.in in.lb",
    "kgf·m": "kgf·m kgm kg-m kgf-m mkp kpm",
    "N": "n newton",
    "kN": "kn",
    "lbf": "lbf",
    "kgf": "kgf kp",
    "kg": "kg kilogram kilo kilos",
    "t": "t tonnes tons",
    "lb": "lb lbs pounds pound",
    "kW": "kw",
    "W": "w watt",
    "hp": "hp bhp",
    "PS": "ps cv ch pk",
    "°C": "°c degc c ºc celsius",
    "°F": "°f degf f ºf fahrenheit",
    "K": "kelvin",
    "mm/s": "mm/s mm/sec mm/srms",
    "in/s": "in/s ips in/sec",
    "in/s peak": "in/speak ipspeak ips-pk in/spk",
    "in/s r.m.s.": "in/srms ipsrms",
    "rpm": "rpm 1/min min-1 u/min tr/min r/min min⁻¹",
    "h/day": "h/day h/d h/tag hrs/day h/jour h/día h/dia hours/day",
    "h": "h hrs hr hours std stunden",
    "deg": "deg ° grad",
    "shore a": "shorea sha",
    "%": "%",
    "pcs": "pcs pc qty ea stk stück pzs pz uds pçs pièces",
}
_UNIT_OF = {word: unit for unit, words in _WRITTEN.items() for word in words.split()}
_SQUASH = re.compile(r"[\s_]+|\br\.m\.s\.")

_FURTHER = {
    "_mm": {"cm": 10.0, "m": 1000.0, "ft": 304.8},
    "_nm": {"kN·m": 1000.0, "kgf·m": 9.80665},
    "_n": {"kN": 1000.0, "kgf": 9.80665},
    "_kg": {"t": 1000.0},
    "_kw": {"W": 0.001, "PS": 0.73549875},
}
"""Factors beside the contract's own conversions; kgf and PS by their definitions."""

_ITSELF = {
    "_mm": "mm", "_nm": "N·m", "_n": "N", "_kg": "kg", "_kw": "kW", "_c": "°C", "_mm_s": "mm/s",
}  # fmt: skip


@dataclass(frozen=True)
class Reckoning:
    """How values in some unit are read.

    Attributes
    ----------
    name : str
        The heading of the contract that says that unit, or the column itself.
    factor, offset : float
        ``value = (given - offset) * factor`` where that heading does not convert it.
    """

    name: str
    factor: float = 1.0
    offset: float = 0.0


def unit_called(text: str) -> str:
    """Return the unit that a text names, or an empty text.

    Examples
    --------
    >>> unit_called("[Zoll]"), unit_called("ft-lbs"), unit_called("breather")
    ('in', 'lbf·ft', '')
    """
    squashed = (
        _SQUASH.sub("", text.strip().strip("[](){}").lower()).replace("⋅", "·").replace("*", "·")
    )
    return _UNIT_OF.get(squashed, _UNIT_OF.get(squashed.rstrip("."), ""))


def heading_and_unit(heading: str) -> tuple[str, str]:
    """Return a heading without its unit, and that unit.

    Examples
    --------
    >>> heading_and_unit("Wellen-Ø [mm]"), heading_and_unit("Torque, ft-lbs")
    (('Wellen-Ø', 'mm'), ('Torque', 'lbf·ft'))
    >>> heading_and_unit("Breather (plug)"), heading_and_unit("shaft dia in")
    (('Breather (plug)', ''), ('shaft dia', 'in'))
    """
    for found in re.finditer(r"[\[({]([^\])}]+)[\])}]", heading):
        unit = unit_called(found[1].removeprefix("in ")) or unit_called(found[1])
        if unit:
            return (heading[: found.start()] + heading[found.end() :]).strip(" ,;:/-"), unit
    parts = re.split(r"[\s,;:_/]+", heading)
    for size in (3, 2, 1):
        tail = " ".join(parts[-size:])
        unit = unit_called(tail) if len(parts) > size else ""
        if unit and not (
            size == 1 and tail.lower() in {"h", "c", "f", "n", "t", "m", "k", "w", "ch"}
        ):
            rest = heading
            for part in reversed(parts[-size:]):
                rest = rest[: rest.rindex(part)].rstrip(" ,;:_/-")
            for word in (" in", " en", " em"):
                rest = rest.removesuffix(word)
            return rest, unit
    return heading, ""


def units_of(column: str) -> tuple[str, ...]:
    """Return the units in which a column of the contract can be given, its own first."""
    suffix = contract_suffix(column)
    if not suffix:
        return ()
    contract = tuple(c.unit for c in CONVERSIONS[suffix])
    return (_ITSELF[suffix], *contract, *_FURTHER.get(suffix, {}))


def reckoning(column: str, unit: str) -> Reckoning | None:
    """Return how values of a column are read that are given in some unit; None where none is known.

    Examples
    --------
    >>> reckoning("shaft_diameter_mm", "in"), reckoning("shaft_diameter_mm", "cm").factor
    (Reckoning(name='shaft_diameter_in', factor=1.0, offset=0.0), 10.0)
    >>> reckoning("shaft_diameter_mm", "kg") is None
    True
    """
    suffix = contract_suffix(column)
    if not unit or unit == _ITSELF.get(suffix) or not suffix:
        return Reckoning(column)
    stem = column.removesuffix(suffix)
    for conversion in CONVERSIONS[suffix]:
        if conversion.unit == unit:
            return Reckoning(stem + conversion.suffix)
    if unit in _FURTHER.get(suffix, {}):
        return Reckoning(column, _FURTHER[suffix][unit])
    if suffix == "_c" and unit == "K":
        return Reckoning(column, 1.0, 273.15)
    if suffix == "_n" and unit == "lb":
        return Reckoning(column, N_PER_LBF)
    return None
