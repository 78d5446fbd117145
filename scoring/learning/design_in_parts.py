"""A tall design in parts: what a unit has all its life, what stood for a while, what each row has.

Most columns say the same in row after row: the nameplate and the site for all rows of a unit, the
findings and their effects for as long as nothing new was seen. Here each is kept once, and products
are worked out by sums over the rows that share it: the same as of the design laid out row by row,
in a part of its room and of its time.
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


@dataclass(frozen=True)
class DesignInParts:
    """Columns by how long they stay as they are.

    Attributes
    ----------
    of_unit : ndarray, shape (n_units, n_unit_columns)
        What rows of one unit, which follow each other, share. [-]
    of_state : ndarray, shape (n_states, n_state_columns)
        What rows of one unit share for a while. [-]
    of_row : ndarray, shape (n_rows, n_row_columns)
        All other columns. [-]
    first_states : ndarray of int, shape (n_units,)
        The first state of each unit, from 0 and rising.
    first_rows : ndarray of int, shape (n_states,)
        The first row of each state, from 0 and rising.
    places : ndarray of int, shape (n_columns,)
        Where the columns of units, of states and of rows, in this order, stand in the whole.
    """

    of_unit: Floats
    of_state: Floats
    of_row: Floats
    first_states: Ints
    first_rows: Ints
    places: Ints

    @property
    def shape(self) -> tuple[int, int]:
        """Rows and columns of the whole."""
        return len(self.of_row), len(self.places)

    def __matmul__(self, coefficients: Floats) -> Floats:
        """Return the sum of each row's columns, each with its coefficient, shape (n_rows,)."""
        by_unit, by_state, by_row = self._parted(coefficients[self.places])
        states = self.of_state @ by_state + (self.of_unit @ by_unit)[self._unit_of_state]
        rows: Floats = self.of_row @ by_row + states[self._state_of_row]
        return rows

    def sums(self, factors: Floats) -> Floats:
        """Return the sum of each column over the rows, each with its factor, shape (n_columns,)."""
        of_states = np.add.reduceat(factors, self.first_rows)
        of_units = np.add.reduceat(of_states, self.first_states)
        return self._whole(
            self.of_unit.T @ of_units, self.of_state.T @ of_states, self.of_row.T @ factors
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
        rows_by_state, rows_by_unit = self._rows_summed(weights)
        states, states_by_unit = self._states_summed(of_states, rough=rough)
        units_states, units_rows, states_rows = (
            self.of_unit.T @ states_by_unit,
            self.of_unit.T @ rows_by_unit,
            self.of_state.T @ rows_by_state,
        )
        units, rows = weighted_gram(self.of_unit, of_units), weighted_gram(self.of_row, weights)
        gram = np.block(
            [
                [units, units_states, units_rows],
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
        return self._whole(
            self.of_unit * of_units[:, np.newaxis],
            self._states_by_unit(of_states),
            self._rows_summed(factors)[1],
        )

    def _rows_summed(self, factors: Floats) -> tuple[Floats, Floats]:
        """Return the sums of the columns of rows for each state, and for each unit."""
        by_state = [np.add.reduceat(one * factors, self.first_rows) for one in self.of_row.T]
        by_unit = [np.add.reduceat(one, self.first_states) for one in by_state]
        return np.column_stack(by_state), np.column_stack(by_unit)

    def _states_by_unit(self, factors: Floats) -> Floats:
        """Return the sums of the columns of states for each unit, each state with its factor."""
        sums = np.empty((len(self.of_unit), self.of_state.shape[1]))
        for units, states, firsts in self._some_units():
            some = self.of_state[states] * factors[states, np.newaxis]
            np.add.reduceat(some, firsts, axis=0, out=sums[units])
        return sums

    def _states_summed(self, weights: Floats, *, rough: bool) -> tuple[Floats, Floats]:
        """Return the gram of the columns of states, and their sums for each unit: in one go."""
        width = self.of_state.shape[1]
        gram, sums = np.zeros((width, width)), np.empty((len(self.of_unit), width))
        precision, roots = np.float32 if rough else np.float64, np.sqrt(weights)
        for units, states, firsts in self._some_units():
            root = roots[states, np.newaxis]
            rooted = self.of_state[states] * root
            near: NDArray[np.floating[Any]] = rooted.astype(precision, copy=False)
            gram += near.T @ near
            rooted *= root
            np.add.reduceat(rooted, firsts, axis=0, out=sums[units])
        return gram, sums

    def _some_units(self) -> Iterator[tuple[slice, slice, Ints]]:
        """Give some units at a time, their states, and the first of each among these."""
        ends = np.append(self.first_states, len(self.of_state))
        for start in range(0, len(self.of_unit), UNITS_AT_ONCE):
            stop = min(start + UNITS_AT_ONCE, len(self.of_unit))
            yield (
                slice(start, stop),
                slice(ends[start], ends[stop]),
                self.first_states[start:stop] - ends[start],
            )

    @cached_property
    def _state_of_row(self) -> Ints:
        return _each_of(self.first_rows, len(self.of_row))

    @cached_property
    def _unit_of_state(self) -> Ints:
        return _each_of(self.first_states, len(self.of_state))

    def _parted(self, values: Floats) -> list[Floats]:
        ends = np.cumsum([self.of_unit.shape[1], self.of_state.shape[1]])
        return np.split(values, ends)

    def _whole(self, *parts: Floats) -> Floats:
        joined = np.concatenate(parts, axis=-1)
        whole = np.empty_like(joined)
        whole[..., self.places] = joined
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
    sums = np.zeros((int(group.max()) + 1, design.shape[1]))
    np.add.at(sums, group[design.first_rows[design.first_states]], design.by_unit(factors))
    return sums
