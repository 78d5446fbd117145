"""Rows to learn from, laid out for pieces of a fleet, as those of the whole."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import fields, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from scoring.contract.events import MODES
from scoring.learning.covariates import State
from scoring.learning.failure_rows import FailureRows, RowsOfMode

Array = NDArray[Any]

Room = Callable[[tuple[int, ...], np.dtype[Any]], Array]
"""Makes an array of zeros of a shape and a kind."""

_COUNTED_THROUGH = ("unit", "place")
"""Places of units: each piece counts its own from 0."""

_OF_UNITS = ("nameplates",)
"""What there is once for each unit; all other arrays have a row for each row."""


def rows_together(
    pieces: Iterable[FailureRows],
    rows: Sequence[int],
    units: Sequence[int],
    room: Room = np.zeros,
) -> FailureRows:
    """Put the rows of pieces below each other.

    Parameters
    ----------
    pieces : iterable of FailureRows
        At least one, all of the same days; one at a time is held beside what is put together.
    rows : sequence of int
        How many rows each piece has.
    units : sequence of int
        How many units each piece has, out of service or not.
    room : callable
        Makes room for each of their arrays; by default in memory.

    Returns
    -------
    FailureRows
        Units are counted through, in the order of the pieces.
    """
    ends = list(zip(np.cumsum([0, *rows]).tolist(), np.cumsum([0, *units]).tolist(), strict=True))
    together: FailureRows | None = None
    sites: dict[str, dict[str, int]] = {mode: {} for mode in MODES}
    for piece, before, after in zip(pieces, ends, ends[1:], strict=False):
        if together is None:
            together = _room_for_all(piece, ends[-1], room)
        row, unit = (slice(*two) for two in zip(before, after, strict=True))
        _put(together, piece, row, unit)
        for mode, one in piece.modes.items():
            into = together.modes[mode]
            _put(into, one, row, unit)
            _put(into.state, one.state, row, unit)
            known = sites[mode]
            places = [known.setdefault(site, len(known)) for site in one.state.sites]
            into.state.site[row] = np.array(places, dtype=np.int64)[one.state.site]
    if together is None:
        raise ValueError("there is no piece")
    return replace(
        together,
        modes={
            mode: replace(one, state=_sites_sorted(one.state, list(sites[mode])))
            for mode, one in together.modes.items()
        },
    )


def _room_for_all(first: FailureRows, size: tuple[int, int], room: Room) -> FailureRows:
    """Make room for all pieces, so many rows and units, of the kinds that the first has."""
    rows, units = size

    def for_one(name: str, array: Array) -> Array:
        length = units if name in _OF_UNITS else rows
        kind = np.dtype(np.int64) if name == "site" else array.dtype
        if array.ndim > 1 and array.flags.f_contiguous:  # column by column, as it was
            return room((*array.shape[:0:-1], length), kind).T
        return room((length, *array.shape[1:]), kind)

    def of(kept: State | RowsOfMode | FailureRows) -> dict[str, Any]:
        return {name: for_one(name, array) for name, array in _arrays(kept)}

    modes = {
        mode: replace(one, state=replace(one.state, **of(one.state)), **of(one))
        for mode, one in first.modes.items()
    }
    return replace(first, modes=modes, **of(first))


def _put(
    into: FailureRows | RowsOfMode | State,
    piece: FailureRows | RowsOfMode | State,
    row: slice,
    unit: slice,
) -> None:
    """Write what a piece has into its rows, or to its units."""
    for name, array in _arrays(piece):
        if name == "site":  # each piece names its own sites
            continue
        here: Array = getattr(into, name)[unit if name in _OF_UNITS else row]
        if array.ndim > 1 and array.flags.f_contiguous:
            some = array.any(axis=0)  # what is nowhere takes no room
            here[:, some] = array[:, some]
        else:
            here[...] = array
        if name in _COUNTED_THROUGH:
            here += unit.start


def _arrays(kept: FailureRows | RowsOfMode | State) -> list[tuple[str, Array]]:
    """Name the arrays that have a row for each row, or for each unit."""
    named = ((part.name, getattr(kept, part.name)) for part in fields(kept))
    return [
        (name, value) for name, value in named if isinstance(value, np.ndarray) and name != "days"
    ]


def _sites_sorted(state: State, sites: list[str]) -> State:
    """Count sites in the order of their names."""
    order = np.argsort(np.argsort(np.array(sites, dtype=object)))
    return replace(state, site=order[state.site], sites=tuple(sorted(sites)))
