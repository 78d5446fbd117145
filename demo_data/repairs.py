"""Which re-work people choose for what they found, and what it truly changes."""

from dataclasses import dataclass

import numpy as np

from demo_data.arrays import Chance, Codes, Flags, Floats, Whole, Words
from demo_data.fault_arrays import GOOD_CUT, OF_SHAFT
from demo_data.fault_model import CHECK_AT, CHECK_NAMES, Level
from demo_data.fleet_state import FleetState
from demo_data.hanging import draw_hanging
from scoring.contract.mountings import CLAMPED, EVERY_MOUNTING
from scoring.contract.rework import ACTIONS, BEARING, SEAL

ACTION_NAMES: tuple[str, ...] = tuple(action.name for action in ACTIONS)
ACTION_AT: dict[str, int] = {name: i for i, name in enumerate(ACTION_NAMES)}

CURES: Flags = np.array([[check in a.cures for check in CHECK_NAMES] for a in ACTIONS])
BRINGS: Flags = np.array([[name in a.brings for name in ACTION_NAMES] for a in ACTIONS])
OFF_SHAFT: Flags = np.array([a.off_shaft for a in ACTIONS])
RENEWS_BEARING: Flags = np.array([BEARING in a.renews for a in ACTIONS])
RENEWS_SEAL: Flags = np.array([SEAL in a.renews for a in ACTIONS])
IS_CLAMPED: Flags = np.array([m in CLAMPED for m in EVERY_MOUNTING])

_CHOICES: dict[str, tuple[str, str, float]] = {
    "bore_condition": ("clean_and_refit", "clean_and_refit", 1.0),
    "clamp_seat_condition": ("clean_and_refit", "clean_and_refit", 1.0),
    "seated": ("reseat_on_shaft", "reseat_on_shaft", 1.0),
    "support_bushings": ("renew_support_bushings", "renew_support_bushings", 1.0),
    "engagement_mm": ("reseat_on_shaft", "renew_shaft", 0.6),
    "shaft_end": ("reseat_on_shaft", "renew_shaft", 0.6),
    "shaft_diameter_measured_mm": ("renew_shaft", "renew_shaft", 1.0),
    "shaft_runout_mm": ("true_shaft", "renew_shaft", 0.8),
    "key_condition": ("renew_key", "renew_key", 1.0),
    "retention": ("tighten_retention", "tighten_retention", 1.0),
    "torque_passes": ("retorque_in_passes", "retorque_in_passes", 1.0),
    "tightening_order": ("retorque_in_passes", "retorque_in_passes", 1.0),
    "final_torque_nm": ("retorque_in_passes", "retorque_in_passes", 1.0),
    "screws_low": ("retorque_in_passes", "retorque_in_passes", 1.0),
    "collar_gap_mm": ("reset_collar_gap", "reset_collar_gap", 1.0),
    "disc_offset_mm": ("recentre_disc", "recentre_disc", 1.0),
    "arm_bolts": ("tighten_arm_bolts", "tighten_arm_bolts", 1.0),
    "isolator_stack": ("replace_isolators", "restore_isolation", 0.7),
    "isolators_free": ("back_off_isolators", "replace_isolators", 0.75),
    "isolator_squeeze_mm": ("back_off_isolators", "replace_isolators", 0.75),
    "metal_contact": ("restore_isolation", "restore_clearance", 0.5),
    "smallest_clearance_mm": ("restore_clearance", "restore_clearance", 1.0),
    "arm_misset_mm": ("realign_arm", "realign_arm", 1.0),
    "arm_angle_deg": ("realign_arm", "realign_arm", 1.0),
    "breather": ("open_breather", "open_breather", 1.0),
    "oil_level": ("correct_oil_level", "correct_oil_level", 1.0),
    "guard": ("fit_guard", "fit_guard", 1.0),
}
"""Usual cure, the other cure, and how often the usual one is chosen."""

FIRST_CHOICE = np.array([ACTION_AT[_CHOICES[name][0]] for name in CHECK_NAMES])
OTHER_CHOICE = np.array([ACTION_AT[_CHOICES[name][1]] for name in CHECK_NAMES])
FIRST_SHARE = np.array([_CHOICES[name][2] for name in CHECK_NAMES])
NEEDS_OFF_SHAFT: Flags = OFF_SHAFT[FIRST_CHOICE]

HOLD_TAKEN_UP = 0.75
TAKEN_UP = 0.5
TAKEN_UP_OFF_SHAFT = 0.2


@dataclass(frozen=True)
class Jobs:
    """Re-work on some units, each of them once.

    Attributes
    ----------
    rows : int array, shape (jobs,)
        The units.
    day : int array, shape (jobs,)
        When. [d]
    actions : bool array, shape (jobs, actions)
        What was done.
    crew : int array, shape (jobs,)
        Who did it.
    """

    rows: Whole
    day: Whole
    actions: Flags
    crew: Whole

    def only(self, which: Flags | Whole) -> "Jobs":
        """Return some of the jobs."""
        return Jobs(self.rows[which], self.day[which], self.actions[which], self.crew[which])


def choose_actions(chance: Chance, level: Codes, leak: Flags, mounting: Whole) -> Flags:
    """Choose re-work for what is on record.

    Parameters
    ----------
    chance : numpy.random.Generator
        Source of chance.
    level : int8 array, shape (visits, checks)
        Levels on record.
    leak : bool array, shape (visits,)
        Whether a leak is on record.
    mounting : int array, shape (visits,)
        Mountings.

    Returns
    -------
    bool array, shape (visits, actions)
        Most holds are cured at once; of the rest, what is worth the trouble.
    """
    shape = level.shape
    worth = np.where(NEEDS_OFF_SHAFT, TAKEN_UP_OFF_SHAFT, TAKEN_UP)
    worth = np.where(level == Level.HOLD, HOLD_TAKEN_UP, np.where(level == Level.CORRECT, worth, 0))
    cured = chance.random(shape) < worth
    first = chance.random((shape[0], 1)) < FIRST_SHARE
    actions = np.zeros((shape[0], len(ACTIONS)), np.bool_)
    for k in range(shape[1]):
        actions[cured[:, k] & first[:, k], FIRST_CHOICE[k]] = True
        actions[cured[:, k] & ~first[:, k], OTHER_CHOICE[k]] = True
    actions[leak, ACTION_AT["renew_seal"]] = True
    return with_brought(actions, mounting)


def is_off_shaft(actions: Flags) -> Flags:
    """Whether the unit comes off the shaft, shape (visits,)."""
    return np.asarray((actions & OFF_SHAFT).any(axis=1))


def with_brought(actions: Flags, mounting: Whole) -> Flags:
    """Add what always comes with an action, where there are screws to torque."""
    brought = (actions.astype(np.int64) @ BRINGS.astype(np.int64)) > 0
    return actions | (brought & IS_CLAMPED[mounting][:, None])


def apply_actions(
    chance: Chance, state: FleetState, jobs: Jobs, takes: Floats, fault_chance: Floats
) -> None:
    """Change the truth by re-work, and forget what no longer counts.

    Parameters
    ----------
    chance : numpy.random.Generator
        Source of chance.
    state : FleetState
        Changed in place.
    jobs : Jobs
        What was done.
    takes : float array, shape (actions,)
        Chance that each action takes.
    fault_chance : float array, shape (jobs, checks)
        Chance of each fault if the job's crew hangs the unit anew.
    """
    rows, day, actions, crew = jobs.rows, jobs.day, jobs.actions, jobs.crew
    taken = actions & (chance.random(actions.shape) < takes)
    tried = (actions.astype(np.int64) @ CURES.astype(np.int64)) > 0
    cured = (taken.astype(np.int64) @ CURES.astype(np.int64)) > 0
    off = is_off_shaft(actions)

    fresh = draw_hanging(chance, fault_chance)
    good = (chance.random(fresh.shape) >= GOOD_CUT[:, 0]).astype(np.int8)
    before = state.outcome[rows]
    redrawn = off[:, None] & ~tried & ~OF_SHAFT
    after = np.where(cured, good, np.where(redrawn, fresh, before))
    short = after[:, CHECK_AT["engagement_mm"]]
    after[:, CHECK_AT["shaft_end"]] = short
    state.outcome[rows] = after
    moved = cured | redrawn
    anew = chance.random(fresh.shape, dtype=np.float32)
    state.position[rows] = np.where(moved, anew, state.position[rows])

    state.recorded[rows] = np.where(off[:, None] | tried, 0, state.recorded[rows])
    state.seen[rows] &= ~(off[:, None] | tried)
    state.crew[rows] = np.where(off, crew, state.crew[rows])
    state.hung_on[rows] = np.where(off, day, state.hung_on[rows])
    bearing, seal = (taken & RENEWS_BEARING).any(axis=1), (taken & RENEWS_SEAL).any(axis=1)
    state.bearing_new_on[rows] = np.where(bearing, day, state.bearing_new_on[rows])
    state.seal_new_on[rows] = np.where(seal, day, state.seal_new_on[rows])
    state.dripping[rows] &= ~seal
    state.leak_recorded[rows] &= ~(actions & RENEWS_SEAL).any(axis=1)


def actions_text(actions: Flags) -> Words:
    """Write actions as the contract does, ``;`` between them.

    Examples
    --------
    >>> from dataclasses import dataclass

    import numpy as np
    >>> done = np.zeros((1, len(ACTION_NAMES)), bool)
    >>> done[0, [ACTION_AT["renew_key"], ACTION_AT["fit_guard"]]] = True
    >>> list(actions_text(done))
    ['renew_key;fit_guard']
    """
    kinds, place = np.unique(actions, axis=0, return_inverse=True)
    texts = [";".join(np.array(ACTION_NAMES)[kind]) for kind in kinds]
    return np.array(texts, dtype=object)[place.ravel()]
