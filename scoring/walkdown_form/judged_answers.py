"""What the plain rules say of an answer while it is being given: by the rulebook, word for word."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract import CHECK_BY_NAME
from scoring.limits.exceedance import SMALLEST, exceedance_of
from scoring.rules.cure_of_a_finding import name_cures
from scoring.rules.findings import words_of
from scoring.rules.rule import Circumstances, Rule, Severity
from scoring.rules.rulebook import RULEBOOK
from scoring.timeline.known import Known

SEVERITY_WORDS = {Severity.WATCH: "", Severity.CORRECT: "correct", Severity.HOLD: "hold"}
"""How a form names what a finding asks for; what is watched asks for no re-work."""


@dataclass(frozen=True)
class Judged:
    """What the rules say of one answer.

    Attributes
    ----------
    good : bool
        Whether no rule finds anything.
    severity : str
        ``correct``, ``hold`` or empty.
    what : str
        What was found; ``{value}`` and ``{beyond}`` stay open for a measured check.
    do : str
        What to do about it; empty where the rule knows no cure.
    """

    good: bool
    severity: str = ""
    what: str = ""
    do: str = ""


GOOD = Judged(good=True)


def judge(
    check: str, values: NDArray[np.float64], units: pd.DataFrame, limits: pd.DataFrame
) -> list[Judged]:
    """Judge one value of a check at each unit.

    Parameters
    ----------
    check : str
        The check.
    values : ndarray, shape (n_units,)
        A value for each: of a choice its place in the contract's list.
    units : DataFrame, shape (n_units, ...)
        The table ``units``.
    limits : DataFrame, shape (n_units, n_limits)
        Their limits.

    Returns
    -------
    list of Judged
    """
    known = _as_if_seen(check, values, units, limits)
    circumstances = Circumstances(known, limits)
    judged = [GOOD] * len(units)
    open_still = np.ones(len(units), dtype=bool)
    for rule in RULEBOOK:
        if rule.check != check:
            continue
        found = rule.holds(circumstances) & open_still
        open_still &= ~found
        here = np.flatnonzero(found)
        cures = name_cures(
            pd.DataFrame({"unit": here, "check": check, "action": rule.action}), known
        )
        for place, do in zip(here.tolist(), cures["do"], strict=True):
            judged[place] = _said(rule, known, limits, place, do)
    return judged


def _as_if_seen(
    check: str, values: NDArray[np.float64], units: pd.DataFrame, limits: pd.DataFrame
) -> Known:
    """Return what would be known if these values had been found."""
    declared = CHECK_BY_NAME[check]
    bad = np.nan_to_num(exceedance_of(declared, values, limits), nan=0.0)
    bad = np.where(bad > SMALLEST, bad, 0.0)
    size = len(units)
    found: object = values
    if declared.allowed:
        found = pd.Categorical.from_codes(
            values.astype(np.int64), dtype=pd.CategoricalDtype(list(declared.allowed), ordered=True)
        )
    never = np.full(size, np.datetime64("NaT"), dtype="datetime64[s]")
    return Known(
        as_of=pd.Timestamp(0),
        units=units,
        place=np.arange(size),
        found=pd.DataFrame({check: found}),
        exceedance=pd.DataFrame({check: bad}),
        status=pd.DataFrame(index=range(size)),
        seen_on=pd.DataFrame(index=range(size)),
        history=pd.DataFrame({"leak_since": never}),
        better_but_ignored=pd.DataFrame(),
    )


def _said(rule: Rule, known: Known, limits: pd.DataFrame, place: int, do: str) -> Judged:
    what = rule.reason
    if CHECK_BY_NAME[rule.check].allowed:
        word = words_of(rule.check, known.found[rule.check].iloc[[place]])[0]
        what = what.replace("{value}", str(word))
    if rule.limit:
        limit = words_of(rule.check, limits[rule.limit].iloc[[place]])[0]
        what = what.replace("{limit}", str(limit))
    return Judged(good=False, severity=SEVERITY_WORDS[rule.severity], what=what, do=do)
