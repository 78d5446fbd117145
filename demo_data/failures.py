"""One step of failures: who fails, when, and how it is repaired."""

from dataclasses import dataclass
from enum import IntEnum

import numpy as np

from demo_data.arrays import Flags, Whole
from demo_data.chance import Draws, to_whole
from demo_data.known_actions import ACTION_AT, ACTION_NAMES, IS_CLAMPED, with_brought
from demo_data.plant_run import PlantRun
from demo_data.record_book import NOBODY, recorded_late
from demo_data.repairs import Jobs, after_a_slip, apply_actions, damage_seats
from demo_data.seal_sides import is_outboard
from demo_data.service_lives import DAYS_A_STEP
from demo_data.true_effects import MODES
from demo_data.true_hazard import BEARING, SEAL, SLIP
from scoring.contract.walkdowns import AFTER_REWORK


class Mode(IntEnum):
    """Failure modes in the contract's order."""

    BEARING = 0
    SEAL = 1
    SLIP = 2
    OTHER = 3


OTHER_A_YEAR = 0.006
NOTICED_LEAKS, NOTICED_SLIPS = 0.96, 0.95
REPAIR_NOT_WRITTEN = np.array([0.12, 0.04, 0.3, 1.0])
LOOKED_AT_AFTER = np.array([0.8, 0.3, 0.7, 0.0])
FIRST_DAY, LAST_DAY = 7, 25
REPAIR_WITHIN = np.array([0, 0, 0, 1, 1, 2])


@dataclass(frozen=True)
class Failed:
    """Units that failed in a step: one failure each."""

    rows: Whole
    mode: Whole
    day: Whole


def draw_failures(run: PlantRun, draws: Draws, step: int, running: Flags) -> Failed:
    """Draw at most one failure a unit in a step.

    Parameters
    ----------
    run : PlantRun
        The plant.
    draws : Draws
        Chance for all units in this step.
    step : int
        The step.
    running : bool array, shape (units,)
        Whether a unit ran in this step.

    Returns
    -------
    Failed
        Units, modes and days; leaks and slips that nobody noticed are left standing, not returned.
    """
    state, lives = run.state, run.lives
    rows = np.flatnonzero(running)
    draws = draws.of("failure").only(rows)
    start = lives.step_start(step)[rows]
    on_day, other, *of_mode = draws.shares(("day", "other", *MODES)).T
    day = start + to_whole(on_day, FIRST_DAY, LAST_DAY + 1)
    day = np.maximum(day, state.clock[rows] + 1)
    in_time = (day <= lives.last[rows]) & (day > lives.started[rows]) & (day >= 0)
    drawn = np.full(len(rows), NOBODY)
    for mode in (SLIP, SEAL, BEARING):
        age = np.maximum(start - state.part_new_on(mode)[rows], 0)
        likely = run.hazard.chance_within(mode, run.by_stage(mode, rows), age, DAYS_A_STEP)
        fails = of_mode[mode] < likely
        if mode == SEAL:
            fails &= ~state.dripping[rows]
        if mode == SLIP:
            fails &= ~state.slipped[rows]
        drawn = np.where(fails, mode, drawn)
    drawn = np.where((other < OTHER_A_YEAR / 12) & (drawn == NOBODY), Mode.OTHER, drawn)
    happened = in_time & (drawn != NOBODY)
    run.book.failures += np.bincount(drawn[happened], minlength=4)

    leaks = np.flatnonzero(happened & (drawn == Mode.SEAL))
    overlooked = leaks[draws.only(leaks).share("overlooked") >= NOTICED_LEAKS]
    state.dripping[rows[overlooked]] = True
    slips = np.flatnonzero(happened & (drawn == Mode.SLIP))
    damage_seats(draws.only(slips), state, rows[slips])
    unnoticed = slips[draws.only(slips).share("unnoticed") >= NOTICED_SLIPS]
    state.slipped[rows[unnoticed]] = True
    known = happened
    known[overlooked] = known[unnoticed] = False
    return Failed(rows[known], drawn[known], day[known])


def _repair_actions(run: PlantRun, failed: Failed, draws: Draws) -> Flags:
    actions = np.zeros((len(failed.rows), len(ACTION_NAMES)), np.bool_)
    clamped = IS_CLAMPED[run.mounting[failed.rows]]
    actions[failed.mode == Mode.BEARING, ACTION_AT["renew_bearing"]] = True
    actions[failed.mode == Mode.SEAL, ACTION_AT["renew_seal"]] = True
    slip = failed.mode == Mode.SLIP
    actions |= after_a_slip(draws, slip, run.mounting[failed.rows])
    actions = with_brought(actions, run.mounting[failed.rows])
    # new bearings on a clamped joint: most crews write down that they torqued it again
    recorded = draws.share("torqued") < 0.3
    torqued = (failed.mode == Mode.BEARING) & clamped & recorded
    actions[torqued, ACTION_AT["retorque_in_passes"]] = True
    return actions


def record_and_repair(run: PlantRun, failed: Failed, step: int) -> None:
    """Write failures down, repair them, and look at some of the repairs.

    Parameters
    ----------
    run : PlantRun
        The plant; its state changes.
    failed : Failed
        What failed in this step.
    step : int
        The step.
    """
    state, lives = run.state, run.lives
    rows, day = failed.rows, failed.day
    draws = run.chance.of("repair").at(rows, day)
    crew = run.crews.pick(draws, run.site[rows])
    words = ("within", "written", "named", "told", "looked at")
    within, written_down, named, recorded, looked_at = draws.shares(words).T
    wait = REPAIR_WITHIN[to_whole(within, 0, len(REPAIR_WITHIN))]
    repaired = np.minimum(failed.day + wait, lives.last[rows])
    written = written_down >= REPAIR_NOT_WRITTEN[failed.mode]
    # a part is renewed, or a joint redone, whether or not a re-work row says so
    renewed = written | (failed.mode != Mode.OTHER)
    is_named = (failed.mode == Mode.BEARING) | (named < 0.85)
    event = run.book.events.add(
        unit=rows,
        day=failed.day,
        mode=failed.mode,
        crew=np.where(is_named, crew, NOBODY),
        written=recorded_late(draws, day, lives.days - 1),
        stretch=np.exp(0.35 * draws.normal("stretch")),
        recorded=recorded < 0.7,
    )
    state.clock[rows] = failed.day
    actions = _repair_actions(run, failed, draws)
    state.dripping[rows] |= failed.mode == Mode.SEAL
    # nobody takes a unit off its shaft and writes nothing down
    outboard = is_outboard(run.chance, rows) | ~written
    jobs = Jobs(rows, repaired, actions, crew, outboard)
    carry_out(run, draws.only(renewed), jobs.only(renewed))
    write_rework(run, draws.of("rework").only(written), jobs.only(written), event[written])
    looked = written & (looked_at < LOOKED_AT_AFTER[failed.mode])
    look_after(run, jobs.only(looked), step)


def carry_out(run: PlantRun, draws: Draws, jobs: Jobs) -> None:
    """Do re-work, written down or not."""
    fault_chance = run.crew_chances_on(jobs.rows, jobs.crew, jobs.day)
    apply_actions(draws, run.state, jobs, run.hazard.effects.success, fault_chance)


def write_rework(run: PlantRun, draws: Draws, jobs: Jobs, event: Whole) -> None:
    """Write re-work down, with the events that it repaired."""
    rows, day = jobs.rows, jobs.day
    run.state.clock[rows] = np.maximum(run.state.clock[rows], day)
    named, recorded = draws.shares(("named", "told")).T
    run.book.rework.add(
        unit=rows,
        day=day,
        actions=jobs.actions,
        outboard=jobs.outboard,
        crew=np.where(named < 0.92, jobs.crew, NOBODY),
        event=event,
        written=recorded_late(draws, day, run.lives.days - 1),
        stretch=np.exp(0.3 * draws.normal("stretch")),
        recorded=recorded < 0.75,
    )


def look_after(run: PlantRun, jobs: Jobs, step: int) -> None:
    """Walk units down after re-work, the same day or the next."""
    seen_on = jobs.day + run.chance.of(AFTER_REWORK).at(jobs.rows, jobs.day).whole("later", 0, 2)
    can = seen_on <= run.lives.last[jobs.rows]
    jobs, seen_on = jobs.only(can), seen_on[can]
    reach = run.reach_after_rework(jobs.rows, jobs.actions, jobs.outboard)
    run.visit(AFTER_REWORK, jobs.rows, seen_on, reach)
    run.plan(jobs.rows, step)
