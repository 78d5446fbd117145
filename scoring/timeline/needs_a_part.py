"""What was found of which only an action that brings the part can be a cure."""

import numpy as np
from numpy.typing import NDArray

from scoring.contract import CHECKS
from scoring.timeline.known import Known
from scoring.timeline.what_hanging_does import OF_SHAFT_AT_HOME, SEATED, at_home_column

Flags = NDArray[np.bool_]

_DAMAGE_FROM = np.array([check.damage_exceedance for check in CHECKS])
_PLACE = {check.name: place for place, check in enumerate(CHECKS)}


def seen_at_home(known: Known, check: str) -> Flags:
    """Tell where the unit was seen home on the hanging on which a check was seen.

    Parameters
    ----------
    known : Known
        What was known of units; without a history it is what stands of the seat.
    check : str
        One of ``OF_SHAFT_AT_HOME``, which then tells of the shaft.

    Returns
    -------
    ndarray of bool, shape (n_units,)
    """
    column = at_home_column(check)
    if column in known.history:
        return known.history[column].to_numpy(dtype=bool)
    if SEATED in known.exceedance:
        return (known.exceedance[SEATED] == 0).to_numpy()
    return np.zeros(len(known.units), dtype=bool)


def needs_a_part(known: Known) -> Flags:
    """Tell what stands although an action that brings no part was done.

    Parameters
    ----------
    known : Known
        What was known of units.

    Returns
    -------
    ndarray of bool, shape (n_units, n_checks)
        True where damage was found, and where a unit was seen home as its engagement or shaft end
        was seen: then these are the shaft's, and pushing the unit home changes nothing.
    """
    found: Flags = known.exceedance.to_numpy(dtype=np.float64) >= _DAMAGE_FROM
    for name in OF_SHAFT_AT_HOME:
        found[:, _PLACE[name]] |= seen_at_home(known, name)
    return found
