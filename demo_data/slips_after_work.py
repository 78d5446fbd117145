"""Whether a joint would slip after each re-work, drawn again and again: hangings differ a lot."""

import numpy as np

from demo_data.arrays import Codes, Flags, Floats
from demo_data.fault_arrays import IS_DAMAGE, OUTLASTS_HANGING, show_alike
from demo_data.hanging import draw_hanging
from demo_data.known_actions import (
    ACTION_NAMES,
    BRINGS,
    CURES,
    CURES_DAMAGE,
    IS_CLAMPED,
    OFF_SHAFT,
)
from demo_data.plant_run import PlantRun
from demo_data.true_grip import draw_friction
from demo_data.true_hazard import SLIP
from demo_data.truth import HANGINGS, HORIZON_DAYS, Standing


def slips_after(run: PlantRun, standing: Standing, but_for: tuple[int, ...] = ()) -> Floats:
    """Return the true chance of a slip in the year after each re-work.

    Parameters
    ----------
    run : PlantRun
        The plant on its last day.
    standing : Standing
        Units in service.
    but_for : tuple of int
        Actions that nobody asks about; left at 0.

    Returns
    -------
    float array, shape (actions, units)
        Averaged over whether the work succeeds, and over hangings by the crews of the site.
    """
    rows, site = standing.rows, run.site[standing.rows]
    success, mounting = run.hazard.effects.success, run.mounting[standing.rows]
    total = np.zeros((len(ACTION_NAMES), len(rows)))
    for hanging in range(HANGINGS):
        draws = run.chance.of("truth of slips").at(rows, hanging)
        crew = run.crews.pick(draws, site)
        fresh = draw_hanging(
            draws, run.crew_chances(rows, crew, run.ways.times(draws.normal("bad day")))
        )
        friction = draw_friction(draws.normal("friction"))
        for a in range(len(ACTION_NAMES)):
            if a in but_for or (not OFF_SHAFT[a] and hanging):
                continue  # nothing of it is drawn
            for taken, share in _ways(a, success):
                outcome = _after(run.state.outcome[rows], fresh, a, taken, IS_CLAMPED[mounting])
                anew = (
                    (crew, friction)
                    if OFF_SHAFT[a]
                    else (run.state.crew[rows], run.state.friction[rows])
                )
                log_hazard = run.hazard.log_hazard(SLIP, rows, outcome, *anew)
                age = np.zeros(len(rows)) if OFF_SHAFT[a] else standing.age[SLIP]
                chance = run.hazard.chance_within(SLIP, log_hazard, age, HORIZON_DAYS)
                if not OFF_SHAFT[a]:
                    chance = np.where(standing.slipped, 1.0, chance)
                total[a] += share * chance / (HANGINGS if OFF_SHAFT[a] else 1)
    return total


def _ways(action: int, success: Floats) -> list[tuple[Flags, float]]:
    """Return which of an action and what it brings may take, and how likely."""
    others = np.flatnonzero(BRINGS[action])
    ways = []
    for successes in np.ndindex(*([2] * (1 + len(others)))):
        taken, share = np.zeros(len(ACTION_NAMES), np.bool_), 1.0
        for one, succeeds in zip((action, *others), successes, strict=True):
            taken[one] = bool(succeeds)
            share *= float(success[one] if succeeds else 1 - success[one])
        if share > 0:
            ways.append((taken, share))
    return ways


def _after(now: Codes, fresh: Codes, action: int, taken: Flags, clamped: Flags) -> Codes:
    """Return the outcomes after an action, shape (units, checks)."""
    brought = CURES[BRINGS[action]].any(axis=0) & clamped[:, None]
    tried = CURES[action] | brought
    cured = (CURES[action] & taken[action]) | (CURES[taken & BRINGS[action]].any(axis=0) & brought)
    damaged = IS_DAMAGE[np.arange(now.shape[1])[None, :], now]
    cured = cured & (~damaged | (CURES_DAMAGE[action] & taken[action]))
    redrawn = OFF_SHAFT[action] & ~tried & ~OUTLASTS_HANGING
    after = np.where(cured, np.int8(0), np.where(redrawn, fresh, now)).astype(np.int8)
    show_alike(after)
    return after
