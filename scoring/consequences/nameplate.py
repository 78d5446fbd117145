"""The nameplate of each unit in coherent SI, with what had to be assumed."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.assumed_sizes import ASSUMED_SIZES, COUNTED_AS_USUAL
from scoring.limits.assumptions import ISOLATOR_THICKNESS
from scoring.mechanics.rubber_modulus import HARDNESS
from scoring.timeline.known import Known

Floats = NDArray[np.float64]

LEAST_ISOLATOR_RATIO = 1.2
"""Outside of an isolator over its hole where one of them is assumed; planning value of ours. [-]"""

_TO_SI = {"_mm": 1e-3, "_nm": 1.0, "_kg": 1.0}


@dataclass(frozen=True)
class Nameplate:
    """Sizes and loads of each unit.

    Attributes
    ----------
    si : dict of str to ndarray, shape (n_units,)
        Columns of ``units`` in metres, newtons and radians a second, blanks filled.
    given : dict of str to ndarray of bool, shape (n_units,)
        Whether each was on the nameplate.
    torque_from_power : ndarray of bool, shape (n_units,)
        Whether the running torque is that of the motor's full power.
    words : tuple of (ndarray of bool, str)
        For which units something was assumed, and what.
    """

    si: dict[str, Floats]
    given: dict[str, NDArray[np.bool_]]
    torque_from_power: NDArray[np.bool_]
    words: tuple[tuple[NDArray[np.bool_], str], ...]

    def at(self, place: NDArray[np.intp]) -> "Nameplate":
        """Return the sizes of some of the units, without words."""
        si = {name: values[place] for name, values in self.si.items()}
        given = {name: here[place] for name, here in self.given.items()}
        return Nameplate(si, given, self.torque_from_power[place], ())

    def was_given(self, column: str, place: int) -> bool:
        """Tell whether a unit's nameplate gave a column."""
        return bool(self.given[column][place])

    def __getitem__(self, column: str) -> Floats:
        """Return a column in SI."""
        return self.si[column]


def nameplate_of(known: Known) -> Nameplate:
    """Return the nameplates of the units that are known of; read once for all who ask."""
    kept = known.worked_out.get("nameplate")
    if isinstance(kept, Nameplate):
        return kept
    read = known.worked_out["nameplate"] = read_nameplates(known.units)
    return read


def read_nameplates(units: pd.DataFrame) -> Nameplate:
    """Return the nameplate of each unit, blanks filled as declared.

    Parameters
    ----------
    units : DataFrame, shape (n_units, ...)
        The table ``units``.

    Returns
    -------
    Nameplate
    """
    shaft = units["shaft_diameter_mm"].to_numpy()
    filled: dict[str, Floats] = {"shaft_diameter_mm": shaft}
    given: dict[str, NDArray[np.bool_]] = {"shaft_diameter_mm": np.ones(len(units), bool)}
    words = []
    for size in ASSUMED_SIZES:
        values = as_given = units[size.column].to_numpy()
        if size.column == "output_torque_nm":
            values = _torque_from_power(units, values)
        blank = np.isnan(values)
        filled[size.column] = np.where(blank, size.factor * shaft**size.power, values)
        given[size.column] = ~np.isnan(as_given)
        words.append((blank, size.words))
    thickness = units["isolator_thickness_mm"].to_numpy()
    no_thickness = np.isnan(thickness)
    filled["isolator_thickness_mm"] = np.where(no_thickness, ISOLATOR_THICKNESS.value, thickness)
    given["isolator_thickness_mm"] = ~no_thickness
    words.extend(_put_in_order(filled, given))
    from_power = _only_power(units)
    words.append((from_power, "running torque from the motor's full power"))
    words.extend((units[c].isna().to_numpy(), said) for c, said in COUNTED_AS_USUAL.items())
    ball = (units["bearing_kind"] == "ball").to_numpy()
    words.append((units["bearing_kind"].isna().to_numpy(), "roller bearings"))
    si = {name: values * _factor(name) for name, values in filled.items()}
    si["life_exponent"] = np.where(ball, 3.0, 10 / 3)
    return Nameplate(si, given, from_power, tuple(words))


def usual_nameplate(shaft: Floats) -> Nameplate:
    """Return sizes and loads that are usual for shafts of which nothing else is known.

    Parameters
    ----------
    shaft : ndarray, shape (n_units,)
        Diameter of the driven shaft. [m]

    Returns
    -------
    Nameplate
        Nothing of it was given.
    """
    usual = {
        size.column: size.factor * (shaft * 1e3) ** size.power * _factor(size.column)
        for size in ASSUMED_SIZES
    }
    si = {"shaft_diameter_mm": shaft, **usual}
    nothing = np.zeros(len(shaft), bool)
    return Nameplate(si, dict.fromkeys(si, nothing), nothing, ())


def _torque_from_power(units: pd.DataFrame, torque: Floats) -> Floats:
    """Fill a blank running torque from power and speed: T = P / omega."""
    speed = units["output_speed_rpm"].to_numpy() * 2 * np.pi / 60
    from_power = units["motor_power_kw"].to_numpy() * 1000 / speed
    return np.where(np.isnan(torque), from_power, torque)


def _only_power(units: pd.DataFrame) -> NDArray[np.bool_]:
    torque, power, speed = (
        np.isnan(units[name].to_numpy())
        for name in ("output_torque_nm", "motor_power_kw", "output_speed_rpm")
    )
    alone: NDArray[np.bool_] = torque & ~power & ~speed
    return alone


def _put_in_order(
    filled: dict[str, Floats], given: dict[str, NDArray[np.bool_]]
) -> list[tuple[NDArray[np.bool_], str]]:
    """Keep assumed sizes consistent with given ones, and hardness within its table."""
    outer, inner = filled["isolator_outer_mm"], filled["isolator_inner_mm"]
    thin = outer < LEAST_ISOLATOR_RATIO * inner
    thicker = thin & ~given["isolator_outer_mm"]
    narrower = thin & ~thicker & ~given["isolator_inner_mm"]
    filled["isolator_outer_mm"] = np.where(thicker, LEAST_ISOLATOR_RATIO * inner, outer)
    filled["isolator_inner_mm"] = np.where(narrower, outer / LEAST_ISOLATOR_RATIO, inner)
    hardness = filled["isolator_hardness_shore_a"]
    filled["isolator_hardness_shore_a"] = np.clip(hardness, HARDNESS[0], HARDNESS[-1])
    beyond = hardness != filled["isolator_hardness_shore_a"]
    ends = f"{HARDNESS[0]:g} to {HARDNESS[-1]:g}"
    return [
        (thicker | narrower, f"isolator {LEAST_ISOLATOR_RATIO:g} times as wide as its hole"),
        (beyond, f"isolator hardness at the end of the table, {ends} Shore A"),
    ]


def _factor(column: str) -> float:
    return next((f for suffix, f in _TO_SI.items() if column.endswith(suffix)), 1.0)
