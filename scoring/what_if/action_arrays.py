"""The actions of the contract as arrays: one row an action, one column a check."""

import numpy as np
from numpy.typing import NDArray

from scoring.contract.mountings import EVERY_MOUNTING
from scoring.contract.rework import ACTION_BY_NAME, ACTIONS, BEARING, SEAL
from scoring.contract.where_actions_fit import done_with, fits
from scoring.errors import FixableError
from scoring.rules.what_cures import ACTION_NAMES, CHECK_NAMES, CURES

__all__ = [
    "ACTION_AT",
    "ACTION_NAMES",
    "CHECK_NAMES",
    "CURES",
    "DONE_WITH",
    "FITS",
    "NEW_BEARING",
    "NEW_SEAL",
    "OFF_SHAFT",
    "actions_of",
    "all_that_is_done",
    "words_of_actions",
]

Flags = NDArray[np.bool_]

ACTION_AT = {name: place for place, name in enumerate(ACTION_NAMES)}
OFF_SHAFT: Flags = np.array([action.off_shaft for action in ACTIONS])
NEW_BEARING: Flags = np.array([BEARING in action.renews for action in ACTIONS])
NEW_SEAL: Flags = np.array([SEAL in action.renews for action in ACTIONS])

FITS: Flags = np.array(
    [[fits(name, mounting) for name in ACTION_NAMES] for mounting in EVERY_MOUNTING]
)
"""Whether an action makes sense on a mounting, shape (n_mountings, n_actions)."""

DONE_WITH: Flags = np.array(
    [
        [[other in done_with(name, mounting) for other in ACTION_NAMES] for name in ACTION_NAMES]
        for mounting in EVERY_MOUNTING
    ]
)
"""What is done with each action on a mounting, itself too, shape (n_mountings, n_actions, same)."""


def all_that_is_done(actions: Flags, mounting: NDArray[np.int64]) -> Flags:
    """Return actions and what they bring.

    Parameters
    ----------
    actions : ndarray of bool, shape (n_rows, n_actions)
        What was chosen.
    mounting : ndarray of int, shape (n_rows,)
        Mounting of each row, as its place in ``EVERY_MOUNTING``.

    Returns
    -------
    ndarray of bool, shape (n_rows, n_actions)

    Examples
    --------
    >>> actions = actions_of("recentre_disc")[np.newaxis]
    >>> words_of_actions(all_that_is_done(actions, np.array([2]))).tolist()
    ['retorque_in_passes;recentre_disc']
    """
    done = np.zeros_like(actions)
    for place in range(len(EVERY_MOUNTING)):
        here = mounting == place
        done[here] = (actions[here].astype(np.int64) @ DONE_WITH[place].astype(np.int64)) > 0
    return done


def actions_of(text: str) -> Flags:
    """Read actions as a table of re-work names them, ``;`` between them.

    Raises
    ------
    FixableError
        If there is no action of a name.

    Examples
    --------
    >>> int(actions_of("renew_key; fit_guard").sum())
    2
    """
    flags = np.zeros(len(ACTION_NAMES), dtype=bool)
    for name in (part.strip() for part in text.split(";")):
        if name and name not in ACTION_BY_NAME:
            raise FixableError(f"there is no action {name!r}; one of {', '.join(ACTION_NAMES)}")
        if name:
            flags[ACTION_AT[name]] = True
    return flags


def words_of_actions(actions: Flags) -> NDArray[np.object_]:
    """Write actions as a table of re-work names them, in the contract's order.

    Examples
    --------
    >>> words_of_actions(actions_of("fit_guard;renew_key")[np.newaxis]).tolist()
    ['renew_key;fit_guard']
    """
    if len(actions) == 0:
        return np.array([], dtype=object)
    kinds, which = np.unique(actions, axis=0, return_inverse=True)
    names = np.array(ACTION_NAMES, dtype=object)
    texts = np.array([";".join(names[kind]) for kind in kinds], dtype=object)
    written: NDArray[np.object_] = texts[which.ravel()]
    return written
