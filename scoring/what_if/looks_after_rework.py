"""What is to be looked at once re-work is done: what it cured, and what a new hanging made void."""

from dataclasses import dataclass

import numpy as np

from scoring.contract import CHECKS
from scoring.records import units_with
from scoring.timeline.known import Known, Status
from scoring.what_if.action_arrays import OFF_SHAFT, Flags
from scoring.what_if.candidates import Candidates
from scoring.what_if.known_after import hung_anew, what_is_cured

_OF_HANGING = np.array(
    [check.made_anew_by_hanging or check.good_is_lost_by_hanging for check in CHECKS]
)


@dataclass(frozen=True)
class LooksAfterRework:
    """Which checks are to be looked at after re-work, one row a question.

    Attributes
    ----------
    cured : ndarray of bool, shape (n_rows, n_checks)
        What is reported cured: to be seen that it took.
    unseen : ndarray of bool, shape (n_rows, n_checks)
        What a unit that was hung anew is to be looked at for, whether or not it ever was.
    lost : ndarray of bool, shape (n_rows, n_checks)
        What had been seen good, or was reported cured, and tells nothing any more.
    wrong : ndarray of bool, shape (n_rows, n_checks)
        What had been found wrong at something that is made anew.
    """

    cured: Flags
    unseen: Flags
    lost: Flags
    wrong: Flags


def looks_after_rework(known: Known, candidates: Candidates) -> LooksAfterRework:
    """Tell what is to be looked at after re-work.

    Parameters
    ----------
    known : Known
        The units in service.
    candidates : Candidates
        What is done, one row a question.

    Returns
    -------
    LooksAfterRework
        Of checks that the units have.
    """
    before = known.at(candidates.unit)
    after = hung_anew(before, candidates.actions)
    has = np.column_stack([units_with(check, before.units) for check in CHECKS])
    cured = what_is_cured(before, candidates.actions) & has
    void = (after.status.to_numpy() == Status.NOT_SEEN) & ~cured & has
    was_seen = before.status.to_numpy() != Status.NOT_SEEN
    wrong = before.exceedance.to_numpy(dtype=np.float64) > 0
    off: Flags = np.asarray((candidates.actions & OFF_SHAFT).any(axis=1))
    anew = off[:, np.newaxis] & _OF_HANGING & has & ~cured
    return LooksAfterRework(cured, anew, void & was_seen & ~wrong, void & was_seen & wrong)
