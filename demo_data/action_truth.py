"""What each re-work would truly bring: averaged over whether it succeeds, and over the crew."""

import numpy as np
import pandas as pd

from demo_data.arrays import Flags, Floats, Words
from demo_data.fault_arrays import IS_DAMAGE, OUTLASTS_HANGING, PAIRS, SEVERITY
from demo_data.fault_table import APPLIES, CHECK_AT, CHECK_NAMES
from demo_data.hanging import outcome_chances
from demo_data.known_actions import (
    ACTION_AT,
    ACTION_NAMES,
    BRINGS,
    CURES,
    CURES_DAMAGE,
    IS_CLAMPED,
    OFF_SHAFT,
    RENEWS_BEARING,
    RENEWS_SEAL,
)
from demo_data.plant_run import PlantRun
from demo_data.true_hazard import SEAL
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


def _expected_fresh(run: PlantRun, mode: int) -> tuple[Floats, Floats]:
    """Return the expected log factor by crew, mounting and check; and pairs' beyond their two."""
    chances = outcome_chances(run.fault_chance)
    single = np.log((chances * np.exp(run.hazard.fault[mode])).sum(axis=-1))
    fault, beyond = run.hazard.fault[mode], np.zeros(single.shape[:2])
    for effect, pair in zip(run.hazard.effects.pair[mode], PAIRS, strict=True):
        one, two = pair.one, pair.two
        together = np.exp(
            fault[one][:, None] + fault[two][None] + effect * np.outer(SEVERITY[one], SEVERITY[two])
        )
        joint = np.einsum("cma,cmb,ab->cm", chances[:, :, one], chances[:, :, two], together)
        beyond += np.log(joint) - single[:, :, one] - single[:, :, two]
    return single, beyond


def _after(run: PlantRun, mode: int, action: int, standing: Standing) -> tuple[Floats, Floats]:
    """Shift of the log hazard if the action succeeds, and if it does not, shape (units,) each."""
    rows = standing.rows
    outcome, mounting = run.state.outcome[rows], run.mounting[rows]
    at = np.arange(len(CHECK_NAMES))[None, :]
    now = run.hazard.fault[mode][at, outcome]
    cures = CURES[action] & (~IS_DAMAGE[at, outcome] | CURES_DAMAGE[action])
    brought = np.zeros(len(CHECK_NAMES), np.bool_)
    success_brought = 1.0
    if BRINGS[action].any():
        other = int(np.flatnonzero(BRINGS[action])[0])
        brought = CURES[other] & ~CURES[action]
        success_brought = float(run.hazard.effects.success[other])
    # what is brought takes or not by itself: its expected multiplier
    mixed = np.log(success_brought + (1 - success_brought) * np.exp(now))
    with_screws = IS_CLAMPED[mounting][:, None] & brought
    shift = np.where(with_screws, mixed - now, 0.0).sum(axis=1)
    pair_now = run.hazard.of_pair(mode, outcome)
    pair_gone = any(CURES[action, pair.one] or CURES[action, pair.two] for pair in PAIRS)
    if OFF_SHAFT[action]:
        redrawn = ~CURES[action] & ~brought & ~OUTLASTS_HANGING
        # where there are no screws to torque, nothing is brought and nothing of it applies
        single, pair_extra = _expected_fresh(run, mode)
        fresh = (single * redrawn).sum(axis=-1) + pair_extra
        crews = run.crews.of_site[run.site[rows]]
        habits = run.hazard.effects.crew[mode]
        left = np.exp(fresh[crews, mounting[:, None]] + habits[crews]) @ CREW_SHARE
        shift = shift + np.log(left) - habits[run.state.crew[rows]] - pair_now
        shift = shift - np.where(redrawn, now, 0.0).sum(axis=1)
    cured = np.where(cures, now, 0.0).sum(axis=1)
    taken = shift - cured - (pair_now if pair_gone and not OFF_SHAFT[action] else 0.0)
    return taken, shift


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
        ``unit_id``, ``action``, ``p_low_speed_bearing``, ``p_seal_leak``.
    """
    possible = possible_actions()[run.mounting[standing.rows]]
    success = run.hazard.effects.success
    parts: list[dict[str, Floats]] = []
    for a in range(len(ACTION_NAMES)):
        can = possible[:, a]
        part: dict[str, Floats] = {
            "unit": standing.rows[can].astype(np.float64),
            "action": np.full(int(can.sum()), float(a)),
        }
        for mode, column in COLUMNS.items():
            taken, left = _after(run, mode, a, standing)
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
