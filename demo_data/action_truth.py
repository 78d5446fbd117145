"""What each re-work would truly bring: averaged over whether it succeeds, and over the crew."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import pandas as pd

from demo_data.arrays import Flags, Floats, Words
from demo_data.fault_arrays import (
    IS_DAMAGE,
    OUTCOMES,
    PAIRS,
    SEVERITY,
    Pair,
    hung_anew,
    stands_by_itself,
)
from demo_data.fault_table import APPLIES, CHECK_AT, CHECK_NAMES
from demo_data.hanging import WORST_CHANCE, outcome_chances
from demo_data.known_actions import (
    ACTION_AT,
    ACTION_NAMES,
    BRINGS,
    CURES,
    CURES_BY_CAUSE,
    CURES_DAMAGE,
    IS_CLAMPED,
    OFF_SHAFT,
    RENEWS_BEARING,
    RENEWS_SEAL,
)
from demo_data.plant_run import PlantRun
from demo_data.slips_after_work import slips_after
from demo_data.true_hazard import BEARING, SEAL, SLIP
from demo_data.truth import COLUMNS, Standing

CREW_SHARE = np.array([0.5, 0.3, 0.2])
"""How the jobs of a site are shared among its crews."""

EACH = np.eye(OUTCOMES)
"""Chances of outcomes where one is certain, one row each."""
GOOD = EACH[0]


def possible_actions() -> Flags:
    """Return whether an action makes sense on a mounting, shape (mountings, actions).

    Examples
    --------
    >>> possible_actions()[0, ACTION_NAMES.index("retorque_in_passes")]
    np.False_
    """
    renews = RENEWS_BEARING | RENEWS_SEAL
    cures = (APPLIES[:, None, :] & CURES[None]).any(axis=2)
    fits = cures | renews
    if "support_bushings" in CHECK_AT:
        own_bushings = APPLIES[:, CHECK_AT["support_bushings"]]
        fits[:, ACTION_AT["renew_support_bushings"]] &= own_bushings
    return np.asarray(fits)


@dataclass(frozen=True)
class _Change:
    """What an action does to the checks of units, shape (units, checks) each.

    Attributes
    ----------
    cured, redrawn, brought : bool array
        What is cured if it succeeds, what the next hanging draws anew, and what another action that
        comes with it cures, if that one takes.
    success : float
        How likely that is.
    """

    cured: Flags
    redrawn: Flags | None
    brought: Flags
    success: float

    def left(self, now: Floats) -> Floats:
        """Return the chances of outcomes after what is brought, of certain ones or of any."""
        return np.asarray(self.success * GOOD + (1 - self.success) * now)

    def apply(
        self, checks: slice | list[int], now: Floats, brought: Floats, fresh: Floats, good: Floats
    ) -> tuple[Floats, Floats]:
        """Return what holds of some checks if the action succeeds, and if not.

        Parameters
        ----------
        checks : slice or list of int
            Which checks.
        now, brought : float array, shape (units, checks, ...)
            What holds now, and after what is brought.
        fresh : float array, shape (units, kinds of day x crews, checks, ...)
            What holds once a unit is hung anew.
        good : float array, shape (checks, ...) or less
            What holds of a cured check.

        Returns
        -------
        tuple of float arrays, shape (units, kinds of day x crews, checks, ...)
            One kind where nothing is hung anew.
        """

        def mask(which: Flags) -> Flags:
            return which[:, checks].reshape(now.shape[:2] + (1,) * (now.ndim - 2))

        left = now
        if self.brought.any():
            left = np.where(mask(self.brought), brought, left)
        left = left[:, None]
        if self.redrawn is not None:
            left = np.where(mask(self.redrawn)[:, None], fresh, left)
        return np.where(mask(self.cured)[:, None], good, left), left


def _change_of(run: PlantRun, action: int, standing: Standing) -> _Change:
    rows = standing.rows
    outcome, mounting = run.state.outcome[rows], run.mounting[rows]
    damaged = IS_DAMAGE[np.arange(outcome.shape[1])[None, :], outcome]
    cures = CURES[action] & (~damaged | CURES_DAMAGE[action])
    cures &= ~(CURES_BY_CAUSE[action] & stands_by_itself(outcome))
    brought, success = np.zeros(len(CHECK_NAMES), np.bool_), 0.0
    if BRINGS[action].any():
        other = int(np.flatnonzero(BRINGS[action])[0])
        brought = CURES[other] & ~CURES[action]
        # what is brought takes or not by itself
        success = float(run.hazard.effects.success[other])
    # where there are no screws to torque, nothing is brought and nothing of it applies
    redrawn = ~CURES[action] & ~brought & hung_anew(outcome) if OFF_SHAFT[action] else None
    return _Change(cures, redrawn, IS_CLAMPED[mounting][:, None] & brought, success)


class _Prospects:
    """What hangings by the crews of each unit's site may bring, on a few kinds of day."""

    def __init__(self, run: PlantRun, standing: Standing) -> None:
        self.run, self.rows = run, standing.rows
        self.outcome = run.state.outcome[self.rows]
        self.crews = run.crews.of_site[run.site[self.rows]]
        self.mounting = run.mounting[self.rows]
        days = run.ways.kinds_of_day()
        self.by_day = [
            outcome_chances(np.minimum(times * run.fault_chance, WORST_CHANCE)) for times, _ in days
        ]
        self.share = np.concatenate([share * CREW_SHARE for _, share in days])

    def of_units(self, by_day: list[Floats]) -> Floats:
        """Pick what holds of each unit's crews and mounting, shape (units, days x crews, ...)."""
        return np.concatenate([one[self.crews, self.mounting[:, None]] for one in by_day], axis=1)

    @cached_property
    def of_pairs(self) -> list[Floats]:
        """Chances of the outcomes of both checks of each pair."""
        return [self.of_units([day[:, :, [p.one, p.two]] for day in self.by_day]) for p in PAIRS]


class _LogFactors:
    """Logs of the factors of each check for one mode, in one stage of a part's life."""

    def __init__(self, prospects: _Prospects, mode: int, does: float) -> None:
        self.prospects, self.mode, self.does = prospects, mode, does
        self.fault = does * prospects.run.hazard.fault[mode]
        self.factor = np.exp(self.fault)
        self.at = np.arange(len(CHECK_NAMES))[None, :]
        self.fresh = prospects.of_units([self._expected(day) for day in prospects.by_day])

    def _expected(self, chances: Floats) -> Floats:
        return np.asarray(np.log((chances * self.factor).sum(axis=-1)))

    def after(self, change: _Change) -> list[Floats]:
        """Return the sum over checks if the action succeeds, and if not, shape (units, crews)."""
        outcome = self.prospects.outcome
        now, brought = (
            self._expected(chances[:, None]).T[self.at, outcome]
            for chances in (EACH, change.left(EACH))
        )
        good = self._expected(GOOD)
        singles = change.apply(slice(None), now, brought, self.fresh, good)
        totals = [single.sum(axis=-1) for single in singles]
        of_pairs = self.prospects.of_pairs
        effects = self.prospects.run.hazard.effects.pair[self.mode]
        for effect, pair, fresh in zip(effects, PAIRS, of_pairs, strict=True):
            both = [pair.one, pair.two]
            as_it_is = EACH[outcome[:, both]]
            chances = change.apply(both, as_it_is, change.left(as_it_is), fresh, GOOD)
            for which, single in enumerate(singles):
                joint = self._together(effect, pair, chances[which])
                totals[which] += joint - single[:, :, pair.one] - single[:, :, pair.two]
        return totals

    def _together(self, effect: float, pair: Pair, chances: Floats) -> Floats:
        together = np.exp(
            self.fault[pair.one][:, None]
            + self.fault[pair.two][None]
            + self.does * effect * np.outer(SEVERITY[pair.one], SEVERITY[pair.two])
        )
        joint = np.einsum("uca,ucb,ab->uc", chances[:, :, 0], chances[:, :, 1], together)
        return np.asarray(np.log(joint))


def _shifts(
    prospects: _Prospects, change: _Change, mode: int, by_stage: list[_LogFactors]
) -> list[Floats]:
    """Shift of the log hazard if the action succeeds, and if not, shape (stages, units) each."""
    run = prospects.run
    habits = run.hazard.effects.crew[mode]
    own = habits[run.state.crew[prospects.rows]]
    theirs = np.tile(habits[prospects.crews], len(prospects.by_day))
    faults = run.hazard.of_faults(mode, prospects.outcome)
    shifts: list[list[Floats]] = [[], []]
    for stage in by_stage:
        for shift, of_faults in zip(shifts, stage.after(change), strict=True):
            if change.redrawn is not None:
                then = np.log(np.exp(of_faults + theirs) @ prospects.share)
            else:
                then = of_faults[:, 0] + own
            shift.append(then - (stage.does * faults + own))
    return [np.stack(shift) for shift in shifts]


def action_truth(run: PlantRun, standing: Standing, units: Words) -> pd.DataFrame:
    """Return the true chances after each re-work that makes sense, one row a unit and action.

    Parameters
    ----------
    run : PlantRun
        The plant on its last day.
    standing : Standing
        Units in service.
    units : object array, shape (units,)
        Keys of the units.

    Returns
    -------
    pandas.DataFrame
        ``unit_id``, ``action``, ``p_low_speed_bearing``, ``p_seal_leak``, ``p_joint_slip``.
    """
    possible = possible_actions()[run.mounting[standing.rows]]
    success = run.hazard.effects.success
    slips = slips_after(run, standing)
    prospects = _Prospects(run, standing)
    logs = {
        mode: [_LogFactors(prospects, mode, does) for does in run.hazard.faults_do(mode)]
        for mode in (BEARING, SEAL)
    }
    parts: list[dict[str, Floats]] = []
    for a in range(len(ACTION_NAMES)):
        can = possible[:, a]
        part: dict[str, Floats] = {
            "unit": standing.rows[can].astype(np.float64),
            "action": np.full(int(can.sum()), float(a)),
        }
        part[COLUMNS[SLIP]] = slips[a][can].astype(np.float32)
        change = _change_of(run, a, standing)
        for mode, by_stage in logs.items():
            column = COLUMNS[mode]
            taken, left = _shifts(prospects, change, mode, by_stage)
            renewed = bool(RENEWS_SEAL[a] if mode == SEAL else RENEWS_BEARING[a])
            better = standing.chance(mode, taken, new=renewed)
            mean = success[a] * better + (1 - success[a]) * standing.chance(mode, left)
            part[column] = np.clip(mean, 0.0, 1.0)[can].astype(np.float32)
        parts.append(part)
    table = {name: np.concatenate([part[name] for part in parts]) for name in parts[0]}
    unit, action = table["unit"].astype(np.int64), table["action"].astype(np.int64)
    order = np.lexsort((action, unit))
    return (
        pd.DataFrame(
            {
                "unit_id": units[unit],
                "action": np.array(ACTION_NAMES, dtype=object)[action],
                **{column: table[column] for column in COLUMNS.values()},
            },
        )
        .iloc[order]
        .reset_index(drop=True)
    )
