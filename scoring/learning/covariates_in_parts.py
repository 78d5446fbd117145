"""The columns of one failure mode laid out in parts, each as seldom as it changes."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from scoring.learning.covariates import PARTS, ROWS_AT_ONCE, Covariates, State, joined
from scoring.learning.design_in_parts import DesignInParts
from scoring.learning.repeated_rows import changes_in, kinds_of

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

PARTS_BY_PACE = (
    ("nameplate", "site", "level"),
    ("findings",),
    ("effects", "early life", "old age"),
    ("own failures",),
)
"""Those that stay with a unit, those of which there are few kinds, those that stay so for a while,
all others."""


@dataclass(frozen=True)
class RepeatedRows:
    """What the rows of one failure mode share.

    Attributes
    ----------
    stretch : ndarray of int, shape (n_rows,)
        Number of the stretch of rows of one unit in which effects, findings, early life and old age
        stay as they are; it rises from row to row.
    kinds : ndarray of int8, shape (n_kinds, n_states)
        Each set of findings that there is, once, as in ``State.states_bad``.
    kind : ndarray of int, shape (n_rows,)
        Which of them each row has.
    """

    stretch: NDArray[np.integer[Any]]
    kinds: NDArray[np.int8]
    kind: NDArray[np.integer[Any]]


def repeated_rows(state: State) -> RepeatedRows:
    """Find where the rows of another unit begin, where what was found changes, and what it is.

    Parameters
    ----------
    state : State
        What may explain failures; rows of one unit follow each other.

    Returns
    -------
    RepeatedRows
    """
    of_bad = changes_in(state.bad)
    begins = changes_in(state.log_multipliers) | of_bad
    for values in (state.unit, state.early, state.old):
        begins |= changes_in(values)
    kinds, kind = kinds_of(joined(state.bad[of_bad]))
    of_row = kind.astype(np.int32)[np.cumsum(of_bad, dtype=np.int32) - 1]
    return RepeatedRows(np.cumsum(begins, dtype=np.int32), kinds, of_row)


def in_parts(
    columns: Covariates,
    state: State,
    repeated: RepeatedRows | None = None,
    rows: Ints | slice = slice(None),
) -> DesignInParts | Floats:
    """Lay out the columns of some rows as ``Covariates.design`` does, each as seldom as it changes.

    Parameters
    ----------
    columns : Covariates
        The columns.
    state : State
        What may explain failures; rows of one unit follow each other.
    repeated : RepeatedRows, optional
        From ``repeated_rows`` of them all, where it is known already.
    rows : ndarray of int or slice, shape (n_rows,)
        Which rows, rising; by default all.

    Returns
    -------
    DesignInParts, shape (n_rows, n_columns)
        Of the level alone, or of no rows, the design itself.
    """
    unit = state.unit[rows]
    if columns.level_alone:
        return np.ones((len(unit), 1))
    if len(unit) == 0:
        return columns.design(state.where(np.arange(0)))
    shared = repeated_rows(state) if repeated is None else repeated
    first_rows = np.flatnonzero(changes_in(shared.stretch[rows]))
    units = np.flatnonzero(changes_in(unit))
    at = np.arange(len(state))[rows] if isinstance(rows, slice) else rows
    states, kinds = at[first_rows], shared.kinds
    return DesignInParts(
        of_unit=_of_units(columns, state, at[units]),
        of_kind=np.where(kinds < 0, 0.0, kinds - columns.share),
        of_state=_of_states(columns, state, states),
        of_row=state.own[rows, np.newaxis],
        kind=shared.kind[states].astype(np.int64),
        first_states=np.searchsorted(first_rows, units),
        first_rows=first_rows,
        places=_places(columns),
    )


def _of_units(columns: Covariates, state: State, rows: Ints) -> Floats:
    """Lay out nameplate, site and level of some rows."""
    nameplate = state.nameplates[state.unit[rows]]
    return np.column_stack([nameplate, columns.at_sites(state, rows), np.ones(len(rows))])


def _of_states(columns: Covariates, state: State, rows: Ints) -> NDArray[np.floating[Any]]:
    """Lay out effects, early life and old age of some rows, no finer than they are kept."""
    size = len(columns.effects)
    precision = np.result_type(state.log_multipliers, state.early, state.old)
    whole = np.empty((len(rows), size + 2), precision)
    for start in range(0, len(rows), ROWS_AT_ONCE):
        some = rows[start : start + ROWS_AT_ONCE]
        here = whole[start : start + ROWS_AT_ONCE]
        here[:, :size] = state.log_multipliers[some].take(columns.effects, axis=1)
        here[:, size], here[:, size + 1] = state.early[some], state.old[some]
    return whole


def _places(columns: Covariates) -> Ints:
    """Return where the columns stand in the whole, in the order of their pace."""
    return np.concatenate(
        [
            np.flatnonzero(columns.part_of_column == PARTS.index(name))
            for names in PARTS_BY_PACE
            for name in names
        ]
    )
