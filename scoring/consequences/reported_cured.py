"""What re-work is said to have cured, and what had been seen of it before."""

import numpy as np
from numpy.typing import NDArray

from scoring.timeline.known import Known, Status

Flags = NDArray[np.bool_]


def reported_cured(known: Known, check: str) -> Flags:
    """Tell of which units a check was reported cured and not seen since."""
    cured: Flags = (known.status[check] == Status.REPORTED_CURED).to_numpy()
    return cured


def seen_before(known: Known, check: str) -> Flags:
    """Tell of which units a check stands as seen, but for re-work that is only hypothetical.

    Of re-work on record nobody says what it was done to.
    """
    if known.hypothetical is None:
        return np.zeros(len(known.units), dtype=bool)
    seen: Flags = (known.hypothetical.before.status[check] == Status.SEEN).to_numpy()
    return seen
