"""What might be done, or found, at units: one row a question."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.errors import FixableError
from scoring.timeline.known import Known
from scoring.what_if.action_arrays import ACTION_NAMES, FITS, Flags, all_that_is_done

Ints = NDArray[np.int64]


@dataclass(frozen=True)
class Candidates:
    """Re-work that might be done, and values that checks might have, one row a question.

    Attributes
    ----------
    unit : ndarray of int, shape (n_rows,)
        The unit, as its place in ``Known.units``; a unit may come again and again.
    actions : ndarray of bool, shape (n_rows, n_actions)
        What is done, brought actions included; in the order of the contract.
    looked : DataFrame, shape (n_rows, n_checks_set), optional
        Columns of checks as in ``Known.found``: what a look would find, after any re-work;
        missing where nothing is set.
    """

    unit: Ints
    actions: Flags
    looked: pd.DataFrame | None = None

    def __len__(self) -> int:
        """Return the number of questions."""
        return len(self.unit)

    def where(self, keep: Flags | Ints | slice) -> "Candidates":
        """Return some of the rows."""
        looked = None if self.looked is None else self.looked.iloc[keep].reset_index(drop=True)
        return Candidates(self.unit[keep], self.actions[keep], looked)

    @property
    def asks_something(self) -> Flags:
        """Tell which rows change anything at all."""
        asks = np.asarray(self.actions.any(axis=1))
        if self.looked is not None:
            asks = asks | self.looked.notna().any(axis=1).to_numpy()
        return asks


def candidates_of(
    known: Known, unit: Ints, actions: Flags, looked: pd.DataFrame | None = None
) -> Candidates:
    """Put questions, with what their actions bring.

    Parameters
    ----------
    known : Known
        The units in service.
    unit : ndarray of int, shape (n_rows,)
        Places in ``known.units``.
    actions : ndarray of bool, shape (n_rows, n_actions)
        What is chosen.
    looked : DataFrame, shape (n_rows, n_checks_set), optional
        What a look would find.

    Returns
    -------
    Candidates

    Raises
    ------
    FixableError
        If an action has nothing to do on a unit's mounting.
    """
    mounting = known.units["mounting"].cat.codes.to_numpy()[unit].astype(np.int64)
    wrong = np.argwhere(actions & ~FITS[mounting])
    if len(wrong):
        row, action = wrong[0]
        at = known.units.iloc[unit[row]]
        raise FixableError(
            f"{ACTION_NAMES[action]} has nothing to do at {at['unit_id']}, a {at['mounting']}"
        )
    return Candidates(unit, all_that_is_done(actions, mounting), looked)
