"""What each re-work would truly bring: averaged over whether it succeeds, and over the crew."""

from functools import cached_property

import numpy as np
import pandas as pd

from demo_data.arrays import Flags, Floats, Words
from demo_data.change_by_work import EACH, GOOD, Change, change_of
from demo_data.fault_arrays import (
    PAIRS,
    SEVERITY,
    Pair,
)
from demo_data.fault_table import APPLIES, CHECK_AT, CHECK_NAMES
from demo_data.hanging import outcome_chances
from demo_data.known_actions import (
    ACTION_AT,
    ACTION_NAMES,
    CURES,
    RENEWS_BEARING,
    RENEWS_SEAL,
)
from demo_data.plant_run import PlantRun
from demo_data.slips_after_work import slips_after
from demo_data.true_hazard import BEARING, SEAL, SLIP
from demo_data.truth import COLUMNS, Standing
from demo_data.work_drawn import chances_after_hangings

CREW_SHARE = np.array([0.5, 0.3, 0.2])
"""How the jobs of a site are shared among its crews."""


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


class _Prospects:
    """What hangings by the crews of each unit's site may bring."""

    def __init__(self, run: PlantRun, standing: Standing) -> None:
        self.run, self.rows = run, standing.rows
        self.outcome = run.state.outcome[self.rows]
        self.crews = run.crews.of_site[run.site[self.rows]]
        self.mounting = run.mounting[self.rows]
        self.chances = outcome_chances(run.fault_chance)

    def of_units(self, of_crews: Floats) -> Floats:
        """Pick what holds of each unit's crews and mounting, shape (units, crews, ...)."""
        return np.asarray(of_crews[self.crews, self.mounting[:, None]])

    @cached_property
    def of_pairs(self) -> list[Floats]:
        """Chances of the outcomes of both checks of each pair."""
        return [self.of_units(self.chances[:, :, [p.one, p.two]]) for p in PAIRS]


class _LogFactors:
    """Logs of the factors of each check for one mode, in one stage of a part's life."""

    def __init__(self, prospects: _Prospects, mode: int, does: float) -> None:
        self.prospects, self.mode, self.does = prospects, mode, does
        self.fault = does * prospects.run.hazard.fault[mode]
        self.factor = np.exp(self.fault)
        self.at = np.arange(len(CHECK_NAMES))[None, :]
        self.fresh = prospects.of_units(self._expected(prospects.chances))

    def _expected(self, chances: Floats) -> Floats:
        return np.asarray(np.log((chances * self.factor).sum(axis=-1)))

    def after(self, change: Change) -> list[Floats]:
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
    prospects: _Prospects, change: Change, mode: int, by_stage: list[_LogFactors]
) -> list[Floats]:
    """Shift of the log hazard if the action succeeds, and if not, shape (stages, units) each."""
    run = prospects.run
    habits = run.hazard.effects.crew[mode]
    own = habits[run.state.crew[prospects.rows]]
    theirs = habits[prospects.crews]
    faults = run.hazard.of_faults(mode, prospects.outcome)
    shifts: list[list[Floats]] = [[], []]
    for stage in by_stage:
        for shift, of_faults in zip(shifts, stage.after(change), strict=True):
            if change.off_shaft:
                then = np.log(np.exp(of_faults + theirs) @ CREW_SHARE)
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
    # a plain plant's truth keeps the closed form
    drawn = chances_after_hangings(run, standing) if run.ways.bad_days else {}
    slips = slips_after(run, standing, but_for=tuple(drawn))
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
        parts.append(part)
        if a in drawn:
            for mode, column in COLUMNS.items():
                part[column] = np.clip(drawn[a][mode], 0.0, 1.0)[can].astype(np.float32)
            continue
        part[COLUMNS[SLIP]] = slips[a][can].astype(np.float32)
        change = change_of(run, a, standing)
        for mode, by_stage in logs.items():
            column = COLUMNS[mode]
            taken, left = _shifts(prospects, change, mode, by_stage)
            renewed = bool(RENEWS_SEAL[a] if mode == SEAL else RENEWS_BEARING[a])
            better = standing.chance(mode, taken, new=renewed)
            mean = success[a] * better + (1 - success[a]) * standing.chance(mode, left)
            part[column] = np.clip(mean, 0.0, 1.0)[can].astype(np.float32)
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
