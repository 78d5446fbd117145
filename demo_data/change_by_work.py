"""What re-work does to each check of each unit: cure it, or leave it to the next hanging."""

from dataclasses import dataclass

import numpy as np

from demo_data.arrays import Flags, Floats
from demo_data.fault_arrays import IS_DAMAGE, OUTCOMES, hung_anew, stands_by_itself
from demo_data.fault_table import CHECK_NAMES
from demo_data.known_actions import (
    BRINGS,
    CURES,
    CURES_BY_CAUSE,
    CURES_DAMAGE,
    IS_CLAMPED,
    OFF_SHAFT,
)
from demo_data.plant_run import PlantRun
from demo_data.truth import Standing

EACH = np.eye(OUTCOMES)
"""Chances of outcomes where one is certain, one row each."""
GOOD = EACH[0]


@dataclass(frozen=True)
class Change:
    """What an action does to the checks of units, shape (units, checks) each.

    Attributes
    ----------
    cured, redrawn, brought : bool array
        What is cured if it succeeds, what the next hanging draws anew, and what another action that
        comes with it cures, if that one takes.
    success : float
        How likely that is.
    off_shaft : bool
        Whether units are hung anew.
    """

    cured: Flags
    redrawn: Flags
    brought: Flags
    success: float
    off_shaft: bool

    def left(self, now: Floats) -> Floats:
        """Return the chances of outcomes after what is brought, of certain ones or of any."""
        return np.asarray(self.success * GOOD + (1 - self.success) * now)

    def apply(
        self, checks: slice | list[int], now: Floats, brought: Floats, fresh: Floats, good: Floats
    ) -> tuple[Floats, Floats]:
        """Return what holds of some checks if the action succeeds, and if not.

        Parameters
        ----------
        checks : slice or list of int
            Which checks.
        now, brought : float array, shape (units, checks, ...)
            What holds now, and after what is brought.
        fresh : float array, shape (units, crews, checks, ...)
            What holds once a unit is hung anew.
        good : float array, shape (checks, ...) or less
            What holds of a cured check.

        Returns
        -------
        tuple of float arrays, shape (units, crews, checks, ...)
            One kind where nothing is hung anew.
        """

        def mask(which: Flags) -> Flags:
            return which[:, checks].reshape(now.shape[:2] + (1,) * (now.ndim - 2))

        left = now
        if self.brought.any():
            left = np.where(mask(self.brought), brought, left)
        left = left[:, None]
        if self.off_shaft:
            left = np.where(mask(self.redrawn)[:, None], fresh, left)
        return np.where(mask(self.cured)[:, None], good, left), left


def change_of(run: PlantRun, action: int, standing: Standing) -> Change:
    """Return what an action does to the checks of the units in service."""
    rows = standing.rows
    outcome, mounting = run.state.outcome[rows], run.mounting[rows]
    damaged = IS_DAMAGE[np.arange(outcome.shape[1])[None, :], outcome]
    cures = CURES[action] & (~damaged | CURES_DAMAGE[action])
    cures &= ~(CURES_BY_CAUSE[action] & stands_by_itself(outcome))
    brought, success = np.zeros(len(CHECK_NAMES), np.bool_), 0.0
    if BRINGS[action].any():
        other = int(np.flatnonzero(BRINGS[action])[0])
        brought = CURES[other] & ~CURES[action]
        # what is brought takes or not by itself
        success = float(run.hazard.effects.success[other])
    # where there are no screws to torque, nothing is brought and nothing of it applies
    off_shaft = bool(OFF_SHAFT[action])
    redrawn = off_shaft & ~CURES[action] & ~brought & hung_anew(outcome)
    with_screws = IS_CLAMPED[mounting][:, None] & brought
    return Change(cures, redrawn, with_screws, success, off_shaft)
