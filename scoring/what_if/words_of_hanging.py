"""What nobody has seen any more once re-work has hung a unit anew, in words."""

import numpy as np

from scoring.contract import CHECKS
from scoring.timeline.known import Known, Status
from scoring.what_if.candidates import Candidates
from scoring.what_if.known_after import hung_anew, rows_of, what_is_cured

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
    one = candidates.where(slice(0, 1))
    before = rows_of(known, one.unit)
    after = hung_anew(before, one.actions)
    lost = (before.status.to_numpy() != Status.NOT_SEEN) & (after.status.to_numpy() == 0)
    lost &= ~what_is_cured(before, one.actions)
    wrong = lost & (before.exceedance.to_numpy(dtype=np.float64) > 0)
    parts = [
        f"{words}: {', '.join(LABELS[flags[0]])}"
        for words, flags in (
            ("good looks that tell nothing any more", lost & ~wrong),
            ("findings at what is made anew", wrong),
        )
        if flags.any()
    ]
    return f"hung anew, to be looked at again; {'; '.join(parts)}" if parts else ""
