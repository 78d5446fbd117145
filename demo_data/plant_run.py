"""One plant in the making: what stays the same during a run, and the visits made in it."""

from dataclasses import dataclass

import numpy as np

from demo_data.arrays import Flags, Floats, Whole
from demo_data.chance import Chance, Draws, to_whole
from demo_data.crews import Crews
from demo_data.fault_arrays import IS_CURED, IS_FAULT
from demo_data.fault_model import Level
from demo_data.fault_table import CHECK_NAMES
from demo_data.fleet_state import FleetState
from demo_data.habits_of_a_plant import Habits
from demo_data.hanging import WORST_CHANCE
from demo_data.inspections import (
    BEHIND_GUARD,
    HANGING_ONLY,
    HIDES_OTHERS,
    NEEDS_INSTRUMENT,
    ONCE_RUN,
    RUNNING_ONLY,
    SEEN_DURING,
    THROUGH_A_GUARD,
    Visits,
    look,
    put_on_record,
)
from demo_data.known_actions import are_cured, is_off_shaft
from demo_data.measured_values import Yardsticks
from demo_data.record_book import RecordBook, recorded_late
from demo_data.service_lives import ServiceLives
from demo_data.symptoms import (
    DRIPPING,
    MOVED,
    running_temperature,
    seal_weep,
    vibration,
    witness_mark,
)
from demo_data.true_hazard import BEARING, SEAL, Hazard
from scoring.contract.walkdowns import AFTER_REWORK, AFTER_START, PERIODIC, POST_INSTALL

KINDS = (POST_INSTALL, AFTER_START, PERIODIC, AFTER_REWORK)
STOPPED = {POST_INSTALL: 1.0, AFTER_REWORK: 1.0, AFTER_START: 0.75, PERIODIC: 0.88}
HANGING_KINDS = (POST_INSTALL, AFTER_REWORK)
HASTE_HIDES = 0.6
"""Part of a crew's haste that comes off the log odds of seeing its work."""
GLANCE = 0.3
"""Part of the usual attention that checks get which the re-work did not touch."""
SEEN_MARK = 0.8
"""How often a witness mark is looked at, where there is one."""
SEEN_SYMPTOM = {"seal_weep": 0.75, "running_temperature_c": 0.55, "vibration_mm_s": 0.35}
"""How often each symptom is looked at, where it can be."""


@dataclass(frozen=True)
class PlantRun:
    """What stays the same during a run.

    Attributes
    ----------
    chance : Chance
        Source of chance of the run.
    lives : ServiceLives
        When each unit serves.
    site, mounting : int array, shape (units,)
        Site and mounting.
    has : bool array, shape (units, checks)
        Whether a unit has what each check looks at.
    ambient : float array, shape (units,)
        Temperature around it. [°C]
    marks : bool array, shape (units,)
        Whether a witness mark is painted across its shaft and hub.
    measures : bool array, shape (units,)
        Whether its people own a dial indicator, and use it.
    crews : Crews
        Who hangs, repairs and looks.
    ways : Habits
        How they do.
    fault_chance : float array, shape (crews, mountings, checks)
        Chance of each fault at hanging.
    hazard : Hazard
        The true hazard.
    usual_hazard : float array, shape (2,)
        Mean log hazard of bearings and seals, against which symptoms show.
    yardsticks : Yardsticks
        Scales of measured values.
    state : FleetState
        What changes.
    book : RecordBook
        What is written down.
    """

    chance: Chance
    lives: ServiceLives
    site: Whole
    mounting: Whole
    has: Flags
    ambient: Floats
    marks: Flags
    measures: Flags
    crews: Crews
    ways: Habits
    fault_chance: Floats
    hazard: Hazard
    usual_hazard: Floats
    yardsticks: Yardsticks
    state: FleetState
    book: RecordBook

    def log_hazard(self, mode: int, rows: Whole) -> Floats:
        """Return the true log hazard [log 1/a] of some units now."""
        state = self.state
        return self.hazard.log_hazard(
            mode, rows, state.outcome[rows], state.crew[rows], state.friction[rows]
        )

    def by_stage(self, mode: int, rows: Whole) -> Floats:
        """Return the same in each stage of a part's life, shape (stages, rows)."""
        state = self.state
        return self.hazard.by_stage(
            mode, rows, state.outcome[rows], state.crew[rows], state.friction[rows]
        )

    def crew_chances(self, rows: Whole, crew: Whole, times: Floats) -> Floats:
        """Return the chance of each fault if these crews hang these units.

        Parameters
        ----------
        rows, crew : int array, shape (rows,)
            Units and crews.
        times : float array, shape (rows,)
            How many times the usual faults the day brings.

        Returns
        -------
        float array, shape (rows, checks)
        """
        usual = self.fault_chance[crew, self.mounting[rows]] * self.has[rows]
        return np.minimum(usual * times[:, None], WORST_CHANCE)

    def crew_chances_on(self, rows: Whole, crew: Whole, day: Whole) -> Floats:
        """Return the same on given days [d]; a bad one is bad for all that hang at a site."""
        of_day = self.chance.of("bad days").at(self.site[rows], day).normal("faults")
        return self.crew_chances(rows, crew, self.ways.times(of_day))

    def reach_while_hanging(self, rows: Whole) -> Floats:
        """Return the factor on seeing each check right after hanging."""
        new = np.ones((len(rows), len(CHECK_NAMES))) * ~RUNNING_ONLY * ~ONCE_RUN
        return self._within_reach(rows, new)

    def reach_in_service(self, draws: Draws, rows: Whole, kind: str) -> Floats:
        """Return the factor on seeing each check on a visit in service."""
        stopped = draws.share("stopped") < STOPPED[kind]
        guarded = np.zeros(len(rows), np.bool_)
        for k in np.flatnonzero(HIDES_OTHERS):
            guarded |= ~IS_FAULT[k][self.state.outcome[rows, k]]
        reach = np.where(guarded[:, None] & BEHIND_GUARD, THROUGH_A_GUARD, 1.0)
        reach = reach * ~HANGING_ONLY * (stopped[:, None] | RUNNING_ONLY)
        return self._within_reach(rows, reach)

    def reach_after_rework(self, rows: Whole, actions: Flags, outboard: Flags) -> Floats:
        """Return the factor on seeing each check after re-work, by what was done."""
        touched = are_cured(actions)
        off = is_off_shaft(actions, outboard)[:, None]
        during = (actions.astype(np.int64) @ SEEN_DURING.astype(np.int64)) > 0
        allowed = ~HANGING_ONLY | off | during
        reach = np.where(off | touched, 1.0, GLANCE) * allowed * ~RUNNING_ONLY
        return self._within_reach(rows, reach)

    def _within_reach(self, rows: Whole, reach: Floats) -> Floats:
        unseen = (NEEDS_INSTRUMENT & ~self.measures[rows][:, None]) | ~self.has[rows]
        return np.where(unseen, 0.0, reach)

    def visit(self, kind: str, rows: Whole, day: Whole, reach: Floats) -> None:
        """Walk some units down: write what is seen, and plan re-work for what is found."""
        draws, state = self.chance.of(kind).at(rows, day), self.state
        inspector = self.crews.pick_inspector(draws, self.site[rows])
        attention = self.crews.attention[inspector]
        if kind in HANGING_KINDS:
            attention = attention - HASTE_HIDES * self.crews.haste[state.crew[rows]]
        attention = attention + self.ways.sees
        visits = Visits(rows, self.mounting[rows], reach, attention, self.ways)
        seeing = look(draws, state, self.yardsticks, visits)
        weep, temperature, shaking = self._symptoms(draws, kind, rows, reach)
        mark = self._mark(draws, rows, reach)
        shown = ~np.isnan(np.stack([weep, temperature, shaking]))
        made: Flags = np.asarray(seeing.seen.any(axis=1) | shown.any(axis=0))
        put_on_record(state, rows, seeing)
        state.leak_recorded[rows] |= weep == DRIPPING
        state.slip_recorded[rows] |= mark == MOVED
        state.clock[rows] = np.where(made, day, state.clock[rows])
        self.book.looks += int(seeing.seen.sum())
        self.book.wrong += int(seeing.wrong.sum())
        self.book.walkdowns.add(
            unit=rows[made],
            day=day[made],
            kind=np.full(int(made.sum()), KINDS.index(kind)),
            inspector=inspector[made],
            written=recorded_late(draws.only(made), day[made], self.lives.days - 1),
            values=seeing.values[made].astype(np.float64),
            weep=weep[made],
            temperature=temperature[made],
            vibration=shaking[made],
            mark=mark[made],
        )

    def _symptoms(
        self, draws: Draws, kind: str, rows: Whole, reach: Floats
    ) -> tuple[Floats, Floats, Floats]:
        seal, bearing = self.log_hazard(SEAL, rows), self.log_hazard(BEARING, rows)
        against = bearing - self.usual_hazard[BEARING]
        dripping = self.state.dripping[rows]
        weep = seal_weep(draws.of("seal_weep"), np.exp(seal), dripping)
        warm = running_temperature(draws.of("running_temperature_c"), self.ambient[rows], against)
        shaking = vibration(draws.of("vibration_mm_s"), against)
        seen = draws.of("seen").shares(tuple(SEEN_SYMPTOM)) < list(SEEN_SYMPTOM.values())
        stopped = (reach * ~RUNNING_ONLY).any(axis=1)
        running = kind in (AFTER_START, PERIODIC)
        return (
            np.where(stopped & seen[:, 0], weep, np.nan),
            np.where(running & seen[:, 1], warm, np.nan),
            np.where(running & seen[:, 2], shaking, np.nan),
        )

    def _mark(self, draws: Draws, rows: Whole, reach: Floats) -> Floats:
        """Draw what the witness mark shows, where there is one and somebody looks at it."""
        looks = draws.of("witness_mark").share("looks") < SEEN_MARK
        shown = witness_mark(draws.of("witness_mark"), self.state.slipped[rows])
        return np.where(self.marks[rows] & looks & reach.any(axis=1), shown, np.nan)

    def plan(self, rows: Whole, step: int) -> None:
        """Plan re-work where a hold, a leak or a finding worth the trouble is on record."""
        state = self.state
        draws = self.chance.of("plan").at(rows, state.clock[rows])
        level = state.recorded[rows] * IS_CURED
        urgent = (level == Level.HOLD).any(axis=1) | state.leak_recorded[rows]
        urgent |= state.slip_recorded[rows]
        other = (level == Level.CORRECT).any(axis=1)
        waits, wait, later, taken_up = draws.shares(("waits", "wait", "later", "taken up")).T
        soon = step + 1 + (waits < 0.4) * to_whole(wait, 1, 13)
        in_time = step + to_whole(later, 1, 7)
        due = np.where(other & (taken_up < self.ways.plans), in_time, state.due[rows])
        due = np.where(urgent, soon, due)
        state.due[rows] = np.minimum(state.due[rows], due)
