"""What may be found where nobody has looked, looked long ago, or re-work is said to have cured."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.states_of_the_arm import CLAMPED, METAL, ArmState
from scoring.contract import CHECK_BY_NAME, Seen
from scoring.handbook.condition import Evidence
from scoring.handbook.unit_evidence import any_reported_cured
from scoring.looking.assessed_fleet import AssessedFleet
from scoring.looking.cures_on_record import chance_that_cures_succeeded
from scoring.looking.what_a_look_finds import SHOWN_BY_LOOKS, Shown, values_found
from scoring.records import has_mounting, units_with

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

MISSING = CHECK_BY_NAME["isolator_stack"].allowed.index("isolator_missing")

NOT_SEEN, DUE_AGAIN, REPORTED_CURED = "not seen", "due to be looked at again", "reported cured"

HALF_FORGOTTEN_AFTER_DAYS = 3650.0
"""Days after which half of all good looks tell no more than no look; planning value of ours. [d]"""


def what_looks_may_find(assessed_fleet: AssessedFleet, state: Seen = Seen.STOPPED) -> pd.DataFrame:
    """Return what looks that tell something may find, and how likely.

    Parameters
    ----------
    assessed_fleet : AssessedFleet
        How the fleet stands.
    state : Seen
        The state of the machine in which it can be looked at.

    Returns
    -------
    DataFrame
        One row for each outcome of a look: ``unit`` (place in ``known.units``), ``check``,
        ``shows`` (the effect), ``why`` (not seen, due to be looked at again, reported cured),
        ``outcome`` (0 is good), ``chance`` [-] and ``value`` as in a table of walkdowns.

    Notes
    -----
    Where nobody has looked, states are as usual as the prevalence says. What is reported cured is
    good with the chance that such re-work succeeds; else its faults are as usual as the handbook
    has them among faults. A good look that is due again counts for less as it grows older: with the
    share 1 - 0.5^(age / 3650 days) it tells no more than no look, a planning value of ours.
    """
    fleet = _Fleet.of(assessed_fleet)
    parts = [
        _outcomes(shown, fleet)
        for shown in SHOWN_BY_LOOKS
        if CHECK_BY_NAME[shown.check].seen is state
    ]
    table = pd.concat([part for part in parts if len(part)] or parts[:1], ignore_index=True)
    return table.sort_values(["unit", "check", "outcome"], kind="stable", ignore_index=True)


@dataclass(frozen=True)
class _Fleet:
    """What the chances rest on."""

    assessed_fleet: AssessedFleet
    evidence: Evidence
    groups: Ints
    succeeded: pd.DataFrame

    @classmethod
    def of(cls, assessed_fleet: AssessedFleet) -> "_Fleet":
        assessment = assessed_fleet.assessment
        known = assessment.known
        succeeded = chance_that_cures_succeeded(
            assessed_fleet.assessor.timeline, known.as_of, assessed_fleet.success
        )
        return cls(
            assessed_fleet,
            Evidence(known, assessment.limits),
            assessment.prevalence.groups(known),
            succeeded.iloc[known.place].reset_index(drop=True),
        )

    def usual(self, shown: Shown) -> Floats:
        """Return how usual each state is at each unit where nobody has looked."""
        size = len(self.groups)
        if isinstance(shown.effect, ArmState):
            arms = self.assessed_fleet.assessment.prevalence.arms(self.groups)
            return arms.of(shown.effect, size)
        shares = self.assessed_fleet.assessment.prevalence.shares.get(shown.shows)
        if shares is None:
            return np.tile(shown.usual, (size, 1))
        of_groups: Floats = shares.reshape(-1, shares.shape[-1])[self.groups]
        return of_groups

    def where(self, shown: Shown) -> dict[str, Flags]:
        """Tell at which units a look would tell something, and why."""
        known, check = self.evidence.known, CHECK_BY_NAME[shown.check]
        here = units_with(shown, known.units)
        untold = here & ~_is_seen(shown, self.evidence)
        cured = any_reported_cured(known, shown.checks)
        due = np.zeros(len(here), dtype=bool)
        if check.due_after_days is not None:
            good = (known.exceedance[check.name] == 0).to_numpy()
            old = (self.age(shown) > check.due_after_days) & good
            due = old & has_mounting(known.units, check.critical_for) & here
        return {NOT_SEEN: untold & ~cured, REPORTED_CURED: untold & cured, DUE_AGAIN: due}

    def age(self, shown: Shown) -> Floats:
        """Return how old [d] the look that stands is."""
        known = self.evidence.known
        age: Floats = (known.as_of - known.seen_on[shown.check]).dt.days.to_numpy(np.float64)
        return age


def _is_seen(shown: Shown, evidence: Evidence) -> Flags:
    """Tell where what a look would show is known, by this check or by another.

    Too much squeeze shows that rubber is clamped; no clearance at all, or a missing isolator, that
    metal touches metal.
    """
    seen: Flags = ~np.isnan(shown.state(evidence))
    if shown.effect is CLAMPED:
        seen |= evidence.exceedance("isolator_squeeze_mm") > 0
    if shown.effect is METAL:
        seen |= evidence.value("smallest_clearance_mm") == 0
        seen |= evidence.exceedance("isolator_stack") == MISSING
    return seen


def _outcomes(shown: Shown, fleet: _Fleet) -> pd.DataFrame:
    usual, where = fleet.usual(shown), fleet.where(shown)
    chances = {
        NOT_SEEN: usual,
        REPORTED_CURED: _after_a_cure(shown, fleet),
        DUE_AGAIN: _forgotten(usual, fleet.age(shown)),
    }
    known, limits = fleet.evidence.known, fleet.evidence.limits.table
    parts = []
    for why, flags in where.items():
        unit, size = np.flatnonzero(flags), len(shown.states)
        rows, outcome = np.repeat(unit, size), np.tile(np.arange(size), len(unit))
        state = shown.states[outcome]
        of_units = known.units.iloc[rows]
        values = values_found(shown, state, limits.iloc[rows], of_units)
        parts.append(
            pd.DataFrame(
                {
                    "unit": rows,
                    "check": np.full(len(rows), shown.check, dtype=object),
                    "shows": np.full(len(rows), shown.shows, dtype=object),
                    "why": np.full(len(rows), why, dtype=object),
                    "outcome": outcome,
                    "chance": chances[why][rows, outcome],
                    "value": values,
                }
            )
        )
    table = pd.concat(parts, ignore_index=True)
    return table[table["value"].notna() & (table["chance"] > 0)]


def _after_a_cure(shown: Shown, fleet: _Fleet) -> Floats:
    succeeded = fleet.succeeded[list(shown.checks)].max(axis=1).fillna(0.0).to_numpy()
    faults = shown.usual[1:] / shown.usual[1:].sum()
    return np.column_stack([succeeded, np.outer(1 - succeeded, faults)])


def _forgotten(usual: Floats, age: Floats) -> Floats:
    share = 1 - 0.5 ** (np.nan_to_num(np.maximum(age, 0.0)) / HALF_FORGOTTEN_AFTER_DAYS)
    faults = usual[:, 1:] * share[:, np.newaxis]
    return np.column_stack([1 - faults.sum(axis=1), faults])
