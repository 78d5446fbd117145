"""What would be known of units once re-work was done and written down, and a look taken."""

from dataclasses import replace
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract import CHECKS
from scoring.limits import UnitLimits, walkdown_exceedance
from scoring.records import dtype_of
from scoring.timeline.known import HypotheticalRework, Known, Status
from scoring.timeline.leaks import DRIPPING
from scoring.timeline.resets import BEARING_SYMPTOMS, VOID_WHEN_HUNG_ANEW
from scoring.what_if.action_arrays import (
    CHECK_NAMES,
    CURES,
    NEW_BEARING,
    NEW_SEAL,
    OFF_SHAFT,
    Flags,
)
from scoring.what_if.candidates import Candidates

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

MOST_CERTAIN = 1 - 1e-12
"""A chance never counts as more, so that its logarithm is a number."""

STAYS_AS_IT_IS = ("shaft_runout_mm", "shaft_diameter_measured_mm", "seal_weep")
"""Of the shaft, or of the seal: hanging the unit anew makes a look void, but changes nothing."""

_OF_SHAFT_AND_SEAL = np.array([name in STAYS_AS_IT_IS for name in CHECK_NAMES])
_HUNG_ANEW = np.array([name in VOID_WHEN_HUNG_ANEW for name in CHECK_NAMES])
_OF_BEARING = np.array([name in BEARING_SYMPTOMS for name in CHECK_NAMES])


def rows_of(known: Known, unit: Ints) -> Known:
    """Return what is known of some units, which may come again and again.

    Parameters
    ----------
    known : Known
        The units in service.
    unit : ndarray of int, shape (n_rows,)
        Places in ``known.units``.

    Returns
    -------
    Known
        Without ``better_but_ignored``.
    """

    def take(frame: pd.DataFrame) -> pd.DataFrame:
        return frame.iloc[unit].reset_index(drop=True)

    return Known(
        as_of=known.as_of,
        units=take(known.units),
        place=known.place[unit],
        found=take(known.found),
        exceedance=take(known.exceedance),
        status=take(known.status),
        seen_on=take(known.seen_on),
        history=take(known.history),
        better_but_ignored=known.better_but_ignored.iloc[:0],
    )


def known_after(
    known: Known, limits: UnitLimits, candidates: Candidates, success: Floats | None
) -> Known:
    """Return what would be known of units after re-work on the as-of day.

    Parameters
    ----------
    known : Known
        The units in service.
    limits : UnitLimits
        Their limits.
    candidates : Candidates
        What is done and found, one row a question.
    success : ndarray, shape (n_actions,), or None
        Chance that each action succeeds; a cure that does not succeed leaves a check as it is, and
        what was found of shaft and seal stays as it is until they are worked on. None: as a ranking
        counts re-work that is on record, of which nobody says what it was done to. [-]

    Returns
    -------
    Known
        One row for each question: cured checks are reported cured; a unit that was off its shaft
        is hung anew by a crew that nobody knows; renewed parts are new.
    """
    before = rows_of(known, candidates.unit)
    actions = candidates.actions
    cured = _any(actions, CURES)
    off, bearing, seal = (_any(actions, one) for one in (OFF_SHAFT, NEW_BEARING, NEW_SEAL))
    forgotten = _HUNG_ANEW if success is None else _HUNG_ANEW & ~_OF_SHAFT_AND_SEAL
    void = cured | (off[:, np.newaxis] & forgotten) | (bearing[:, np.newaxis] & _OF_BEARING)
    history = before.history.copy()
    history["crew"] = history["crew"].astype(object).mask(off, np.nan)
    history["hung_on"] = history["hung_on"].mask(off, known.as_of)
    history["bearing_age_days"] = history["bearing_age_days"].mask(bearing, 0.0)
    history["seal_age_days"] = history["seal_age_days"].mask(seal, 0.0)
    history["leak_since"] = history["leak_since"].mask(seal, pd.NaT)
    after = replace(
        before,
        found=pd.DataFrame(
            {name: before.found[name].mask(void[:, n]) for n, name in enumerate(CHECK_NAMES)}
        ),
        exceedance=before.exceedance.mask(void),
        status=before.status.mask(void, np.int8(Status.NOT_SEEN)).mask(
            cured, np.int8(Status.REPORTED_CURED)
        ),
        seen_on=before.seen_on.mask(void).mask(cured, known.as_of),
        history=history,
    )
    if success is not None:
        after = replace(
            after, hypothetical=HypotheticalRework(before, _chance_of_cure(actions, success, cured))
        )
    if candidates.looked is None:
        return after
    of_rows = limits.at(candidates.unit).table
    return _with_a_look(after, of_rows, candidates.looked)


def _any(actions: Flags, what: Flags) -> Flags:
    hit: Flags = (actions.astype(np.int64) @ what.astype(np.int64)) > 0
    return hit


def _chance_of_cure(actions: Flags, success: Floats, cured: Flags) -> pd.DataFrame:
    """Return for each check the chance that at least one of the actions that cure it takes."""
    logs = np.log1p(-np.minimum(success, MOST_CERTAIN))
    chance = -np.expm1((actions * logs) @ CURES.astype(np.float64))
    return pd.DataFrame(np.where(cured, chance, np.nan), columns=list(CHECK_NAMES))


def _with_a_look(after: Known, limits: pd.DataFrame, given: pd.DataFrame) -> Known:
    """Let values stand that a look on the as-of day would find."""
    nothing = pd.DataFrame(index=given.index, columns=list(CHECK_NAMES), dtype=object)
    kinds: dict[str, Any] = {check.name: dtype_of(check) for check in CHECKS}
    looked = nothing.assign(**given).astype(kinds)
    here = looked.notna()
    bad = walkdown_exceedance(looked, limits)
    history = after.history.copy()
    drips = ((bad["seal_weep"] == DRIPPING) & history["leak_since"].isna()).to_numpy()
    history["leak_since"] = history["leak_since"].mask(drips, after.as_of)
    return replace(
        after,
        found=pd.DataFrame(
            {name: after.found[name].mask(here[name], looked[name]) for name in CHECK_NAMES}
        ),
        exceedance=after.exceedance.mask(here, bad),
        status=after.status.mask(here, np.int8(Status.SEEN)),
        seen_on=after.seen_on.mask(here, after.as_of),
        history=history,
    )
