"""The re-work that is named for a finding: by its rule, and by the cause that other looks show.

Ranking, plan, form and pages all name a unit's first action from here.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract.mountings import EVERY_MOUNTING
from scoring.contract.rework import ACTION_BY_NAME
from scoring.contract.where_actions_fit import done_with
from scoring.rules.rule import Severity
from scoring.rules.what_cures import (
    ACTION_NAMES,
    CHECK_NAMES,
    CONTACT,
    exceedance_at,
    needed_at,
    needs_a_part,
    places_of_contact,
)
from scoring.timeline.known import Known
from scoring.timeline.what_hanging_does import OF_SHAFT_AT_HOME, SEATED

Flags = NDArray[np.bool_]

SLIP_MARGIN = "slip_margin"
"""The value that the rules on slip judge; no check of the contract."""

MISSING_SCREWS = "screws_missing"

NOTHING_TO_CURE = (
    "check rating, running torque and peak on record: nothing that was found takes the grip"
)
"""Said of a joint whose margin is low though all that was seen of it is good."""


@dataclass(frozen=True, kw_only=True)
class CureByCause:
    """Re-work that takes the place of what a rule names, or something said beside it.

    Attributes
    ----------
    usual : str
        The action that the rule names.
    checks : tuple of str
        What the finding is of.
    where : callable
        From what was known, and the check, to the units at which the cause was seen.
    actions : tuple of str
        What is named there, all of it to be done.
    note : str
        What is said beside it.
    also : tuple of str
        Actions that the note tells of.
    """

    usual: str
    checks: tuple[str, ...]
    where: Callable[[Known, str], Flags]
    actions: tuple[str, ...]
    note: str = ""
    also: tuple[str, ...] = ()


def _short_at_home(known: Known, check: str) -> Flags:
    """Tell where the shaft itself is too short; of a joint that slips, by either look at it."""
    checks = OF_SHAFT_AT_HOME if check == SLIP_MARGIN else (check,)
    short: Flags = np.any([needs_a_part(known, one) for one in checks], axis=0)
    return short


def _not_seen_to_be_away(known: Known, check: str) -> Flags:
    del check
    away: Flags = exceedance_at(known, SEATED) > 0
    return ~away


def _only_elsewhere(known: Known, check: str) -> Flags:
    del check
    here, elsewhere = places_of_contact(known)
    return elsewhere & ~here


def _at_both(known: Known, check: str) -> Flags:
    del check
    here, elsewhere = places_of_contact(known)
    return here & elsewhere


def _at_no_known_place(known: Known, check: str) -> Flags:
    del check
    here, elsewhere = places_of_contact(known)
    return ~here & ~elsewhere


def _screws_missing(known: Known, check: str) -> Flags:
    del check
    missing: Flags = exceedance_at(known, MISSING_SCREWS) > 0
    return missing


def _everywhere(known: Known, check: str) -> Flags:
    del check
    return np.ones(len(known.units), dtype=bool)


_SHORT = (*OF_SHAFT_AT_HOME, SLIP_MARGIN)
_BOTH = ("restore_isolation", "restore_clearance")

CURES_BY_CAUSE = (
    CureByCause(
        usual="reseat_on_shaft",
        checks=_SHORT,
        where=_short_at_home,
        actions=("renew_shaft",),
        note="the unit is home, so the shaft itself is too short; a unit with another bore or hub "
        "length (exchange unit) does as well",
        also=("exchange_unit",),
    ),
    CureByCause(
        usual="reseat_on_shaft",
        checks=_SHORT,
        where=_not_seen_to_be_away,
        actions=("reseat_on_shaft",),
        note="only if it is not home, so look at that first; if it is, the shaft itself is too "
        "short (renew shaft, or exchange unit)",
        also=("renew_shaft", "exchange_unit"),
    ),
    CureByCause(
        usual="restore_isolation",
        checks=(CONTACT,),
        where=_at_no_known_place,
        actions=_BOTH,
        note="both, for where metal touches is not on record",
    ),
    CureByCause(
        usual="restore_isolation",
        checks=(CONTACT,),
        where=_only_elsewhere,
        actions=("restore_clearance",),
    ),
    CureByCause(usual="restore_isolation", checks=(CONTACT,), where=_at_both, actions=_BOTH),
    CureByCause(
        usual="retorque_in_passes",
        checks=("screws_low", MISSING_SCREWS, "final_torque_nm", SLIP_MARGIN),
        where=_screws_missing,
        actions=("retorque_in_passes",),
        note="with new screws in place of those that are missing",
    ),
    CureByCause(
        usual="renew_shaft",
        checks=("witness_mark",),
        where=_everywhere,
        actions=("clean_and_refit",),
        note="look at the seat while the unit is off, for until then the joint counts as slipped; "
        "a worn seat needs a new shaft (renew shaft)",
        also=("renew_shaft",),
    ),
)
"""Of those for one action and check the first that holds counts."""


def name_cures(findings: pd.DataFrame, known: Known) -> pd.DataFrame:
    """Name the re-work of findings.

    Parameters
    ----------
    findings : DataFrame, shape (n_findings, ...)
        ``unit``: place in ``known.units``; ``check``: what it is of; ``action``: what its rule
        names, empty for none.
    known : Known
        What was known.

    Returns
    -------
    DataFrame, shape (n_findings, 2)
        On the same index. ``action``: what is to be done, as the column ``actions`` of re-work, all
        of it; ``do``: the same in plain words.
    """
    unit = findings["unit"].to_numpy(dtype=np.int64)
    check, usual = (findings[name].to_numpy(dtype=object) for name in ("check", "action"))
    action = usual.copy()
    note = np.full(len(action), "", dtype=object)
    open_still = action != ""
    for cause in CURES_BY_CAUSE:
        mine = open_still & (usual == cause.usual)
        for one in cause.checks:
            rows = np.flatnonzero(mine & (check == one))
            if not len(rows):
                continue
            rows = rows[cause.where(known, one)[unit[rows]]]
            action[rows] = ";".join(cause.actions)
            note[rows] = cause.note
            open_still[rows] = False
    code, texts = pd.factorize(action)
    words = [[in_words(text, mounting) for mounting in EVERY_MOUNTING] for text in texts]
    mounting = known.units["mounting"].array.codes[unit]
    does = np.array(words, dtype=object).reshape(-1, len(EVERY_MOUNTING))[code, mounting]
    with_note = np.flatnonzero(note != "")
    does[with_note] += "; " + note[with_note]
    does[(action == "") & (check == SLIP_MARGIN)] = NOTHING_TO_CURE
    return pd.DataFrame({"action": action, "do": does}, index=findings.index)


def in_words(actions: str, mounting: str) -> str:
    """Say in plain words what is done on a mounting, with what is always done with it.

    Examples
    --------
    >>> in_words("fit_guard;open_breather", "keyed_bore")
    'fit the guard; then clean or fit the breather'
    >>> in_words("recentre_disc", "shrink_disc").partition("; then ")[2]
    "bring the screws to the manual's torque in rising passes, in the right order"
    """
    names = [done for one in actions.split(";") if one for done in done_with(one, mounting)]
    return "; then ".join(ACTION_BY_NAME[name].does for name in dict.fromkeys(names))


def first_cures(open_findings: pd.DataFrame) -> pd.DataFrame:
    """Return the gravest open finding of each unit that asks for re-work: what it asks for.

    Parameters
    ----------
    open_findings : DataFrame, shape (n_findings, ...)
        Findings that nobody has accepted, the most urgent first within a unit.

    Returns
    -------
    DataFrame
        The first of each unit, with the columns given.
    """
    cured = open_findings[open_findings["severity"] >= Severity.CORRECT]
    return cured.drop_duplicates("unit")


def named_at(findings: pd.DataFrame, size: int) -> Flags:
    """Return which actions findings name at each unit.

    Parameters
    ----------
    findings : DataFrame, shape (n_findings, ...)
        With ``unit`` and ``action``.
    size : int
        Number of units.

    Returns
    -------
    ndarray of bool, shape (n_units, n_actions)
    """
    code, texts = pd.factorize(findings["action"].to_numpy(dtype=object))
    kinds = np.array([[name in text.split(";") for name in ACTION_NAMES] for text in texts])
    named = np.zeros((size, len(ACTION_NAMES)), dtype=bool)
    if len(code):
        np.logical_or.at(named, findings["unit"].to_numpy(dtype=np.int64), kinds[code])
    return named


def curing_at(findings: pd.DataFrame, known: Known) -> Flags:
    """Return which actions can cure, or help to cure, findings at each unit.

    Parameters
    ----------
    findings : DataFrame, shape (n_findings, ...)
        With ``unit`` and ``check``.
    known : Known
        What was known of the units.

    Returns
    -------
    ndarray of bool, shape (n_units, n_actions)
        Nothing for a joint that slips: that is no check.
    """
    curing = np.zeros((len(known.units), len(ACTION_NAMES)), dtype=bool)
    unit = findings["unit"].to_numpy(dtype=np.int64)
    for check, rows in findings.groupby("check").indices.items():
        if check in CHECK_NAMES:
            for needed in needed_at(known, str(check)):
                curing[unit[rows]] |= needed[unit[rows]]
    return curing
