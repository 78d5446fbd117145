"""Preload left in a circle of screws that are tightened one after another.

Tightening one screw relaxes its neighbours (elastic cross-talk): raising screw j by dF takes
a_m dF from every screw that is already tight m places away along the circle. One pass therefore
leaves the early screws slack; passes repeated until no screw turns put that right. The order
moves the slack screws about but changes neither their number nor the mean.

Source: the model is ours. Its coefficients are a planning value of ours, 0.15 and 0.03; their sum
round the circle, 0.36, agrees with the loss of about 35 % from interaction alone that a technical
reference page on tightening sequences gives. The RCSC specification commentary, section 8.2,
describes the effect without numbers.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from scoring.errors import OutOfRangeError
from scoring.mechanics.validity_ranges import Floats, between, not_negative, require

CROSS_TALK: tuple[float, ...] = (0.15, 0.03)
"""Share of a rise taken from the next and the next but one; planning value of ours. [-]"""

CIRCULAR = "circular"
STAR = "star"

_MOST_SCREWS = 64
_MOST_PASSES = 20
_RISING = 3


def pass_levels(passes: int) -> tuple[float, ...]:
    """Torque of each pass as a share of the final torque.

    Parameters
    ----------
    passes : int
        Passes made after hand-tightening, 0 to 20. [-]

    Returns
    -------
    tuple of float
        The level of each pass: three rise to the final torque, any more repeat it. [-]

    Raises
    ------
    OutOfRangeError
        If the number of passes is outside its range.

    Notes
    -----
    Source: three rising steps are common practice, no source; 30, 60, 100 % is a planning value
    of ours inside the customary 20-30, 50-70 and 100 %.

    Examples
    --------
    >>> pass_levels(1), pass_levels(4)
    ((1.0,), (0.3, 0.6, 1.0, 1.0))
    """
    between("tightening passes", passes, "", 0, _MOST_PASSES)
    rising = {0: (), 1: (1.0,), 2: (0.5, 1.0)}.get(passes, (0.3, 0.6, 1.0))
    return (*rising, *(1.0 for _ in range(passes - len(rising))))


def screw_sequence(screw_count: int, order: str) -> NDArray[np.intp]:
    """Places on the circle in the order in which the screws are tightened.

    Parameters
    ----------
    screw_count : int
        Screws in the circle, 1 to 64. [-]
    order : str
        ``circular``: one after the other; ``star``: across, then at right angles, and so on.
        Anything else is taken as circular. [-]

    Returns
    -------
    numpy.ndarray
        A permutation of 0 ... screw_count - 1, shape (screw_count,). [-]

    Raises
    ------
    OutOfRangeError
        If the number of screws is outside its range.

    Notes
    -----
    Source: common practice, no source.

    Examples
    --------
    >>> screw_sequence(8, "star").tolist()
    [0, 4, 2, 6, 1, 5, 3, 7]
    """
    between("screws in the circle", screw_count, "", 1, _MOST_SCREWS)
    places = np.arange(screw_count)
    if order != STAR:
        return places
    # Opposite pairs; their first screws in bit-reversed order, which keeps jumping apart
    pairs = screw_count // 2
    bits = max(pairs - 1, 0).bit_length()
    reversed_bits = [int(f"{place:0{bits or 1}b}"[::-1], 2) for place in range(2**bits)]
    firsts = np.array([place for place in reversed_bits if place < pairs], dtype=np.intp)
    across = np.stack([firsts, firsts + pairs], axis=1).ravel()
    return np.concatenate([across, places[2 * pairs :]])


def preload_round_the_circle(
    levels: ArrayLike, sequence: ArrayLike, cross_talk: ArrayLike = CROSS_TALK
) -> Floats:
    """Preload of every screw after all passes, as a share of the preload aimed at.

    Parameters
    ----------
    levels : array_like
        Level of each pass as a share of the final torque, at least 0; shape (..., passes). [-]
    sequence : array_like of int
        A permutation of the screws, shape (screws,), or one for each pass, shape
        (passes, screws). [-]
    cross_talk : array_like
        Share of a rise taken from the screws 1, 2, ... places away, 0 to below 0.5;
        shape (..., distances). [-]

    Returns
    -------
    numpy.ndarray
        Share of the preload aimed at, shape (..., screws). [-]

    Raises
    ------
    OutOfRangeError
        If a level or a share is outside its range, or the sequence is no permutation.

    Notes
    -----
    Source: model and coefficients as given at the head of this file.

    Examples
    --------
    >>> left = preload_round_the_circle([1.0], range(8))
    >>> round(float(left.mean()), 3), round(float(left.min()), 3)
    (0.82, 0.64)
    """
    torque = not_negative("level of a pass", levels, "")
    taken = between("cross-talk", cross_talk, "", 0.0, 0.49)
    orders = np.asarray(sequence, dtype=np.intp)
    screws = orders.shape[-1]
    if not np.all(np.sort(orders, axis=-1) == np.arange(screws)):
        raise OutOfRangeError("tightening sequence", screws, "screws", "each screw once in a pass")
    orders = np.broadcast_to(orders, (torque.shape[-1], screws))
    loss = _loss(screws, taken)
    left = np.zeros((*np.broadcast_shapes(torque.shape[:-1], taken.shape[:-1]), screws))
    tight = np.zeros(screws)
    for one_pass, order in enumerate(orders):
        for place in order:
            rise = np.maximum(torque[..., one_pass] - left[..., place], 0.0)
            left -= loss[..., place, :] * tight * rise[..., np.newaxis]
            np.maximum(left, 0.0, out=left)
            left[..., place] += rise
            tight[place] = 1.0
    return left


def mean_and_lowest_preload(
    screw_count: ArrayLike,
    passes: ArrayLike,
    order: ArrayLike = CIRCULAR,
    cross_talk: tuple[float, ...] = CROSS_TALK,
) -> tuple[Floats, Floats]:
    """Mean and lowest preload of each unit's screw circle, as shares of the preload aimed at.

    Parameters
    ----------
    screw_count : array_like
        Screws in the circle, 1 to 64; broadcasts. [-]
    passes : array_like
        Passes made, 0 to 20, taken as in `pass_levels`; broadcasts. [-]
    order : array_like of str
        Order used while the torque rises, as in `screw_sequence`; passes that repeat the final
        torque go round in a circle, as is usual. Broadcasts. [-]
    cross_talk : tuple of float
        Share of a rise taken from the screws 1, 2, ... places away. [-]

    Returns
    -------
    tuple of numpy.ndarray
        Mean and lowest share; NaN where a number of screws or passes is missing. [-]

    Raises
    ------
    OutOfRangeError
        If a number of screws or passes is outside its range.

    Notes
    -----
    Source: model and coefficients as given at the head of this file.

    Examples
    --------
    >>> mean, lowest = mean_and_lowest_preload(8, [1, 3, 5], "star")
    >>> mean.round(3).tolist(), lowest.round(3).tolist()
    ([0.82, 0.892, 0.996], [0.64, 0.786, 0.992])
    """
    screws = between("screws in the circle", screw_count, "", 1, _MOST_SCREWS)
    made = between("tightening passes", passes, "", 0, _MOST_PASSES)
    require("screws in the circle", screws, ~(np.floor(screws) < screws), "", "whole numbers")
    require("tightening passes", made, ~(np.floor(made) < made), "", "whole numbers")
    star = np.asarray(np.asarray(order, dtype=object).astype(np.str_) == STAR, dtype=np.float64)
    # A fleet has few different circles, one number each: every one is worked out once
    cases = (screws * (_MOST_PASSES + 1) + made) * 2.0 + star
    different, where = np.unique(cases, return_inverse=True)
    answers = np.array([_mean_and_lowest(case, cross_talk) for case in different]).reshape(-1, 2)
    found = answers[where].reshape(*cases.shape, 2)
    return found[..., 0], found[..., 1]


def _mean_and_lowest(case: float, cross_talk: tuple[float, ...]) -> tuple[float, float]:
    if np.isnan(case):
        return np.nan, np.nan
    rest, star = divmod(int(case), 2)
    screws, made = divmod(rest, _MOST_PASSES + 1)
    rising = screw_sequence(screws, STAR if star else CIRCULAR)
    repeating = screw_sequence(screws, CIRCULAR)
    orders = [rising if one_pass < _RISING else repeating for one_pass in range(made)]
    sequence = np.reshape(orders, (made, screws))
    left = preload_round_the_circle(pass_levels(made), sequence, cross_talk)
    return float(left.mean()), float(left.min())


def _loss(screws: int, taken: Floats) -> Floats:
    places = np.arange(screws)
    apart = np.abs(places[:, np.newaxis] - places)
    apart = np.minimum(apart, screws - apart)
    # Distance 0 and distances beyond the last share take nothing
    shares = np.zeros((*taken.shape[:-1], max(screws, taken.shape[-1] + 1)))
    shares[..., 1 : taken.shape[-1] + 1] = taken
    return np.asarray(shares[..., apart])
