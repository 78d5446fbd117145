"""Run a plant month by month, all units at once."""

import numpy as np

from demo_data.arrays import Flags, Whole
from demo_data.chance import Draws, to_whole
from demo_data.failures import carry_out, draw_failures, look_after, record_and_repair, write_rework
from demo_data.fault_arrays import IS_CURED
from demo_data.fault_model import Level
from demo_data.fault_table import APPLIES
from demo_data.fleet_state import NEVER
from demo_data.hanging import draw_hanging, drift
from demo_data.plant_run import PlantRun
from demo_data.record_book import NOBODY
from demo_data.repairs import Jobs, choose_actions, draw_positions
from demo_data.seal_sides import is_outboard
from demo_data.service_lives import STEPS, months_between
from demo_data.true_grip import draw_friction
from scoring.contract.walkdowns import AFTER_START, PERIODIC, POST_INSTALL

HASTE_SKIPS = 0.15
"""How much less often the work of a hasty crew is inspected at all."""
LOOK_DAY = 27


def hang_before_records(run: PlantRun) -> None:
    """Draw how units stood on the first day that were hung before the records."""
    state, lives = run.state, run.lives
    old = np.flatnonzero(lives.hung_step < 0)
    draws = run.chance.of("before").at(old)
    outcome = draw_hanging(draws, run.crew_chances_on(old, state.crew[old], lives.hung[old]))
    months = np.minimum(months_between(lives.hung[old], np.zeros(len(old))), 24.0)
    state.outcome[old] = drift(draws, outcome, months, APPLIES[run.mounting[old]], run.ways.loosens)
    state.position[old] = draw_positions(draws)
    state.friction[old] = draw_friction(draws.normal("friction"))


def _hang(run: PlantRun, step: int) -> None:
    state, lives = run.state, run.lives
    rows = np.flatnonzero(lives.hung_step == step)
    draws = run.chance.of("hanging").at(rows)
    state.outcome[rows] = draw_hanging(
        draws, run.crew_chances_on(rows, state.crew[rows], lives.hung[rows])
    )
    state.position[rows] = draw_positions(draws)
    state.friction[rows] = draw_friction(draws.normal("friction"))
    moved = rows[lives.came_from[rows] >= 0]
    state.bearing_new_on[moved] = state.bearing_new_on[lives.came_from[moved]]
    state.seal_new_on[moved] = state.seal_new_on[lives.came_from[moved]]
    made = run.ways.post_install_made - HASTE_SKIPS * run.crews.haste[state.crew[rows]]
    looked_at, after = draws.shares(("looked at", "after")).T
    looked, after = rows[looked_at < made], after[looked_at < made]
    wait = np.minimum(lives.started[looked] - lives.hung[looked], 3)
    day = lives.hung[looked] + np.floor(after * (wait + 1)).astype(np.int64)
    state.clock[rows] = lives.hung[rows]
    run.visit(POST_INSTALL, looked, day, run.reach_while_hanging(looked))
    run.plan(looked, step)


def _rework(run: PlantRun, step: int) -> None:
    chance, state, lives = run.chance.of("rework"), run.state, run.lives
    due = np.flatnonzero((state.due <= step) & (lives.hung_step < step))
    state.due[due] = NEVER
    start = lives.step_start(step)[due] + chance.at(due, step).whole("day", 1, 5)
    day = np.maximum(start, state.clock[due] + 1)
    rows, day = due[day <= lives.last[due]], day[day <= lives.last[due]]
    urgent = (state.recorded[rows] * IS_CURED == Level.HOLD).any(axis=1)
    actions = choose_actions(
        chance.at(rows, day),
        state.recorded[rows],
        (state.leak_recorded[rows], state.slip_recorded[rows]),
        run.mounting[rows],
        run.ways,
    )
    some = actions.any(axis=1)
    rows, day, actions, urgent = rows[some], day[some], actions[some], urgent[some]
    draws = chance.at(rows, day)
    crew = run.crews.pick(draws, run.site[rows])
    jobs = Jobs(rows, day, actions, crew, is_outboard(run.chance, rows))
    carry_out(run, draws, jobs)
    write_rework(run, draws, jobs, np.full(len(rows), NOBODY))
    looked = draws.share("looked at") < np.where(urgent, 0.9, 0.5)
    look_after(run, jobs.only(looked), step)


def _rounds(run: PlantRun, draws: Draws, step: int, running: Flags, interval: Whole) -> None:
    state, lives, every = run.state, run.lives, np.arange(len(interval))
    draws = draws.of("round")
    since = step - np.maximum(lives.started_step, 0)
    new = lives.hung_step >= 0
    first_made, regular_made, late = draws.shares(("first", "regular", "day")).T
    first = running & new & (since == 1) & (first_made < run.ways.after_start_made)
    turn = (step + every * 7) % interval == 0
    regular = running & turn & ~first & ((since >= 3) | ~new)
    regular &= regular_made < run.ways.periodic_made
    for kind, going in ((AFTER_START, first), (PERIODIC, regular)):
        rows = np.flatnonzero(going)
        day = lives.step_start(step)[rows] + LOOK_DAY + to_whole(late[rows], 0, 2)
        can = (day > state.clock[rows]) & (day <= lives.last[rows]) & (day >= 0)
        can &= day >= lives.started[rows]
        rows, day = rows[can], day[can]
        run.visit(kind, rows, day, run.reach_in_service(draws.only(rows), rows, kind))
        run.plan(rows, step)


def simulate(run: PlantRun) -> None:
    """Run the plant from the first to the last day of its records.

    Parameters
    ----------
    run : PlantRun
        The plant; its state and its book change.
    """
    chance, state, lives = run.chance, run.state, run.lives
    every = np.arange(len(run.site))
    ways = run.ways
    interval = chance.at(every).whole("round", ways.shortest_round, ways.longest_round + 1)
    hang_before_records(run)
    for step in range(STEPS):
        _hang(run, step)
        _rework(run, step)
        hung = (lives.hung_step <= step) & (lives.step_start(step) <= lives.last)
        running = hung & (lives.started_step <= step)
        applies = APPLIES[run.mounting] & running[:, None]
        draws = chance.at(every, step)
        state.outcome = drift(draws, state.outcome, np.ones(len(hung)), applies, run.ways.loosens)
        run.book.unit_years += float(running.sum()) / 12
        record_and_repair(run, draw_failures(run, draws, step, running), step)
        _rounds(run, draws, step, running, interval)
