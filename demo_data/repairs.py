"""Which re-work people choose for what they found, and what it truly changes."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from demo_data.arrays import Codes, Flags, Floats, Whole, Words
from demo_data.chance import Draws
from demo_data.fault_arrays import (
    GOOD_CUT,
    IS_DAMAGE,
    hung_anew,
    show_alike,
    stands_by_itself,
)
from demo_data.fault_model import Level
from demo_data.fault_table import CHECK_AT, CHECK_NAMES, FAULTS
from demo_data.fleet_state import FleetState
from demo_data.habits_of_a_plant import Habits
from demo_data.hanging import draw_hanging
from demo_data.known_actions import (
    ACTION_AT,
    ACTION_NAMES,
    IS_CLAMPED,
    OFF_SHAFT,
    RENEWS_BEARING,
    RENEWS_SEAL,
    are_cured,
    are_cured_by_cause,
    is_damage_cured,
    is_off_shaft,
    with_brought,
)
from demo_data.true_grip import draw_friction

_CURES = tuple(model.cure for model in FAULTS)
_USUAL = tuple(None if cure is None else ACTION_AT[cure.usual] for cure in _CURES)
_OTHER = tuple(None if cure is None else ACTION_AT[cure.other or cure.usual] for cure in _CURES)
USUAL_SHARE = np.array([1.0 if cure is None else cure.share for cure in _CURES])
NEEDS_OFF_SHAFT: Flags = np.array([at is not None and bool(OFF_SHAFT[at]) for at in _USUAL])

SHAFT_SEAT = "shaft_seat"
SEAT_WORN, SEAT_FRETTED = 0.35, 0.4
"""How often a slip leaves its seat worn, or fretted."""
SHAFT_RENEWED = 0.3
"""How often the shaft is renewed after a slip."""


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
    outboard : bool array, shape (jobs,)
        Whether a seal that is renewed is the outboard one.
    """

    rows: Whole
    day: Whole
    actions: Flags
    crew: Whole
    outboard: Flags

    def only(self, which: Flags | Whole) -> "Jobs":
        """Return some of the jobs."""
        return Jobs(
            self.rows[which],
            self.day[which],
            self.actions[which],
            self.crew[which],
            self.outboard[which],
        )


def choose_actions(
    draws: Draws, level: Codes, failed: tuple[Flags, Flags], mounting: Whole, ways: Habits
) -> Flags:
    """Choose re-work for what is on record.

    Parameters
    ----------
    draws : Draws
        Chance for these visits.
    level : int8 array, shape (visits, checks)
        Levels on record.
    failed : tuple of bool arrays, shape (visits,)
        Whether a leak, and whether a slip is on record.
    mounting : int array, shape (visits,)
        Mountings.
    ways : Habits
        How much is taken up.

    Returns
    -------
    bool array, shape (visits, actions)
        Most holds are cured at once; of the rest, what is worth the trouble.
    """
    worth = np.where(NEEDS_OFF_SHAFT, ways.taken_up_off_shaft, ways.taken_up)
    worth = np.where(level == Level.CORRECT, worth, 0)
    worth = np.where(level == Level.HOLD, ways.hold_taken_up, worth)
    taken_up = draws.of("taken up").shares(CHECK_NAMES) < worth
    # one draw a visit: faults that have the same two cures get the same one
    usual = draws.share("usual cure")[:, None] < USUAL_SHARE
    actions = np.zeros((len(level), len(ACTION_NAMES)), np.bool_)
    for k, (first, second) in enumerate(zip(_USUAL, _OTHER, strict=True)):
        if first is not None:
            actions[taken_up[:, k] & usual[:, k], first] = True
            actions[taken_up[:, k] & ~usual[:, k], second] = True
    leak, slip = failed
    actions[leak, ACTION_AT["renew_seal"]] = True
    actions |= after_a_slip(draws.of("slip"), slip, mounting)
    return with_brought(actions, mounting)


def after_a_slip(draws: Draws, slip: Flags, mounting: Whole) -> Flags:
    """Choose what is done about slips: the joint redone or the key renewed, at times the shaft.

    Parameters
    ----------
    draws : Draws
        Chance for these jobs.
    slip : bool array, shape (jobs,)
        Whether a joint slipped.
    mounting : int array, shape (jobs,)
        Mountings.

    Returns
    -------
    bool array, shape (jobs, actions)
    """
    actions = np.zeros((len(slip), len(ACTION_NAMES)), np.bool_)
    clamped = IS_CLAMPED[mounting]
    actions[slip & clamped, ACTION_AT["clean_and_refit"]] = True
    actions[slip & ~clamped, ACTION_AT["renew_key"]] = True
    new_shaft = draws.share("new shaft") < SHAFT_RENEWED
    actions[slip & new_shaft, ACTION_AT["renew_shaft"]] = True
    return actions


def damage_seats(draws: Draws, state: FleetState, rows: Whole) -> None:
    """Let joints that slip wear or fret their seats on the shaft; nothing gets better by it."""
    if SHAFT_SEAT not in CHECK_AT:
        return
    share, seat = draws.share("seat"), CHECK_AT[SHAFT_SEAT]
    becomes = np.where(share < SEAT_WORN, 2, np.where(share < SEAT_WORN + SEAT_FRETTED, 1, 0))
    state.outcome[rows, seat] = np.maximum(state.outcome[rows, seat], becomes).astype(np.int8)


def draw_positions(draws: Draws) -> NDArray[np.float32]:
    """Draw where in its outcome's range each measured value lies, shape (units, checks)."""
    drawn = draws.of("position").shares(CHECK_NAMES)
    return np.minimum(drawn, 1 - 2.0**-24).astype(np.float32)


def apply_actions(
    draws: Draws, state: FleetState, jobs: Jobs, success: Floats, fault_chance: Floats
) -> None:
    """Change the truth by re-work, and forget what no longer counts.

    Parameters
    ----------
    draws : Draws
        Chance for these jobs.
    state : FleetState
        Changed in place.
    jobs : Jobs
        What was done.
    success : float array, shape (actions,)
        Chance that each action succeeds.
    fault_chance : float array, shape (jobs, checks)
        Chance of each fault if the job's crew hangs the unit anew.
    """
    rows, day, actions, crew = jobs.rows, jobs.day, jobs.actions, jobs.crew
    taken = actions & (draws.of("takes").shares(ACTION_NAMES) < success)
    tried, cured, off = are_cured(actions), are_cured(taken), is_off_shaft(actions, jobs.outboard)

    fresh = draw_hanging(draws, fault_chance)
    good = draws.of("good again").shares(CHECK_NAMES) >= GOOD_CUT[:, 0]
    before = state.outcome[rows]
    damaged = IS_DAMAGE[np.arange(before.shape[1])[None, :], before]
    cured &= ~damaged | is_damage_cured(taken)
    cured &= ~(stands_by_itself(before) & are_cured_by_cause(taken))
    redrawn = off[:, None] & ~tried & hung_anew(before)
    after = np.where(cured, good.astype(np.int8), np.where(redrawn, fresh, before))
    show_alike(after)
    state.outcome[rows] = after
    moved = cured | redrawn
    anew = draw_positions(draws)
    state.position[rows] = np.where(moved, anew, state.position[rows])

    state.recorded[rows] = np.where(off[:, None] | tried, 0, state.recorded[rows])
    state.seen[rows] &= ~(off[:, None] | tried)
    state.crew[rows] = np.where(off, crew, state.crew[rows])
    state.hung_on[rows] = np.where(off, day, state.hung_on[rows])
    rubbing = draw_friction(draws.normal("friction"))
    state.friction[rows] = np.where(off, rubbing, state.friction[rows])
    state.slipped[rows] &= ~off
    state.slip_recorded[rows] &= ~off
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
