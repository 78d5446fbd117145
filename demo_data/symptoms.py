"""Symptoms: they follow the true hazard and a standing leak, and are noisy."""

import numpy as np

from demo_data.arrays import Flags, Floats
from demo_data.chance import Draws

DRY, DAMP, DRIPPING = 0.0, 1.0, 2.0
LEAK_OVERLOOKED = 0.1
IN_LINE, MOVED = 0.0, 1.0
MARK_OVERLOOKED = 0.1


def seal_weep(draws: Draws, seal_hazard: Floats, dripping: Flags) -> Floats:
    """Draw what the output seal looks like.

    Parameters
    ----------
    draws : Draws
        Chance for these looks.
    seal_hazard : float array
        True hazard of a leak. [1/a]
    dripping : bool array
        Whether a leak stands.

    Returns
    -------
    float array
        Place of the word in the contract's list. A leak that is not there is never seen.
    """
    damp, overlooked = draws.shares(("damp", "overlooked")).T
    without = np.where(damp < np.minimum(0.03 + 1.5 * seal_hazard, 0.6), DAMP, DRY)
    return np.where(dripping, np.where(overlooked < LEAK_OVERLOOKED, DAMP, DRIPPING), without)


def witness_mark(draws: Draws, slipped: Flags) -> Floats:
    """Draw what a witness mark shows; a slip that was not is never seen.

    Parameters
    ----------
    draws : Draws
        Chance for these looks.
    slipped : bool array
        Whether a slip stands that nobody wrote down.

    Returns
    -------
    float array
        Place of the word in the contract's list.
    """
    return np.where(slipped & (draws.share("overlooked") >= MARK_OVERLOOKED), MOVED, IN_LINE)


def running_temperature(draws: Draws, ambient: Floats, against_usual: Floats) -> Floats:
    """Draw the housing's temperature [°C]; ``against_usual`` is log hazard over the plant's."""
    noise = 5.0 * draws.normal("noise")
    warm = ambient + 27 + 6.0 * against_usual + noise
    return np.asarray(np.round(np.minimum(np.maximum(warm, -40.0), 180.0)))


def vibration(draws: Draws, against_usual: Floats) -> Floats:
    """Draw the velocity r.m.s. [mm/s]; ``against_usual`` is log hazard over the plant's."""
    noise = 0.3 * draws.normal("noise")
    return np.asarray(np.round(np.exp(np.log(1.6) + 0.4 * against_usual + noise), 1))
