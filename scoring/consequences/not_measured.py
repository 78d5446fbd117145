"""What mis-set, run-out and squeeze may be at each unit: as measured, after a cure, or unknown."""

from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.reported_cured import reported_cured
from scoring.consequences.spread import Spread
from scoring.consequences.usual_states import CHANCE_THAT_REWORK_SUCCEEDS
from scoring.timeline.known import Known

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True)
class Possible:
    """What a quantity may be at each unit.

    Attributes
    ----------
    points : ndarray, shape (n_units, n_points)
        Values: one and the same at every point where it was measured. [unit of the spread]
    shares : ndarray, shape (n_units, n_points)
        How likely each. [-]
    """

    points: Floats
    shares: Floats

    def where(self, rows: Ints) -> "Possible":
        """Return some of the units."""
        return Possible(self.points[rows], self.shares[rows])


def possible(
    known: Known,
    check: tuple[str, float | Floats],
    spread: Spread,
    usual: Floats,
    most_that_is_good: float,
) -> Possible:
    """Tell what a measured check may be at each unit.

    Parameters
    ----------
    known : Known
        What was known of units.
    check : tuple of str and ndarray
        The check, and by what its values are multiplied to be in the unit of the spread.
    spread : Spread
        What it may be where nobody has measured it, the good value first.
    usual : ndarray, shape (n_units, n_points)
        How usual each of these is at each unit. [-]
    most_that_is_good : float
        What a cure that succeeds leaves at most, in the unit of the spread.

    Returns
    -------
    Possible
        After a cure on record the good value with the chance that such re-work succeeds, else a
        bad one. After one that is only hypothetical what is good, at most what there was, with the
        chance that it succeeds; else what there was.
    """
    name, scale = check
    measured = known.found[name].to_numpy(dtype=np.float64) * scale
    cured = reported_cured(known, name) & np.isnan(measured)
    values = np.where(np.isnan(measured)[:, np.newaxis], spread.points, measured[:, np.newaxis])
    shares = np.array(usual)
    if known.hypothetical is None:
        shares[cured] = _mixed(CHANCE_THAT_REWORK_SUCCEEDS, _if_faulty(spread))
        return Possible(values, shares)
    before = possible(known.hypothetical.before, check, spread, usual, most_that_is_good)
    success = known.hypothetical.success[name].fillna(0.0).to_numpy()[cured, np.newaxis]
    values[cured] = before.points[cured]
    values[cured, 0] = np.minimum(values[cured, 0], most_that_is_good)
    was_measured = known.hypothetical.before.found[name].notna().to_numpy()[cured, np.newaxis]
    left = np.where(was_measured, _if_faulty(spread), before.shares[cured])
    shares[cured] = _mixed(success, left)
    return Possible(values, shares)


def _if_faulty(spread: Spread) -> Floats:
    """Return the shares of the bad values among themselves."""
    shares = np.array([0.0, *spread.shares[1:]])
    return np.asarray(shares / shares.sum())


def _mixed(success: float | Floats, otherwise: Floats) -> Floats:
    """Return the shares where the good value has the chance of success, the others what is left."""
    good = np.zeros(otherwise.shape[-1])
    good[0] = 1.0
    return np.asarray(success * good + (1 - success) * otherwise)


def first_of_each(known: Known, checks: tuple[str, ...], group: Ints | None) -> tuple[Ints, Ints]:
    """Return a row of each of those that differ in what some checks may be, and which each row is.

    Parameters
    ----------
    known : Known
        What was known of units; one may come again and again, as it was on different days.
    checks : tuple of str
        The checks.
    group : ndarray of int, shape (n_units,), or None
        Units of one group have the same usual shares; None: all have.

    Returns
    -------
    tuple of ndarray of int
        In the order of units where each comes once.
    """
    size = len(known.place)
    if len(np.unique(known.place)) == size:
        return np.arange(size), np.arange(size)
    code = known.place.astype(np.int64)
    parts: list[NDArray[Any]] = [] if group is None else [group]
    for check in checks:
        parts += _what_tells(known, check)
        if known.hypothetical is not None:
            parts.append(known.hypothetical.success[check].to_numpy())
            parts += _what_tells(known.hypothetical.before, check)
    for values in parts:
        codes, distinct = pd.factorize(values)
        code = pd.factorize(code * (len(distinct) + 1) + codes)[0]
    _, row, which = np.unique(code, return_index=True, return_inverse=True)
    return row, which


def _what_tells(known: Known, check: str) -> list[NDArray[Any]]:
    return [known.found[check].to_numpy(dtype=np.float64), known.status[check].to_numpy()]
