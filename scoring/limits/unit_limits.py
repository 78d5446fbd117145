"""The limits of each unit: from its own records, else as assumed and said so."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract.mountings import CLAMPED, TAPERED_BUSHING
from scoring.contract.units import SHAFT_TOLERANCES
from scoring.limits import assumptions
from scoring.limits.assumptions import Assumed
from scoring.limits.join_words import join_words
from scoring.mechanics.iso_286 import shaft_limits
from scoring.records import has_mounting


@dataclass(frozen=True)
class UnitLimits:
    """What is good at each unit.

    Attributes
    ----------
    table : DataFrame, shape (n_units, n_limits)
        ``mounting`` and the limits in the contract's units; missing where nothing is known and
        nothing may be assumed.
    assumed : ndarray of str, shape (n_units,)
        What was taken for granted, in words.
    """

    table: pd.DataFrame
    assumed: NDArray[np.object_]

    def at(self, place: NDArray[np.int64]) -> "UnitLimits":
        """Return the limits of some of the units, which may come again and again.

        Parameters
        ----------
        place : ndarray of int, shape (n_rows,)
            Rows of ``table``.

        Returns
        -------
        UnitLimits
        """
        return UnitLimits(self.table.iloc[place].reset_index(drop=True), self.assumed[place])


def unit_limits(units: pd.DataFrame) -> UnitLimits:
    """Return the limits of each unit.

    Parameters
    ----------
    units : DataFrame, shape (n_units, ...)
        The table ``units``.

    Returns
    -------
    UnitLimits
    """
    clamped = has_mounting(units, CLAMPED)
    tapered = has_mounting(units, (TAPERED_BUSHING,))
    everywhere = np.ones(len(units), dtype=bool)
    values: dict[str, pd.Series[str] | NDArray[np.float64]] = {"mounting": units["mounting"]}
    words: list[tuple[NDArray[np.bool_], str]] = []

    def assume(column: str, assumed: Assumed, where: NDArray[np.bool_]) -> None:
        given = units[column].to_numpy()
        blank = np.isnan(given)
        values[column] = np.where(blank, assumed.value, given)
        words.append((blank & where, assumed.words))

    started_blank = units["started_on"].isna().to_numpy()
    words.append((started_blank, "started when it was hung"))
    assume("torque_passes_required", assumptions.TORQUE_PASSES, clamped)
    assume("collar_gap_min_mm", assumptions.COLLAR_GAP_MIN, tapered)
    assume("collar_gap_max_mm", assumptions.COLLAR_GAP_MAX, tapered)
    assume("isolator_thickness_mm", assumptions.ISOLATOR_THICKNESS, everywhere)
    required, shaft = (
        units[name].to_numpy() for name in ("required_engagement_mm", "shaft_diameter_mm")
    )
    usual = np.full(len(units), np.nan)
    for mounting, assumed in assumptions.ENGAGEMENT_IN_DIAMETERS.items():
        here = has_mounting(units, (mounting,)) & np.isnan(required)
        usual[here] = assumed.value * shaft[here]
        words.append((here, assumed.words))
    values["required_engagement_mm"], values["usual_engagement_mm"] = required, usual
    values["screw_torque_nm"] = units["screw_torque_nm"].to_numpy()
    low, high, unknown = _shaft_size(units)
    values["shaft_low_mm"], values["shaft_high_mm"] = low, high
    words.append((unknown, "shaft within the widest classes of the list, none given"))
    return UnitLimits(pd.DataFrame(values), join_words(words, len(units)))


def _shaft_size(
    units: pd.DataFrame,
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.bool_]]:
    """Limits as given, else of the class, else the widest of any class on the list."""
    nominal = units["shaft_diameter_mm"].to_numpy()
    of_class = shaft_limits(nominal, units["shaft_tolerance"].astype(object).to_numpy())
    every = [shaft_limits(nominal, name) for name in SHAFT_TOLERANCES]
    widest = (
        np.min([low for low, _ in every], axis=0),
        np.max([high for _, high in every], axis=0),
    )
    given = (units["shaft_low_mm"].to_numpy(), units["shaft_high_mm"].to_numpy())
    known = ~np.isnan(given[0]) | ~np.isnan(of_class[0])
    low, high = (
        np.where(np.isnan(g), np.where(np.isnan(c), w, c), g)
        for g, c, w in zip(given, of_class, widest, strict=True)
    )
    return low, high, ~known
