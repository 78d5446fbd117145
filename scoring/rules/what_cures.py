"""Which re-work cures what was found at each unit, by what else was seen there."""

import numpy as np
from numpy.typing import NDArray

from scoring.contract import CHECK_BY_NAME, CHECKS
from scoring.contract.rework import ACTIONS
from scoring.timeline.known import Known
from scoring.timeline.needs_a_part import seen_at_home
from scoring.timeline.what_hanging_does import OF_SHAFT_AT_HOME

Flags = NDArray[np.bool_]
Floats = NDArray[np.float64]

ACTION_NAMES = tuple(action.name for action in ACTIONS)
CHECK_NAMES = tuple(check.name for check in CHECKS)

CURES: Flags = np.array([[check in action.cures for check in CHECK_NAMES] for action in ACTIONS])
"""What the contract says that each action may cure, shape (n_actions, n_checks)."""

CURES_BY_PART: Flags = np.array(
    [[check in action.cures_damage for check in CHECK_NAMES] for action in ACTIONS]
)
"""Of these what it cures too where a part is needed, shape (n_actions, n_checks)."""

CONTACT = "metal_contact"

AT_THE_ANCHOR = ("washer_stack",)
"""Places where metal touches through the anchor joint; at every other place something is to be
cleared."""

_MENDED_BY_PARTS = frozenset(name for action in ACTIONS for name in action.cures_damage)


def needed_at(known: Known, check: str) -> tuple[Flags, ...]:
    """Return which actions cure what was found of a check at each unit.

    Parameters
    ----------
    known : Known
        What was known of units.
    check : str
        A check.

    Returns
    -------
    tuple of ndarray of bool, shape (n_units, n_actions)
        The finding is cured once one action of the first is done and succeeds, and one of each
        other that names any there. Where nothing is found, what the contract says that may cure it.

    Notes
    -----
    Damage, a part that is missing, and a shaft that is short though the unit is home are cured only
    by an action that brings the part. Metal contact is cured at its place: the anchor joint is
    isolated, what touches elsewhere is cleared. Where its place is not known, or several are, it
    takes both.
    """
    place = CHECK_NAMES.index(check)
    if check == CONTACT:
        return _by_place_of_contact(known)
    cures = np.broadcast_to(CURES[:, place], (len(known.units), len(ACTION_NAMES)))
    if check not in _MENDED_BY_PARTS:
        return (cures,)
    by_part = needs_a_part(known, check)[:, np.newaxis]
    return (np.where(by_part, CURES_BY_PART[:, place], cures),)


def needs_a_part(known: Known, check: str) -> Flags:
    """Tell where what was found of a check is cured only by an action that brings a part.

    Parameters
    ----------
    known : Known
        What was known of units.
    check : str
        A check.

    Returns
    -------
    ndarray of bool, shape (n_units,)
    """
    bad = exceedance_at(known, check)
    needs: Flags = bad >= CHECK_BY_NAME[check].damage_exceedance
    if check in OF_SHAFT_AT_HOME:
        needs = needs | ((bad > 0) & seen_at_home(known, check))
    return needs


def places_of_contact(known: Known) -> tuple[Flags, Flags]:
    """Tell where metal touches at the anchor joint, and where elsewhere.

    Parameters
    ----------
    known : Known
        What was known of units.

    Returns
    -------
    tuple of ndarray of bool, shape (n_units,)
        Neither where no contact was found, or its place is not on record.
    """
    size = len(known.units)
    here, elsewhere = np.zeros(size, dtype=bool), np.zeros(size, dtype=bool)
    if "contact_at" not in known.history:
        return here, elsewhere
    said = known.history["contact_at"].fillna("").to_numpy(dtype=object)
    for text in np.unique(said[exceedance_at(known, CONTACT) > 0].astype(str)):
        places = {part.strip() for part in text.split(";")} - {""}
        same = (said == text) & (exceedance_at(known, CONTACT) > 0)
        here[same] = bool(places & {*AT_THE_ANCHOR})
        elsewhere[same] = bool(places - {*AT_THE_ANCHOR})
    return here, elsewhere


def exceedance_at(known: Known, check: str) -> Floats:
    """Return how bad a check was found; missing too where it is not asked about."""
    if check not in known.exceedance:
        return np.full(len(known.units), np.nan)
    values: Floats = known.exceedance[check].to_numpy(dtype=np.float64)
    return values


def _by_place_of_contact(known: Known) -> tuple[Flags, Flags]:
    contact = CURES[:, CHECK_NAMES.index(CONTACT)]
    isolates = contact & CURES[:, CHECK_NAMES.index("isolator_stack")]
    clears = contact & ~isolates
    here, elsewhere = places_of_contact(known)
    touches = exceedance_at(known, CONTACT) > 0
    only_elsewhere, both = elsewhere & ~here, touches & (here == elsewhere)
    one = np.where(only_elsewhere[:, np.newaxis], clears, isolates)
    return np.where(touches[:, np.newaxis], one, contact), both[:, np.newaxis] & clears
