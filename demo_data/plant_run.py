"""One plant in the making: what stays the same during a run, and the visits made in it."""

from dataclasses import dataclass

import numpy as np

from demo_data.arrays import Chance, Flags, Floats, Whole
from demo_data.crews import Crews
from demo_data.fault_arrays import IS_FAULT
from demo_data.fault_model import CHECK_AT, CHECK_NAMES, Level
from demo_data.fleet_state import FleetState
from demo_data.hazard import BEARING, SEAL, Hazard
from demo_data.inspections import (
    BEHIND_GUARD,
    HANGING_ONLY,
    NEEDS_INSTRUMENT,
    THROUGH_A_GUARD,
    Visits,
    look,
    put_on_record,
)
from demo_data.measured_values import Yardsticks
from demo_data.record_book import RecordBook, recorded_late
from demo_data.repairs import ACTION_AT, CURES, is_off_shaft
from demo_data.service_lives import ServiceLives
from demo_data.symptoms import DRIPPING, running_temperature, seal_weep, vibration
from scoring.contract.walkdowns import AFTER_REWORK, AFTER_START, PERIODIC, POST_INSTALL

KINDS = (POST_INSTALL, AFTER_START, PERIODIC, AFTER_REWORK)
STOPPED = {POST_INSTALL: 1.0, AFTER_REWORK: 1.0, AFTER_START: 0.75, PERIODIC: 0.88}
HANGING_KINDS = (POST_INSTALL, AFTER_REWORK)
HASTE_HIDES = 0.6
"""Part of a crew's haste that comes off the log odds of seeing its work."""
GLANCE = 0.3
"""Part of the usual attention that checks get which the re-work did not touch."""
SEEN_WEEP, SEEN_TEMPERATURE, SEEN_VIBRATION = 0.75, 0.55, 0.35


@dataclass(frozen=True)
class PlantRun:
    """What stays the same during a run.

    Attributes
    ----------
    chance : numpy.random.Generator
        Source of chance of the run.
    lives : ServiceLives
        When each unit serves.
    site, mounting : int array, shape (units,)
        Site and mounting.
    ambient : float array, shape (units,)
        Temperature around it. [°C]
    measures : bool array, shape (units,)
        Whether its people own a dial indicator, and use it.
    crews : Crews
        Who hangs, repairs and looks.
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
    ambient: Floats
    measures: Flags
    crews: Crews
    fault_chance: Floats
    hazard: Hazard
    usual_hazard: Floats
    yardsticks: Yardsticks
    state: FleetState
    book: RecordBook

    def log_hazard(self, mode: int, rows: Whole) -> Floats:
        """Return the true log hazard [log 1/a] of some units now."""
        hazard, state = self.hazard, self.state
        faults = hazard.of_faults(mode, state.outcome[rows])
        return np.asarray(
            hazard.standing[mode][rows] + hazard.effects.crew[mode][state.crew[rows]] + faults
        )

    def crew_chances(self, rows: Whole, crew: Whole) -> Floats:
        """Return the chance of each fault if these crews hang these units, shape (rows, checks)."""
        return np.asarray(self.fault_chance[crew, self.mounting[rows]])

    def reach_while_hanging(self, rows: Whole) -> Floats:
        """Return the factor on seeing each check right after hanging."""
        return self._with_instrument(rows, np.ones((len(rows), len(CHECK_NAMES))))

    def reach_in_service(self, rows: Whole, kind: str) -> Floats:
        """Return the factor on seeing each check on a visit in service."""
        stopped = self.chance.random(len(rows)) < STOPPED[kind]
        guard = CHECK_AT["guard"]
        guarded = ~IS_FAULT[guard][self.state.outcome[rows, guard]]
        reach = np.where(guarded[:, None] & BEHIND_GUARD, THROUGH_A_GUARD, 1.0)
        reach = reach * ~HANGING_ONLY * stopped[:, None]
        return self._with_instrument(rows, reach)

    def reach_after_rework(self, rows: Whole, actions: Flags) -> Floats:
        """Return the factor on seeing each check after re-work, by what was done."""
        touched = (actions.astype(np.int64) @ CURES.astype(np.int64)) > 0
        off = is_off_shaft(actions)[:, None]
        torqued = actions[:, ACTION_AT["retorque_in_passes"]][:, None]
        while_torquing = np.isin(CHECK_NAMES, ("torque_passes", "tightening_order"))
        gap = np.isin(CHECK_NAMES, ("collar_gap_mm",))
        allowed = ~HANGING_ONLY | off | (torqued & while_torquing) | (gap & touched)
        reach = np.where(off | touched, 1.0, GLANCE) * allowed
        return self._with_instrument(rows, reach)

    def _with_instrument(self, rows: Whole, reach: Floats) -> Floats:
        return np.where(NEEDS_INSTRUMENT & ~self.measures[rows][:, None], 0.0, reach)

    def visit(self, kind: str, rows: Whole, day: Whole, reach: Floats) -> None:
        """Walk some units down: write what is seen, and plan re-work for what is found."""
        chance, state = self.chance, self.state
        inspector = self.crews.pick_inspector(chance, self.site[rows])
        attention = self.crews.attention[inspector]
        if kind in HANGING_KINDS:
            attention = attention - HASTE_HIDES * self.crews.haste[state.crew[rows]]
        visits = Visits(rows, self.mounting[rows], reach, attention)
        seeing = look(chance, state, self.yardsticks, visits)
        weep, temperature, shaking = self._symptoms(kind, rows, reach)
        made = seeing.seen.any(axis=1) | ~np.isnan(np.stack([weep, temperature, shaking])).all(0)
        put_on_record(state, rows, seeing)
        state.leak_recorded[rows] |= weep == DRIPPING
        state.clock[rows] = np.where(made, day, state.clock[rows])
        self.book.looks += int(seeing.seen.sum())
        self.book.wrong += int(seeing.wrong.sum())
        self.book.walkdowns.add(
            unit=rows[made],
            day=day[made],
            kind=np.full(int(made.sum()), KINDS.index(kind)),
            inspector=inspector[made],
            written=recorded_late(chance, day[made], self.lives.days - 1),
            values=seeing.values[made].astype(np.float64),
            weep=weep[made],
            temperature=temperature[made],
            vibration=shaking[made],
        )

    def _symptoms(self, kind: str, rows: Whole, reach: Floats) -> tuple[Floats, Floats, Floats]:
        chance, size = self.chance, len(rows)
        seal, bearing = self.log_hazard(SEAL, rows), self.log_hazard(BEARING, rows)
        weep = seal_weep(chance, np.exp(seal), self.state.dripping[rows])
        stopped = reach.any(axis=1)
        weep = np.where(stopped & (chance.random(size) < SEEN_WEEP), weep, np.nan)
        running = kind in (AFTER_START, PERIODIC)
        against = bearing - self.usual_hazard[BEARING]
        warm = running_temperature(chance, self.ambient[rows], against)
        shaking = vibration(chance, against)
        warm = np.where(running & (chance.random(size) < SEEN_TEMPERATURE), warm, np.nan)
        shaking = np.where(running & (chance.random(size) < SEEN_VIBRATION), shaking, np.nan)
        return weep, warm, shaking

    def plan(self, rows: Whole, step: int) -> None:
        """Plan re-work where a hold, a leak or a finding worth the trouble is on record."""
        chance, state = self.chance, self.state
        level = state.recorded[rows]
        urgent = (level == Level.HOLD).any(axis=1) | state.leak_recorded[rows]
        other = (level == Level.CORRECT).any(axis=1)
        waits = chance.random(len(rows)) < 0.4
        soon = step + 1 + waits * chance.integers(1, 13, len(rows))
        later = step + chance.integers(1, 7, len(rows))
        taken_up = other & (chance.random(len(rows)) < 0.4)
        due = np.where(urgent, soon, np.where(taken_up, later, state.due[rows]))
        state.due[rows] = np.minimum(state.due[rows], due)
