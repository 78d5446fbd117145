"""What re-work that hangs units anew would bring, drawn again and again.

The closed form of ``action_truth`` takes faults to be independent, and the chance at the mean
hazard. Where bad days bring many faults at once and some do a lot, both are wrong.
"""

import numpy as np

from demo_data.arrays import Codes, Flags, Floats
from demo_data.change_by_work import Change, change_of
from demo_data.fault_arrays import show_alike
from demo_data.hanging import draw_hanging
from demo_data.known_actions import OFF_SHAFT, RENEWS_BEARING, RENEWS_SEAL
from demo_data.plant_run import PlantRun
from demo_data.true_grip import draw_friction
from demo_data.true_hazard import SEAL, SLIP
from demo_data.truth import COLUMNS, HANGINGS, HORIZON_DAYS, Standing


def chances_after_hangings(run: PlantRun, standing: Standing) -> dict[int, dict[int, Floats]]:
    """Return the true chances of the year after re-work that takes units off their shafts.

    Parameters
    ----------
    run : PlantRun
        The plant on its last day.
    standing : Standing
        Units in service.

    Returns
    -------
    dict of dicts of float arrays, each of shape (units,)
        By action and failure mode; averaged over whether the work succeeds, days, and crews of the
        site.
    """
    rows, success = standing.rows, run.hazard.effects.success
    now = run.state.outcome[rows]
    changes = {int(a): change_of(run, int(a), standing) for a in np.flatnonzero(OFF_SHAFT)}
    chances = {a: {mode: np.zeros(len(rows)) for mode in COLUMNS} for a in changes}
    for hanging in range(HANGINGS):
        draws = run.chance.of("truth of work").at(rows, hanging)
        crew = run.crews.pick(draws, run.site[rows])
        times = run.ways.times(draws.normal("bad day"))
        fresh = draw_hanging(draws, run.crew_chances(rows, crew, times))
        friction = draw_friction(draws.normal("friction"))
        work, brings = draws.shares(("takes", "brings")).T
        for action, change in changes.items():
            taken = work < success[action]
            outcome = _after(now, fresh, change, taken, brings < change.success)
            for mode, mean in chances[action].items():
                new = (RENEWS_BEARING, RENEWS_SEAL, OFF_SHAFT)[mode][action]
                by_stage = run.hazard.by_stage(mode, rows, outcome, crew, friction)
                age = np.where(new & (taken | (mode == SLIP)), 0, standing.age[mode])
                likely = run.hazard.chance_within(mode, by_stage, age, HORIZON_DAYS)
                if mode == SEAL:
                    likely = np.where(standing.dripping & ~(new & taken), 1.0, likely)
                np.add(mean, likely / HANGINGS, out=mean)
    return chances


def _after(now: Codes, fresh: Codes, change: Change, taken: Flags, brought: Flags) -> Codes:
    """Return the outcomes after a hanging, shape (units, checks)."""
    after = np.where(change.brought & brought[:, None], np.int8(0), now)
    after = np.where(change.redrawn, fresh, after)
    after = np.where(change.cured & taken[:, None], np.int8(0), after)
    show_alike(after)
    return np.asarray(after)
