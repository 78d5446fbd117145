"""What each re-work would truly bring: averaged over whether it succeeds, and over the crew."""

import numpy as np
import pandas as pd

from demo_data.arrays import Flags, Floats, Words
from demo_data.fault_arrays import IS_DAMAGE, OUTCOMES, PAIRS, SEVERITY, hung_anew, stands_by_itself
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


def _chances_after(run: PlantRun, action: int, standing: Standing) -> tuple[Floats, Floats]:
    """Chance of each outcome if the action succeeds, and if not, by crew and kind of day.

    Shape (units, kinds of day x crews, checks, outcomes) each; one where it hangs nothing anew.
    """
    rows = standing.rows
    outcome, mounting = run.state.outcome[rows], run.mounting[rows]
    each, good = np.eye(OUTCOMES), np.eye(OUTCOMES)[0]
    left = each[outcome]
    damaged = IS_DAMAGE[np.arange(outcome.shape[1])[None, :], outcome]
    cures = CURES[action] & (~damaged | CURES_DAMAGE[action])
    cures &= ~(CURES_BY_CAUSE[action] & stands_by_itself(outcome))
    brought = np.zeros(len(CHECK_NAMES), np.bool_)
    if BRINGS[action].any():
        other = int(np.flatnonzero(BRINGS[action])[0])
        brought = CURES[other] & ~CURES[action]
        # what is brought takes or not by itself
        success = float(run.hazard.effects.success[other])
        with_screws = (IS_CLAMPED[mounting][:, None] & brought)[:, :, None]
        left = np.where(with_screws, success * good + (1 - success) * left, left)
    left = left[:, None]
    if OFF_SHAFT[action]:
        # where there are no screws to torque, nothing is brought and nothing of it applies
        redrawn = ~CURES[action] & ~brought & hung_anew(outcome)
        crews = run.crews.of_site[run.site[rows]]
        by_day = [
            outcome_chances(np.minimum(times * run.fault_chance, WORST_CHANCE))
            for times, _ in run.ways.kinds_of_day()
        ]
        fresh = np.concatenate([one[crews, mounting[:, None]] for one in by_day], axis=1)
        left = np.where(redrawn[:, None, :, None], fresh, left)
    return np.where(cures[:, None, :, None], good, left), left


def _log_factor(run: PlantRun, mode: int, chances: Floats, does: float) -> Floats:
    """Log of the expected factor of all checks, shape (units, crews); ``does`` of it counts."""
    fault = does * run.hazard.fault[mode]
    single = np.log((chances * np.exp(fault)).sum(axis=-1))
    total = single.sum(axis=-1)
    for effect, pair in zip(run.hazard.effects.pair[mode], PAIRS, strict=True):
        one, two = pair.one, pair.two
        together = np.exp(
            fault[one][:, None]
            + fault[two][None]
            + does * effect * np.outer(SEVERITY[one], SEVERITY[two])
        )
        joint = np.einsum("uca,ucb,ab->uc", chances[:, :, one], chances[:, :, two], together)
        total += np.log(joint) - single[:, :, one] - single[:, :, two]
    return np.asarray(total)


def _after(
    run: PlantRun,
    mode: int,
    action: int,
    standing: Standing,
    chances_after: tuple[Floats, Floats],
) -> tuple[Floats, Floats]:
    """Shift of the log hazard if the action succeeds, and if not, shape (stages, units) each."""
    rows = standing.rows
    habits = run.hazard.effects.crew[mode]
    own, crews = habits[run.state.crew[rows]], run.crews.of_site[run.site[rows]]
    faults = run.hazard.of_faults(mode, run.state.outcome[rows])
    days = run.ways.kinds_of_day()
    share = np.concatenate([share * CREW_SHARE for _, share in days])
    theirs = np.tile(habits[crews], len(days))
    shifts = []
    for chances in chances_after:
        by_stage = []
        for does in run.hazard.faults_do(mode):
            of_faults = _log_factor(run, mode, chances, does)
            if OFF_SHAFT[action]:
                then = np.log(np.exp(of_faults + theirs) @ share)
            else:
                then = of_faults[:, 0] + own
            by_stage.append(then - (does * faults + own))
        shifts.append(np.stack(by_stage))
    return shifts[0], shifts[1]


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
    parts: list[dict[str, Floats]] = []
    for a in range(len(ACTION_NAMES)):
        can = possible[:, a]
        part: dict[str, Floats] = {
            "unit": standing.rows[can].astype(np.float64),
            "action": np.full(int(can.sum()), float(a)),
        }
        part[COLUMNS[SLIP]] = slips[a][can].astype(np.float32)
        chances_after = _chances_after(run, a, standing)
        for mode in (BEARING, SEAL):
            column = COLUMNS[mode]
            taken, left = _after(run, mode, a, standing, chances_after)
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
