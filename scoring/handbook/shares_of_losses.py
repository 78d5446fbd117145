"""How likely how much grip is lost, as shares on one table of losses: moved, spread, averaged."""

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.row_sums import rows_times

Floats = NDArray[np.float64]

STEP = 0.05

LOSSES = np.append(np.arange(61) * STEP, np.inf)
"""Logarithms of specified over found grip; the last stands for a grip that is not relied on. [-]"""


def at_a_loss(loss: Floats) -> Floats:
    """Return the shares of ``LOSSES`` that stand for losses known for certain.

    One between two of them is parted between both, so that a greater loss never has more of a
    smaller one.

    Examples
    --------
    >>> at_a_loss(np.array([0.0, 0.06, np.inf])).round(2)[:, [0, 1, 2, -1]].tolist()
    [[1.0, 0.0, 0.0, 0.0], [0.0, 0.8, 0.2, 0.0], [0.0, 0.0, 0.0, 1.0]]
    """
    shares = np.zeros((len(loss), len(LOSSES)))
    rows, last = np.arange(len(loss)), len(LOSSES) - 2
    finite = np.isfinite(loss)
    along = np.clip(np.where(finite, loss, 0.0) / STEP, 0.0, last)
    lower = np.minimum(along.astype(np.int64), last - 1)
    shares[rows, lower] = np.where(finite, 1 - (along - lower), 0.0)
    shares[rows, lower + 1] = np.where(finite, along - lower, 0.0)
    shares[~finite, -1] = 1.0
    return shares


def lose(shares: Floats, loss: Floats, least: float = 0.0) -> Floats:
    """Let joints lose more.

    Parameters
    ----------
    shares : ndarray, shape (n_units, n_losses)
        Of ``LOSSES``. [-]
    loss : ndarray, shape (n_units,)
        What each loses besides, not below 0. [-]
    least : float
        What each loses at least; most lose just that, and are moved together. [-]

    Returns
    -------
    ndarray, shape (n_units, n_losses)
    """
    more = np.flatnonzero(loss > least)
    if len(more) == len(loss):
        return _lose_each(shares, loss)
    out = _lose_alike(shares, least, _below(shares))
    if len(more):
        out[more] = _lose_each(shares[more], loss[more])
    return out


def _lose_each(shares: Floats, loss: Floats) -> Floats:
    """Let each joint lose what it loses."""
    last = len(LOSSES) - 2
    finite = np.isfinite(loss)
    along = np.minimum(np.where(finite, loss, 0.0) / STEP, last)
    whole = along.astype(np.int64)
    part = (along - whole)[:, np.newaxis]
    below = _below(shares)
    padded = np.concatenate([np.zeros((len(shares), 1)), below], axis=1)
    place = np.arange(1, last + 2) - whole[:, np.newaxis]
    nearer = np.take_along_axis(padded, np.maximum(place, 0), axis=1)
    farther = np.take_along_axis(padded, np.maximum(place - 1, 0), axis=1)
    moved = (1 - part) * nearer + part * farther
    moved[:, -1] = below[:, -1]  # what would lose more than the table has stays at its end
    out = np.empty_like(shares)
    out[:, :-1] = np.diff(moved, axis=1, prepend=0.0)
    out[:, -1] = shares[:, -1]
    out[~finite, :-1], out[~finite, -1] = 0.0, 1.0
    return out


def _below(shares: Floats) -> Floats:
    """Return how likely each finite loss or a smaller one is."""
    below: Floats = np.cumsum(shares[:, :-1], axis=1)
    return below


def _lose_alike(shares: Floats, loss: float, below: Floats) -> Floats:
    """Return what ``lose`` does where all joints lose as much: by columns, which is quicker."""
    out = np.zeros_like(shares)
    if not np.isfinite(loss):
        out[:, -1] = 1.0
        return out
    last = len(LOSSES) - 2
    along = min(loss / STEP, last)
    whole = int(along)
    part = along - whole
    padded = np.zeros((len(shares), whole + 1 + last + 1))  # nothing was lost before the first
    padded[:, whole + 1 :] = below
    moved = padded[:, 1 : last + 2] * (1 - part) + padded[:, : last + 1] * part
    moved[:, -1] = below[:, -1]  # what would lose more than the table has stays at its end
    out[:, 0] = moved[:, 0]
    np.subtract(moved[:, 1:], moved[:, :-1], out=out[:, 1:-1])
    out[:, -1] = shares[:, -1]
    return out


def spread_over(shares: Floats, ratios: tuple[float, ...], states: Floats) -> Floats:
    """Average over states that leave a part of the grip.

    Parameters
    ----------
    shares : ndarray, shape (n_units, n_losses)
        Of ``LOSSES``. [-]
    ratios : tuple of float
        Grip left in each state, 0 where it is not relied on. [-]
    states : ndarray, shape (n_units, n_states)
        How likely each is. [-]

    Returns
    -------
    ndarray, shape (n_units, n_losses)
    """
    out, below = np.zeros_like(shares), _below(shares)
    for place, ratio in enumerate(ratios):
        loss = -np.log(ratio) if ratio > 0 else np.inf
        share = states[:, [place]]
        out += share * (shares if loss == 0 else _lose_alike(shares, loss, below))
    return out


def grip_left(lost: Floats) -> Floats:
    """Return the mean of the grip that is left [-] by shares of ``LOSSES``."""
    return rows_times(lost, np.exp(-LOSSES))
