"""The states in which units ever were, each once: what no day that is asked for moves.

What was found of a unit stays as it is for many rows of time at risk, and it is the same whatever
day is asked for. That day moves how usual faults are, and no more; the rest is kept for the next.
Symptoms begin to count and are forgotten on days of their own; all else changes less than half as
often, and is worked out apart.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.arm_restraint import ArmsAsFound
from scoring.consequences.joint_grip import JointGrip, joint_grip
from scoring.consequences.nameplate import Nameplate, read_nameplates
from scoring.contract import CHECKS, Check
from scoring.handbook.multipliers import OverTime, Symptoms, log_mean_multipliers
from scoring.handbook.prevalence import Prevalence
from scoring.handbook.unit_evidence import Looked, UnitEvidence
from scoring.learning.covariates import PLAIN_CHECKS
from scoring.learning.exposure_cuts import (
    SYMPTOM_LAG_DAYS,
    starts_of_states,
    starts_without_symptoms,
)
from scoring.learning.repeated_rows import changes_in
from scoring.limits import UnitLimits
from scoring.timeline import Known, Timeline
from scoring.timeline.ages import days_on_the_shaft
from scoring.timeline.order import number_of_unit_day
from scoring.timeline.states_over_time import states_over_time
from scoring.timeline.unit_days import UnitDays

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Days = NDArray[np.datetime64]

STATES_AT_ONCE = 40_000
"""States worked out in one go, to bound memory. Ours."""

LASTING, SYMPTOMS = (
    tuple(check for check in CHECKS if check.symptom == symptom) for symptom in (False, True)
)
"""Checks that change when something is written down, and those that change on other days, too."""

STATES_KEPT = 150_000
"""No more states than these are kept for the next day that is asked for. Ours."""


@dataclass(frozen=True)
class RowsOfThePast:
    """Some rows, what was found bad in them, and what the handbook makes of that.

    Attributes
    ----------
    rows : slice
        Which rows.
    bad : ndarray of int8, shape (n_rows, n_checks)
        From ``bad_as_known``.
    log_multipliers : dict of str to ndarray, shape (n_rows, n_effects)
        For each failure. [-]
    """

    rows: slice
    bad: NDArray[np.int8]
    log_multipliers: dict[str, Floats]


class PastStates:
    """What was found of the units of a fleet, and what follows from it alone.

    Parameters
    ----------
    timeline : Timeline
        The records.
    limits : UnitLimits
        Limits of every unit of the fleet.

    Notes
    -----
    A symptom counts when it is 30 days old. States are kept up to ``STATES_KEPT``: those of the
    latest day that was asked for, which every earlier day finds among them.
    """

    def __init__(self, timeline: Timeline, limits: UnitLimits) -> None:
        self.timeline, self.limits = timeline, limits
        self._kept: tuple[Ints, list[_SomeStates]] = (np.array([], np.int64), [])

    @cached_property
    def plates(self) -> Nameplate:
        """Sizes and loads of all units."""
        return read_nameplates(self.timeline.fleet.units)

    @cached_property
    def starts(self) -> UnitDays:
        """When the states begin."""
        return starts_of_states(self.timeline)

    @cached_property
    def starts_without_symptoms(self) -> UnitDays:
        """When those begin in which something else changes than what symptoms tell."""
        return starts_without_symptoms(self.timeline)

    def of_rows(self, place: Ints, day: Days, prevalence: Prevalence) -> Iterator[RowsOfThePast]:
        """Tell what was known in rows, some at a time.

        Parameters
        ----------
        place : ndarray of int, shape (n_rows,)
            The unit of each, as its place in ``Fleet.units``.
        day : ndarray of datetime64[D], shape (n_rows,)
            By the end of which day; by unit and then by day.
        prevalence : Prevalence
            How usual faults are where nobody has looked.

        Returns
        -------
        iterator of RowsOfThePast
        """
        row_key = number_of_unit_day(place, day)
        state = np.searchsorted(self.starts.key, row_key, side="right") - 1
        begins = changes_in(state)
        here = state[begins]  # each once, for states rise with the rows
        asked, kept = self._states(here)
        at = (np.cumsum(begins) - 1).astype(np.int64)
        if asked is not here:
            at = np.searchsorted(asked, here)[at]
        firsts = range(0, len(asked), STATES_AT_ONCE)
        ends = np.searchsorted(at, [*firsts, len(asked)])

        for number in np.flatnonzero(np.diff(ends)).tolist():
            rows, first = slice(int(ends[number]), int(ends[number + 1])), firsts[number]
            some = kept[number] if kept else self._made(asked[first:][:STATES_AT_ONCE])
            yield some.of_rows(rows, at[rows] - first, day[rows], prevalence)

    def _states(self, asked: Ints) -> tuple[Ints, "list[_SomeStates]"]:
        """Return states among which all those asked for are; and made, if they are few enough."""
        kept, some = self._kept
        if len(kept) and np.isin(asked, kept, assume_unique=True).all():
            return kept, some
        if len(asked) > STATES_KEPT:
            return asked, []
        parts = [asked[start:][:STATES_AT_ONCE] for start in range(0, len(asked), STATES_AT_ONCE)]
        self._kept = asked, [self._made(part) for part in parts]
        return self._kept

    def _made(self, which: Ints) -> "_SomeStates":
        return _SomeStates(self, which)


class _SomeStates:
    """Some states, what is known of units in them, and all that follows from it alone."""

    def __init__(self, past: "PastStates", which: Ints) -> None:
        states, lasting = past.starts, past.starts_without_symptoms
        unit, day = states.unit[which], states.day[which]
        last = np.searchsorted(lasting.key, states.key[which], side="right") - 1
        begins = changes_in(last)
        some = last[begins]
        self._units = past.timeline.fleet.units
        self._place, self._lasting = unit, (np.cumsum(begins) - 1).astype(np.int64)
        self._found = _Found(past, lasting.unit[some], lasting.day[some], LASTING)
        self._symptoms = _Found(past, unit, day, SYMPTOMS)
        self._bad = bad_as_known(self._found.known)
        hung_on = self._found.known.history["hung_on"]
        self._hung_on = hung_on.to_numpy().astype("datetime64[D]")

    def of_rows(self, rows: slice, state: Ints, day: Days, prevalence: Prevalence) -> RowsOfThePast:
        """Tell what was known in rows, each in one of these states."""
        found = self._lasting[state]
        age = days_on_the_shaft(self._units, self._place[state], self._hung_on[found], day)
        groups = prevalence.groups(self._found.known)
        evidence = self._found.with_arm_and_joint(prevalence, groups)
        symptoms = Symptoms(self._symptoms.alone(prevalence, groups[self._lasting]), state)
        logs = log_mean_multipliers(evidence, OverTime(found, age), symptoms)
        return RowsOfThePast(rows, self._bad[found], logs)


class _Found:
    """What was found of some checks, and all that follows from it alone."""

    def __init__(
        self, past: "PastStates", place: Ints, day: Days, checks: tuple[Check, ...]
    ) -> None:
        self.known = states_over_time(
            past.timeline, place, day, symptom_lag_days=SYMPTOM_LAG_DAYS, only=checks
        )
        self._limits, self._plates, self._place = past.limits.at(place), past.plates, place
        self._looked: dict[str, Looked] = {}

    @cached_property
    def _arms_and_grip(self) -> tuple[ArmsAsFound, JointGrip]:
        of_known = self.known, self._limits, self._plates.at(self._place)
        return ArmsAsFound(*of_known), joint_grip(*of_known)

    def with_arm_and_joint(self, prevalence: Prevalence, groups: Ints) -> UnitEvidence:
        """Return it as evidence, where so many faults are usual in each of these groups."""
        alone = self.alone(prevalence, groups)
        arms, grip = self._arms_and_grip
        return replace(alone, given_restraint=arms, given_grip=grip)

    def alone(self, prevalence: Prevalence, groups: Ints) -> UnitEvidence:
        """Return the same without what holds arm and joint."""
        return UnitEvidence(
            self.known,
            self._limits,
            None,
            prevalence,
            given_looks=self._looked,
            given_groups=groups,
        )


def bad_as_known(known: Known) -> NDArray[np.int8]:
    """Return 1 for a finding, 0 for none, -1 where not seen, shape (n_units, n_checks)."""
    exceedance = known.exceedance[list(PLAIN_CHECKS)].to_numpy(dtype=np.float64)
    return np.where(np.isnan(exceedance), -1, exceedance > 0).astype(np.int8)
