"""What the nameplate, the surroundings and age make of hazards in one plant.

The true hazard is a product of powers of numbers and of multipliers of words. In a plain plant they
are the same for every seed, in a wide one they are drawn anew. All are planning values of ours.
"""

from dataclasses import dataclass

import numpy as np
import pandas as pd

from demo_data.ageing import PLAIN_AGEING, Ageing
from demo_data.arrays import Floats

GRAVITY = 9.81


@dataclass(frozen=True)
class Power:
    """What a number on the nameplate does.

    Attributes
    ----------
    of : str
        Which number; see ``numbers_of``.
    does : tuple of float
        What one more of it adds to the log hazard of each mode: a power, where it is a logarithm.
    """

    of: str
    does: tuple[float, ...]


@dataclass(frozen=True)
class Words:
    """What the words of a column do.

    Attributes
    ----------
    of : str
        Column of the contract's units.
    does : dict of str to tuple of float
        What each word adds to the log hazard of each mode.
    """

    of: str
    does: dict[str, tuple[float, ...]]


Term = Power | Words


@dataclass(frozen=True)
class Physics:
    """What nameplate and age do in one plant.

    Attributes
    ----------
    terms : tuple of Term
        What the nameplate adds to the log hazard.
    ageing : Ageing
        How hazard runs with age.
    rate : tuple of (float, float)
        Range of failures a unit-year of units just hung, by mode, from which a plant's level is
        drawn.
    """

    terms: tuple[Term, ...]
    ageing: Ageing
    rate: tuple[tuple[float, float], ...]

    def of_nameplate(self, plate: pd.DataFrame) -> Floats:
        """Return what each nameplate makes of the log hazard, shape (modes, units)."""
        numbers = numbers_of(plate)
        total = np.zeros((len(self.rate), len(plate)))
        for term in self.terms:
            for mode in range(len(total)):
                if isinstance(term, Power):
                    total[mode] += term.does[mode] * numbers[term.of]
                else:
                    word_does = {word: does[mode] for word, does in term.does.items()}
                    total[mode] += plate[term.of].map(word_does).to_numpy(dtype=np.float64)
        return total

    def named(self) -> dict[str, tuple[float, ...]]:
        """Return what each number and each word does to the log hazard of each mode, by name.

        Examples
        --------
        >>> PLAIN_PHYSICS.named()["power: speed"], PLAIN_PHYSICS.named()["seal_material: nbr"]
        ((0.2, 0.3, 0), (0, 0.15, 0))
        """
        named: dict[str, tuple[float, ...]] = {}
        for term in self.terms:
            if isinstance(term, Power):
                named[f"power: {term.of}"] = term.does
            else:
                named |= {f"{term.of}: {word}": does for word, does in term.does.items()}
        return named


def numbers_of(plate: pd.DataFrame) -> dict[str, Floats]:
    """Return the numbers of nameplates that hazards go by, about what is usual.

    Parameters
    ----------
    plate : pandas.DataFrame
        Nameplates, nothing blank.

    Returns
    -------
    dict of float arrays, each of shape (units,)
        ``duty``, ``size``, ``speed`` and ``load`` (over the bearing's rating) are logarithms;
        ``peak`` counts from 1.8, and ``warmth`` tens of kelvins from 20 °C.
    """
    return {
        "duty": np.log(plate["duty_h_per_day"].to_numpy() / 16),
        "size": np.log(plate["shaft_diameter_mm"].to_numpy() / 80),
        "speed": np.log(plate["output_speed_rpm"].to_numpy() / 50),
        "peak": plate["peak_factor"].to_numpy() - 1.8,
        "warmth": (plate["ambient_c"].to_numpy() - 20) / 10,
        "load": np.log(load_over_rating(plate)),
    }


def load_over_rating(plate: pd.DataFrame) -> Floats:
    """Return what the worse bearing bears over its rating, by this generator's own statics.

    The arm's pull and the weight add up, the unit hangs in the middle between its bearings, and the
    arm pulls off the middle.

    Examples
    --------
    >>> plate = pd.DataFrame(
    ...     {
    ...         "output_torque_nm": [2000.0],
    ...         "arm_length_mm": [500.0],
    ...         "unit_mass_kg": [100.0],
    ...         "bearing_span_mm": [160.0],
    ...         "arm_offset_mm": [40.0],
    ...         "bearing_dynamic_rating_n": [50_000.0],
    ...     }
    ... )
    >>> load_over_rating(plate).round(4)
    array([0.0698])
    """
    sizes = {
        name: plate[name].to_numpy(dtype=np.float64)
        for name in ("arm_length_mm", "unit_mass_kg", "bearing_span_mm", "arm_offset_mm")
    }
    torque = plate["output_torque_nm"].to_numpy(dtype=np.float64)
    rating = plate["bearing_dynamic_rating_n"].to_numpy(dtype=np.float64)
    pull = 1000 * torque / sizes["arm_length_mm"]
    weight = GRAVITY * sizes["unit_mass_kg"]
    off_middle = sizes["arm_offset_mm"] / sizes["bearing_span_mm"]
    return np.asarray((pull * (0.5 + off_middle) + 0.5 * weight) / rating)


PLAIN_PHYSICS = Physics(
    terms=(
        Power("duty", (0.6, 0.6, 0.3)),
        Power("size", (0.25, 0.3, 0)),
        Power("speed", (0.2, 0.3, 0)),
        Power("peak", (0.5, 0, 0)),
        Words(
            "environment",
            {
                "dry_indoor": (0.4 * -0.25, 0.9 * -0.25, 0),
                "dusty": (0.4 * 0.25, 0.9 * 0.25, 0),
                "washdown": (0.4 * 0.3, 0.9 * 0.3, 0),
                "outdoor": (0, 0, 0),
            },
        ),
        Power("warmth", (0, 0.12, 0)),
        Words("seal_material", {"nbr": (0, 0.15, 0), "hnbr": (0, 0, 0), "fkm": (0, -0.15, 0)}),
        Words("bearing_kind", {"roller": (-0.15, 0, 0), "ball": (0, 0, 0)}),
    ),
    ageing=PLAIN_AGEING,
    rate=((0.018, 0.030), (0.055, 0.090), (0.0025, 0.005)),
)
"""The same for every seed. Weak joints slip soon, and those that still stand slip less."""
