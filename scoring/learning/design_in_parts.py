"""A tall design in parts: what a unit has all its life, what stood for a while, what each row has.

Most columns say the same in row after row: the nameplate and the site for all rows of a unit, the
effects of findings for as long as nothing new was seen; and what was found is of a few kinds, which
come again and again. Here each is kept once, and products are worked out by sums over the rows
that share it: the same as of the design laid out row by row, in a part of its room and of its time.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from scoring.learning.weighted_gram import Design, Floats, summed_by_group, weighted_gram

Ints = NDArray[np.int64]

UNITS_AT_ONCE = 128
"""Units whose states are summed in one go: the cache holds them. Ours."""

STATES_AT_ONCE = 4096
"""States multiplied in one go: the cache holds them. Ours."""


@dataclass(frozen=True)
class DesignInParts:
    """Columns by how long they stay as they are.

    Attributes
    ----------
    of_unit : ndarray, shape (n_units, n_unit_columns)
        What rows of one unit, which follow each other, share. [-]
    of_kind : ndarray, shape (n_kinds, n_kind_columns)
        What states of one kind share, whatever their unit. [-]
    of_state : ndarray, shape (n_states, n_state_columns)
        What rows of one unit share for a while; single precision where that is exact. [-]
    of_row : ndarray, shape (n_rows, n_row_columns)
        All other columns. [-]
    kind : ndarray of int, shape (n_states,)
        Of which kind each state is.
    first_states : ndarray of int, shape (n_units,)
        The first state of each unit, from 0 and rising.
    first_rows : ndarray of int, shape (n_states,)
        The first row of each state, from 0 and rising.
    places : ndarray of int, shape (n_columns,)
        Where the columns of units, of kinds, of states and of rows, in this order, stand in the
        whole.
    """

    of_unit: Floats
    of_kind: Floats
    of_state: NDArray[np.floating[Any]]
    of_row: Floats
    kind: Ints
    first_states: Ints
    first_rows: Ints
    places: Ints

    @property
    def shape(self) -> tuple[int, int]:
        """Rows and columns of the whole."""
        return len(self.of_row), len(self.places)

    def __matmul__(self, coefficients: Floats) -> Floats:
        """Return the sum of each row's columns, each with its coefficient, shape (n_rows,)."""
        by_unit, by_kind, by_state, by_row = self._parted(coefficients[self.places])
        states = (self.of_unit @ by_unit)[self._unit_of_state]
        states += (self.of_kind @ by_kind)[self.kind]
        for some in self._some_states():
            states[some] += self.of_state[some].astype(np.float64, copy=False) @ by_state
        rows: Floats = states[self._state_of_row]
        rows += self.of_row @ by_row
        return rows

    def sums(self, factors: Floats) -> Floats:
        """Return the sum of each column over the rows, each with its factor, shape (n_columns,)."""
        of_states = np.add.reduceat(factors, self.first_rows)
        of_units = np.add.reduceat(of_states, self.first_states)
        of_kinds = np.bincount(self.kind, of_states, len(self.of_kind))
        by_state = np.zeros(self.of_state.shape[1])
        for some in self._some_states():
            by_state += of_states[some] @ self.of_state[some].astype(np.float64, copy=False)
        return self._whole(
            self.of_unit.T @ of_units, self.of_kind.T @ of_kinds, by_state, self.of_row.T @ factors
        )

    def gram(self, weights: Floats, *, rough: bool = False) -> Floats:
        """Return the sum of the rows' outer products, each with its weight.

        Parameters
        ----------
        weights : ndarray, shape (n_rows,)
            Not below 0. [-]
        rough : bool
            Whether single precision will do.

        Returns
        -------
        ndarray, shape (n_columns, n_columns)
        """
        of_states = np.add.reduceat(weights, self.first_rows)
        of_units = np.add.reduceat(of_states, self.first_states)
        rows_by_state = self._rows_by_state(weights)
        rows_by_unit = np.add.reduceat(rows_by_state, self.first_states, axis=0)
        size = self.of_kind.shape[1] + self.of_state.shape[1]
        states, states_rows = np.zeros((size, size)), np.zeros((size, self.of_row.shape[1]))
        units_states = np.zeros((self.of_unit.shape[1], size))
        precision = np.float32 if rough else np.float64
        roots, rows_near = np.sqrt(of_states).astype(precision), rows_by_state.astype(precision)
        for units, some, firsts, columns in self._by_units(precision):
            root = roots[some, np.newaxis]
            states_rows += columns.T @ rows_near[some]
            np.multiply(columns, root, out=columns)
            states += columns.T @ columns
            np.multiply(columns, root, out=columns)
            units_states += self.of_unit[units].T @ np.add.reduceat(columns, firsts, axis=0)
        units_rows = self.of_unit.T @ rows_by_unit
        of_units_alone = weighted_gram(self.of_unit, of_units)
        rows = (self.of_row * weights[:, np.newaxis]).T @ self.of_row
        gram = np.block(
            [
                [of_units_alone, units_states, units_rows],
                [units_states.T, states, states_rows],
                [units_rows.T, states_rows.T, rows],
            ]
        )
        whole = np.empty_like(gram)
        whole[np.ix_(self.places, self.places)] = gram
        return whole

    def by_unit(self, factors: Floats) -> Floats:
        """Return the rows' sums for each unit, each row with its factor, (n_units, n_columns)."""
        of_states = np.add.reduceat(factors, self.first_rows)
        of_units = np.add.reduceat(of_states, self.first_states)
        whole = np.empty((len(self.of_unit), len(self.places)))
        at_unit, at_kind, at_state, at_row = self._parted(self.places)
        at_states = np.concatenate([at_kind, at_state])
        for units, some, firsts, columns in self._by_units(np.float64):
            np.multiply(columns, of_states[some, np.newaxis], out=columns)
            whole[units, at_states] = np.add.reduceat(columns, firsts, axis=0)
        whole[:, at_unit] = self.of_unit * of_units[:, np.newaxis]
        by_state = self._rows_by_state(factors)
        whole[:, at_row] = np.add.reduceat(by_state, self.first_states, axis=0)
        return whole

    def some_units(self, step: int) -> "tuple[DesignInParts, Ints]":
        """Return every second, third ... unit, and which rows are theirs."""
        states = np.flatnonzero(self._unit_of_state % step == 0)
        rows = np.flatnonzero((self._unit_of_state % step == 0)[self._state_of_row])
        part = DesignInParts(
            self.of_unit[::step],
            self.of_kind,
            self.of_state[states],
            self.of_row[rows],
            self.kind[states],
            np.searchsorted(states, self.first_states[::step]),
            np.searchsorted(rows, self.first_rows[states]),
            self.places,
        )
        return part, rows

    def _rows_by_state(self, factors: Floats) -> Floats:
        """Return the sums of the columns of rows for each state."""
        sums = np.empty((len(self.of_state), self.of_row.shape[1]))
        for column, values in enumerate(self.of_row.T):
            sums[:, column] = np.add.reduceat(values * factors, self.first_rows)
        return sums

    def _by_units(
        self, precision: type[np.floating[Any]]
    ) -> Iterator[tuple[slice, slice, Ints, NDArray[Any]]]:
        """Give some units at a time, their states, the first of each, and the states' columns.

        The columns of kinds come first; they may be overwritten.
        """
        kinds, size = self.of_kind.astype(precision), self.of_kind.shape[1]
        ends = np.append(self.first_states, len(self.of_state))
        for start in range(0, len(self.of_unit), UNITS_AT_ONCE):
            stop = min(start + UNITS_AT_ONCE, len(self.of_unit))
            some = slice(ends[start], ends[stop])
            columns = np.empty((some.stop - some.start, size + self.of_state.shape[1]), precision)
            columns[:, :size] = kinds.take(self.kind[some], axis=0)
            columns[:, size:] = self.of_state[some]
            yield slice(start, stop), some, self.first_states[start:stop] - ends[start], columns

    def _some_states(self) -> Iterator[slice]:
        for start in range(0, len(self.of_state), STATES_AT_ONCE):
            yield slice(start, start + STATES_AT_ONCE)

    @cached_property
    def _state_of_row(self) -> Ints:
        return _each_of(self.first_rows, len(self.of_row))

    @cached_property
    def _unit_of_state(self) -> Ints:
        return _each_of(self.first_states, len(self.of_state))

    def _parted(self, values: NDArray[Any]) -> list[NDArray[Any]]:
        parts = (self.of_unit, self.of_kind, self.of_state)
        return np.split(values, np.cumsum([part.shape[1] for part in parts]))

    def _whole(self, *parts: Floats) -> Floats:
        joined = np.concatenate(parts)
        whole = np.empty_like(joined)
        whole[self.places] = joined
        return whole


def _each_of(firsts: Ints, size: int) -> Ints:
    """Return to which group each element belongs, from the first of each group."""
    return np.repeat(np.arange(len(firsts)), np.diff(firsts, append=size))


def column_sums(design: Design | DesignInParts, factors: Floats) -> Floats:
    """Return the sum of each column over the rows, each with its factor, of a design of any kind.

    Examples
    --------
    >>> column_sums(np.array([[1.0, 2.0], [0.0, 1.0]]), np.array([2.0, 3.0]))
    array([2., 7.])
    """
    if isinstance(design, DesignInParts):
        return design.sums(factors)
    return np.asarray(design.T @ factors)


def gram_of(design: Design | DesignInParts, weights: Floats, *, rough: bool = False) -> Floats:
    """Return what ``weighted_gram`` does, of a design of any kind."""
    if isinstance(design, DesignInParts):
        return design.gram(weights, rough=rough)
    return weighted_gram(design, weights, rough=rough)


def sums_of_groups(design: Design | DesignInParts, factors: Floats, group: Ints) -> Floats:
    """Return what ``summed_by_group`` does; all rows of a unit are of one group."""
    if not isinstance(design, DesignInParts):
        return summed_by_group(design, factors, group)
    of_unit = group[design.first_rows[design.first_states]]
    if (of_unit == np.arange(len(of_unit))).all():
        return design.by_unit(factors)
    sums = np.zeros((int(group.max()) + 1, design.shape[1]))
    np.add.at(sums, of_unit, design.by_unit(factors))
    return sums
