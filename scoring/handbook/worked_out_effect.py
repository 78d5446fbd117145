"""What an effect is that no table of states tells: it is worked out for each unit."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scoring.handbook.unit_evidence import UnitEvidence

Floats = NDArray[np.float64]
Codes = NDArray[np.int8]
Flags = NDArray[np.bool_]

SEEN, SEEN_IN_PART, REPORTED_CURED, NOT_SEEN, NOT_HERE = (
    "seen",
    "seen in part",
    "reported cured",
    "not seen",
    "not on this mounting",
)
"""How the state of an effect is known."""

HOW_KNOWN = (SEEN, SEEN_IN_PART, REPORTED_CURED, NOT_SEEN, NOT_HERE)
"""All of these, in the order in which they are told by number."""


def how_known_of(units: Mapping[str, Flags]) -> Codes:
    """Return how the state is known at each unit, as a place in ``HOW_KNOWN``.

    Parameters
    ----------
    units : mapping of str to ndarray of bool, shape (n_units,)
        Which units each of them holds for; of several the first counts, of none it is not here.

    Returns
    -------
    ndarray of int8, shape (n_units,)

    Examples
    --------
    >>> how = how_known_of({SEEN: np.array([True, False]), NOT_SEEN: np.array([True, True])})
    >>> [HOW_KNOWN[place] for place in how]
    ['seen', 'not seen']
    """
    codes = [np.int8(HOW_KNOWN.index(word)) for word in units]
    found: Codes = np.select(list(units.values()), codes, np.int8(HOW_KNOWN.index(NOT_HERE)))
    return found


@dataclass(frozen=True)
class MeanMultiplier:
    """By what an effect multiplies a hazard, shape (n_units,) each.

    Attributes
    ----------
    mean : ndarray
        Over what was not seen or not measured. [-]
    unseen_variance : ndarray
        Variance of its logarithm by that. [-]
    known_badly : ndarray
        Variance by how unsure it is what was found, as a margin is. [-]
    """

    mean: Floats
    unseen_variance: Floats
    known_badly: Floats

    @classmethod
    def of(cls, mean: Floats, square: Floats) -> "MeanMultiplier":
        """Return it by mean and mean square over what was not seen."""
        variance = np.log(np.maximum(square / mean**2, 1.0))
        return cls(mean, variance, np.zeros(len(mean)))


@dataclass(frozen=True)
class WorkedOutEffect:
    """An effect with a mean of its own at each unit, over what was not seen or not measured.

    Attributes
    ----------
    name, label : str
        By which it is traced, and what a person calls it.
    checks : tuple of str
        All checks that it rests on.
    shown_by : tuple of str
        Those of them by whose findings alone it is seen to stand.
    uncertainty : dict of str to float
        For each failure that it multiplies, the standard deviation of the logarithm of the
        multiplier over that logarithm. [-]
    origin : dict of str to str
        Where its numbers come from, for each of these failures.
    multiplier : callable
        From failure and evidence to the multiplier at each unit.
    mean : callable
        From failure and evidence to the mean of that alone, which is quicker. [-]
    how_known : callable
        From failure and evidence to how its state is known, as a place in ``HOW_KNOWN``, and the
        state, at each unit.
    usual_mean : callable
        From failure and mounting to the mean multiplier where nobody has looked. [-]
    worst : callable
        From failure to the logarithm of what its worst state multiplies by, and that in words.
    state_words : callable
        From failure and state to how a person would say it.
    """

    name: str
    label: str
    checks: tuple[str, ...]
    shown_by: tuple[str, ...]
    uncertainty: dict[str, float]
    origin: dict[str, str]
    multiplier: Callable[[str, UnitEvidence], MeanMultiplier]
    mean: Callable[[str, UnitEvidence], Floats]
    how_known: Callable[[str, UnitEvidence], tuple[Codes, Floats]]
    usual_mean: Callable[[str, str], float]
    worst: Callable[[str], tuple[float, str]]
    state_words: Callable[[str, float], str]
