"""What would be known of units once re-work was done and written down, and a look taken."""

from dataclasses import replace
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract import CHECKS
from scoring.contract.details import DETAILS
from scoring.limits import UnitLimits, walkdown_exceedance
from scoring.records import dtype_of
from scoring.rules.what_cures import CONTACT, CURES_BY_PART, needed_at
from scoring.timeline.known import HypotheticalRework, Known, Status
from scoring.timeline.leaks import DRIPPING
from scoring.timeline.needs_a_part import needs_a_part
from scoring.timeline.resets import BEARING_SYMPTOMS
from scoring.timeline.what_hanging_does import (
    OF_SHAFT_AT_HOME,
    SEATED,
    WITNESS_MARK,
    at_home_column,
)
from scoring.what_if.action_arrays import (
    ACTION_NAMES,
    CHECK_NAMES,
    CURES,
    NEW_BEARING,
    NEW_SEAL,
    OFF_SHAFT,
    Flags,
)
from scoring.what_if.candidates import Candidates

Floats = NDArray[np.float64]

MOST_CERTAIN = 1 - 1e-12
"""A chance never counts as more, so that its logarithm is a number."""

_MADE_ANEW = np.array([check.made_anew_by_hanging for check in CHECKS])
_GOOD_IS_LOST = np.array([check.good_is_lost_by_hanging for check in CHECKS])
_EVERY_ACTION: Flags = np.ones((len(ACTION_NAMES), 1), dtype=bool)
_OF_BEARING = np.array([name in BEARING_SYMPTOMS for name in CHECK_NAMES])


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
        Chance that each action succeeds; a cure that does not succeed leaves a check as it would
        be without it. None: as a ranking counts re-work that is on record. [-]

    Returns
    -------
    Known
        One row for each question: cured checks are reported cured; a unit that was off its shaft
        is hung anew by a crew that nobody knows, so that what hanging makes anew was not seen, nor
        is what was seen good at joint and arm; renewed parts are new.

    Notes
    -----
    What only a part mends, as a shaft that is short though the unit is home, is cured by no action
    that brings none. Of metal contact a row of re-work on record is taken to have cured the place;
    what is only thought of cures it where it touches, or everywhere. A slip that a witness mark
    tells of stands until the seat was seen: on record somebody has to say so; in what is only
    thought of, who takes the unit off its shaft sees it.
    """
    before = known.at(candidates.unit)
    actions = candidates.actions
    of_bearing = _any(actions, NEW_BEARING)[:, np.newaxis] & _OF_BEARING
    uncured = hung_anew(before, actions)
    if success is None:
        cured = what_is_cured(before, actions)
        after = _forget(_forget(uncured, of_bearing, Status.NOT_SEEN), cured, Status.REPORTED_CURED)
    else:
        chance = _chance_at_its_place(before, actions, success)
        uncured = _with_the_seat_seen(uncured, _any(actions, OFF_SHAFT))
        after = _forget(uncured, ~np.isnan(chance), Status.REPORTED_CURED)
        chances = pd.DataFrame(chance, columns=list(CHECK_NAMES))
        after = replace(after, hypothetical=HypotheticalRework(uncured, chances))
    if candidates.looked is None:
        return after
    of_rows = limits.at(candidates.unit).table
    return _with_a_look(after, of_rows, candidates.looked)


def hung_anew(before: Known, actions: Flags) -> Known:
    """Return what would be known of units if re-work had cured nothing but for new parts.

    Parameters
    ----------
    before : Known
        The units as they are.
    actions : ndarray of bool, shape (n_units, n_actions)
        What is done.

    Returns
    -------
    Known
    """
    off, bearing, seal = (_any(actions, one) for one in (OFF_SHAFT, NEW_BEARING, NEW_SEAL))
    history = before.history.copy()
    history["crew"] = history["crew"].astype(object).mask(off, np.nan)
    history["hung_on"] = history["hung_on"].mask(off, before.as_of)
    history["bearing_age_days"] = history["bearing_age_days"].mask(bearing, 0.0)
    history["seal_age_days"] = history["seal_age_days"].mask(seal, 0.0)
    history["joint_age_days"] = history["joint_age_days"].mask(off, 0.0)
    history["leak_since"] = history["leak_since"].mask(seal, pd.NaT)
    finding = before.exceedance.to_numpy(dtype=np.float64) > 0
    at_home = np.zeros(finding.shape, dtype=bool)
    for name in OF_SHAFT_AT_HOME:
        at_home[:, CHECK_NAMES.index(name)] = history[at_home_column(name)]
    lost = _MADE_ANEW | (_GOOD_IS_LOST & ~finding & ~at_home)
    return _forget(replace(before, history=history), lost & off[:, np.newaxis], Status.NOT_SEEN)


def _with_the_seat_seen(known: Known, off: Flags) -> Known:
    """Let a slip end where the unit comes off its shaft; a new line is painted, not seen yet."""
    what = np.zeros((len(off), len(CHECK_NAMES)), dtype=bool)
    what[:, CHECK_NAMES.index(WITNESS_MARK)] = off
    return _forget(known, what, Status.NOT_SEEN)


def _forget(known: Known, what: Flags, status: Status) -> Known:
    """Return units of which some checks have no value any more, but a status, as of that day."""
    seen_on, history = known.seen_on.mask(what), known.history.copy()
    if status is Status.REPORTED_CURED:
        seen_on = seen_on.mask(what, known.as_of)
        for detail in (one for one in DETAILS if one.name in history):
            of_it = [CHECK_NAMES.index(check) for check in detail.of]
            gone = np.asarray(what[:, of_it].any(axis=1))
            history[detail.name] = history[detail.name].mask(gone)
    for name in OF_SHAFT_AT_HOME:
        column = at_home_column(name)
        history[column] = history[column].to_numpy(dtype=bool) & ~what[:, CHECK_NAMES.index(name)]
    return replace(
        known,
        found=pd.DataFrame(
            {name: known.found[name].mask(what[:, n]) for n, name in enumerate(CHECK_NAMES)}
        ),
        exceedance=known.exceedance.mask(what),
        status=known.status.mask(what, np.int8(status)),
        seen_on=seen_on,
        history=history,
    )


def _any(actions: Flags, what: Flags) -> Flags:
    hit: Flags = (actions.astype(np.int64) @ what.astype(np.int64)) > 0
    return hit


def what_is_cured(before: Known, actions: Flags) -> Flags:
    """Tell which checks are reported cured by re-work that is on record.

    Parameters
    ----------
    before : Known
        The units as they were.
    actions : ndarray of bool, shape (n_units, n_actions)
        What was done.

    Returns
    -------
    ndarray of bool, shape (n_units, n_checks)
        What only a part mends is cured by an action that brings it.
    """
    by_part = needs_a_part(before)
    return np.where(by_part, _any(actions, CURES_BY_PART), _any(actions, CURES))


def _chance_of_cure(before: Known, actions: Flags, success: Floats) -> Floats:
    """Return for each check the chance that a cure of it succeeds; missing for none."""
    chance = np.where(
        needs_a_part(before),
        *(_any_succeeds(actions, success, one) for one in (CURES_BY_PART, CURES)),
    )
    return np.where(what_is_cured(before, actions), chance, np.nan)


def _chance_at_its_place(before: Known, actions: Flags, success: Floats) -> Floats:
    """Return the same of re-work thought of, and of the symptoms of a bearing that is renewed.

    Metal contact is cured where it touches, by each action that is needed for that.
    """
    chance = _chance_of_cure(before, actions, success)
    of_bearing = _any(actions, NEW_BEARING)[:, np.newaxis] & _OF_BEARING
    renewed = _any_succeeds(actions, success, NEW_BEARING[:, np.newaxis] & _OF_BEARING)
    chance = np.where(of_bearing, renewed, chance)
    of_contact = np.ones(len(actions))
    for needed in needed_at(before, CONTACT):
        done = actions & needed
        success_here = _any_succeeds(done, success, _EVERY_ACTION)[:, 0]
        done_there = np.where(done.any(axis=1), success_here, np.nan)
        of_contact *= np.where(needed.any(axis=1), done_there, 1.0)
    chance[:, CHECK_NAMES.index(CONTACT)] = of_contact
    return chance


def _any_succeeds(actions: Flags, success: Floats, cures: Flags) -> Floats:
    """Return for each check the chance that at least one of the actions that cure it succeeds."""
    logs = np.log1p(-np.minimum(success, MOST_CERTAIN))
    chance: Floats = -np.expm1((actions * logs) @ cures.astype(np.float64))
    return chance


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
    exceedance, seen_on = after.exceedance.mask(here, bad), after.seen_on.mask(here, after.as_of)
    home = (exceedance[SEATED] == 0).to_numpy()
    hung_before = (history["hung_on"] < after.as_of).to_numpy()
    for name in OF_SHAFT_AT_HOME:
        since_hung = (seen_on[name] >= history["hung_on"]).to_numpy() & hung_before
        on_this_hanging = here[name].to_numpy() | since_hung
        before = history[at_home_column(name)].to_numpy(dtype=bool)
        history[at_home_column(name)] = np.where(on_this_hanging, home, before)
    return replace(
        after,
        found=pd.DataFrame(
            {name: after.found[name].mask(here[name], looked[name]) for name in CHECK_NAMES}
        ),
        exceedance=exceedance,
        status=after.status.mask(here, np.int8(Status.SEEN)),
        seen_on=seen_on,
        history=history,
    )
