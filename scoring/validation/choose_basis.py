"""Which basis is used for each failure, and why: the handbook, or the handbook and the fleet."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract.events import JOINT_SLIP, MODES
from scoring.learning.covariates import LEVEL_ALONE
from scoring.learning.failure_rows import FailureRows
from scoring.learning.hazard_ratio import HazardRatio
from scoring.learning.learned import Learned, LearnedMode, learn, learn_ratios
from scoring.validation.predictions import (
    FLEET,
    HANDBOOK,
    OTHERS,
    OTHERS_AND_FLEET,
    followed_from,
    predictions,
)
from scoring.validation.which_is_better import (
    Gain,
    gain_in_concordance,
    gain_in_likelihood,
    gain_in_proportions,
)

YEARS_BACK = 3
"""Yearly days in the past from which it is tried how well failures are predicted. Ours."""

LARGE_FLEET = 20_000
"""From so many units on one year has failures enough to try it on. Ours."""

_NOT_KEPT = {
    JOINT_SLIP: "slips of this fleet are not kept for any time on record (slips_recorded_from)"
}
"""Why nothing is learned of a failure that is recorded apart."""

FEW_FAILURES = 20
"""Below so many failures predicted little can be said; planning value of ours."""


def days_to_try(as_of: pd.Timestamp, n_units: int) -> NDArray[np.datetime64]:
    """Return the days as of which one learns: yearly ones in the past, and the day itself.

    Examples
    --------
    >>> days_to_try(pd.Timestamp("2026-06-30"), 56).tolist()[0].isoformat()
    '2023-07-01'
    """
    years = YEARS_BACK if n_units < LARGE_FLEET else 1
    back = np.arange(years, -1, -1) * np.timedelta64(365, "D")
    days: NDArray[np.datetime64] = np.datetime64(as_of.date(), "D") - back
    return days


@dataclass(frozen=True)
class Basis:
    """What the hazards of one failure rest on.

    Attributes
    ----------
    mode : str
        The failure.
    learned : LearnedMode or None
        What the fleet's own failures say, after those of other plants where these were learned
        from; None where none are kept.
    used : bool
        Whether it corrects the handbook.
    why : str
        In words.
    failures : int
        Failures that were to be predicted when it was tried.
    likelihood, proportions, concordance : Gain
        What the correction gained over the handbook alone.
    """

    mode: str
    learned: LearnedMode | None
    used: bool
    why: str
    failures: int
    likelihood: Gain
    proportions: Gain
    concordance: Gain

    @property
    def predicted_by(self) -> str:
        """Name its column in what was predicted of later failures."""
        return FLEET if self.used else HANDBOOK

    @property
    def words(self) -> str:
        """Name it as the ranking does."""
        if not self.used:
            return HANDBOOK
        if self.learned is None or self.learned.columns.prior is None:
            return FLEET
        return OTHERS if self.learned.by_others_alone else OTHERS_AND_FLEET


def try_and_choose(rows: FailureRows) -> tuple[dict[str, Basis], pd.DataFrame]:
    """Learn up to each day, predict up to the next, and choose.

    Parameters
    ----------
    rows : FailureRows
        With days in the past.

    Returns
    -------
    basis : dict of str to Basis
        For each failure.
    table : DataFrame
        What was predicted and what became of it, from ``predictions``.

    Notes
    -----
    What is learned of the fleet is used unless it predicted worse than the handbook alone, by more
    than two standard errors: in likelihood, or in likelihood given how many failed, behind which no
    wrong level can hide. Concordance is shown beside them; its difference is noisier: on generated
    fleets it spoke against corrections that truly ranked better in 2 of 24 cases, these in none.
    How usual faults are is taken as known today; findings, ages and failures as recorded then. Of a
    failure of which nothing but the level is learned, a year without any is no trial: it takes 20.
    """
    now = learn(rows)
    tables = [
        table
        for day in range(len(rows.days) - 1)
        for table in predictions_as_of(rows, day, learn_ratios(rows, day))
    ]
    table = pd.concat(tables, ignore_index=True) if tables else pd.DataFrame()
    return {mode: _choose(mode, now, table) for mode in MODES}, table


def predictions_as_of(
    rows: FailureRows, day: int, learned: Mapping[str, HazardRatio]
) -> list[pd.DataFrame]:
    """Return what was predicted as of one day, a table for each failure."""
    return [
        predictions(
            followed_from(rows, mode, day),
            rows.days[day],
            learned.get(mode),
        )
        for mode in MODES
    ]


def _choose(mode: str, now: Learned | None, table: pd.DataFrame) -> Basis:
    nothing = Gain(0.0, float("nan"))
    learned = None if now is None else now.modes.get(mode)
    if learned is None or learned.by_others_alone:
        why = _NOT_KEPT.get(mode, "failures of this fleet are not kept for any time on record")
        if learned is not None:
            why = f"{why}; other plants' failures alone correct the handbook"
        return Basis(
            mode,
            learned,
            used=learned is not None,
            why=why,
            failures=0,
            likelihood=nothing,
            proportions=nothing,
            concordance=nothing,
        )
    of_mode = table[table["failure_mode"] == mode] if len(table) else table
    failures = int(of_mode["failed"].sum()) if len(of_mode) else 0
    gains = [
        gain(of_mode) if failures else nothing
        for gain in (gain_in_likelihood, gain_in_proportions, gain_in_concordance)
    ]
    too_rare = mode in LEVEL_ALONE and failures < FEW_FAILURES
    used = too_rare or not (gains[0].worse or gains[1].worse)
    if not used:
        own = "the fleet's own" if learned.columns.prior is None else "other plants' and its own"
        why = (
            f"tried on {failures} later failures, {own} predicted worse than the handbook alone by "
            "more than two standard errors"
        )
    elif failures < FEW_FAILURES:
        why = f"only {failures} later failures to try it on: too few to speak against it"
    else:
        why = f"tried on {failures} later failures, it predicted no worse than the handbook alone"
    return Basis(mode, learned, used, why, failures, *gains)
