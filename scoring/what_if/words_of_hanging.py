"""What nobody has seen any more once re-work has hung a unit anew, in words."""

import numpy as np

from scoring.contract import CHECKS
from scoring.timeline.known import Known
from scoring.what_if.candidates import Candidates
from scoring.what_if.looks_after_rework import looks_after_rework

LABELS = np.array([check.label for check in CHECKS], dtype=object)


def words_of_hanging(known: Known, candidates: Candidates) -> str:
    """Say what re-work at one unit leaves unseen, as the unit is hung anew by it.

    Parameters
    ----------
    known : Known
        The units in service.
    candidates : Candidates
        One question.

    Returns
    -------
    str
        Empty where nothing that was seen, or reported cured, is left unseen.
    """
    after = looks_after_rework(known, candidates.where(slice(0, 1)))
    parts = [
        f"{words}: {', '.join(LABELS[flags[0]])}"
        for words, flags in (
            ("good looks that tell nothing any more", after.lost),
            ("findings at what is made anew", after.wrong),
        )
        if flags.any()
    ]
    return f"hung anew, to be looked at again; {'; '.join(parts)}" if parts else ""
