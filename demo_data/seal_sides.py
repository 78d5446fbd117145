"""Which output seal of a unit is the one that goes bad: always the same, for it has a reason."""

import numpy as np

from demo_data.arrays import Flags, Whole, Words
from demo_data.blanks import blank_unless
from demo_data.chance import Chance
from scoring.contract.details import INBOARD, OUTBOARD

SHARE_OUTBOARD = 0.5


def is_outboard(chance: Chance, unit: Whole) -> Flags:
    """Tell of which units it is the outboard seal; the same whoever asks, for one seed.

    Parameters
    ----------
    chance : Chance
        Any source of chance of the plant.
    unit : int array, shape (rows,)
        The units.

    Returns
    -------
    bool array, shape (rows,)
    """
    draws = Chance(chance.seed, ("seal side",)).at(unit)
    return np.asarray(draws.share("outboard") < SHARE_OUTBOARD)


def side_words(known: Flags, outboard: Flags) -> Words:
    """Write the side down where it is known."""
    return blank_unless(known, np.where(outboard, OUTBOARD, INBOARD).astype(object))
