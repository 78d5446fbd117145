"""What re-work truly avoids in a generated plant, by drawing again and again what it brings."""

from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
import pandas as pd

from demo_data.chance import Chance
from demo_data.families import PLAIN
from demo_data.fault_arrays import FAULT_CUT, GOOD_CUT, LEVEL_BY_MOUNTING, OUTCOMES
from demo_data.fault_table import CHECK_NAMES
from demo_data.fleet_state import FleetState
from demo_data.generate import fleet_of, grow_plant
from demo_data.hanging import drifted_chances, outcome_chances
from demo_data.plant_run import PlantRun
from demo_data.repairs import Jobs, apply_actions
from demo_data.scenario import ENVIRONMENTS
from demo_data.service_lives import months_between
from demo_data.set_up import NewPlant
from demo_data.true_effects import MODES as TRUE_MODES
from demo_data.true_grip import draw_friction
from demo_data.true_hazard import SEAL, SLIP
from demo_data.write import write_fleet
from scoring.assessment import Assessment, FleetAssessor
from scoring.contract.events import MODES as PREDICTED
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet
from scoring.timeline.known import Status

AS_OF = pd.Timestamp("2026-06-30")
HORIZON = 365
DRAWS = 300
MODES = {name: TRUE_MODES.index(name) for name in PREDICTED}
"""Failures that are predicted, and thus promised to be avoided: place of each in the truth."""


@dataclass(frozen=True)
class Plant:
    """A generated plant: its records as we judge them, and its truth."""

    assessor: FleetAssessor
    assessment: Assessment
    run: PlantRun
    rows: np.ndarray
    """Place in the run of each unit in service, in the order of ``assessment.known.units``."""
    standing: np.ndarray
    """What stays the same of each unit's log hazard, without its own luck, shape (modes, units)."""


def grown_plant(size: int, seed: int, family: str = PLAIN) -> Plant:
    """Generate a plant as ``generate_fleet`` does, and keep its truth."""
    end = str(AS_OF.date())
    plant = grow_plant(size, seed, end=end, family=family)
    with TemporaryDirectory() as folder:
        write_fleet(fleet_of(plant, end), Path(folder))
        fleet = check_fleet(read_fleet(folder).tables, AS_OF).fleet
        truth = pd.read_parquet(Path(folder) / "truth" / "units.parquet")
    assessor = FleetAssessor(fleet)
    assessment = assessor.assess(AS_OF, HORIZON, assessor.learn(AS_OF))
    ids = pd.Index(fleet.units["unit_id"])
    rows = ids.get_indexer(pd.Index(assessment.known.units["unit_id"]))
    assert set(truth["unit_id"]) == set(assessment.known.units["unit_id"])
    return Plant(assessor, assessment, plant.run, rows, _as_on_record(plant, fleet.units))


def _as_on_record(plant: NewPlant, units: pd.DataFrame) -> np.ndarray:
    """Return what nameplate, site, line and surroundings, as on record, make of each unit.

    How it differs from its like is no effect, and stands in no record; a blank on its nameplate
    counts as what is usual among the others.
    """
    run, effects = plant.run, plant.run.hazard.effects
    plate = plant.plate.copy()
    for name in plate.columns.intersection(units.columns):
        given = units[name].astype(object)
        is_number = pd.api.types.is_numeric_dtype(units[name])
        usual = units[name].median() if is_number else given.mode().iloc[0]
        filled = given.where(given.notna(), usual)
        plate[name] = filled.to_numpy(dtype=np.float64 if is_number else object)
    around = plate["environment"].map(ENVIRONMENTS.index).to_numpy(dtype=np.int64)
    of_kind = (
        run.hazard.physics.of_nameplate(plate)
        + effects.site[:, run.site]
        + effects.line[:, plant.line]
        + effects.place[:, around, run.mounting]
    )
    return of_kind + (run.hazard.standing - of_kind).mean(axis=1, keepdims=True)


def state_of(plant: Plant, unit: np.ndarray) -> FleetState:
    """Return how some units truly stand; units may come again and again."""
    state, rows = plant.run.state, plant.rows[unit]
    return FleetState(**{name: values[rows].copy() for name, values in vars(state).items()})


def believed(plant: Plant, unit: np.ndarray, chance: np.random.Generator) -> FleetState:
    """Draw how units may stand by all that their records tell, and no more.

    A look that was right tells the truth, a wrong one is believed; what nobody saw is drawn as
    its crew leaves it and as time wears it; what was reported cured mostly is.
    """
    state, run = state_of(plant, unit), plant.run
    known, rows = plant.assessment.known, plant.rows[unit]
    mounting = run.mounting[rows]
    months = months_between(state.hung_on, np.full(len(unit), run.lives.days - 1))
    usual = drifted_chances(
        outcome_chances(run.fault_chance)[state.crew, mounting], months, run.ways.loosens
    )
    cumulative = np.cumsum(usual, axis=2)
    place = chance.random((len(unit), len(CHECK_NAMES)))
    for k, name in enumerate(CHECK_NAMES):
        status = known.status[name].to_numpy()[unit]
        bad = known.exceedance[name].to_numpy()[unit] > 0
        truly = LEVEL_BY_MOUNTING[mounting, k, state.outcome[:, k]] > 0
        a_good = (place[:, k, None] >= np.minimum(GOOD_CUT[k], 1)).sum(axis=1)
        a_fault = (place[:, k, None] >= np.minimum(FAULT_CUT[k], 1)).sum(axis=1)
        as_usual = (place[:, k, None] >= cumulative[:, k] / cumulative[:, k, -1:]).sum(axis=1)
        cured = np.where(chance.random(len(unit)) < 0.86, a_good, a_fault)
        as_seen = np.where(bad == truly, state.outcome[:, k], np.where(bad, a_fault, a_good))
        drawn = np.select(
            [status == Status.SEEN, status == Status.REPORTED_CURED], [as_seen, cured], as_usual
        )
        state.outcome[:, k] = np.minimum(drawn, OUTCOMES - 1).astype(np.int8)
    state.dripping = known.history["leak_since"].notna().to_numpy()[unit].copy()
    state.slipped = (known.exceedance["witness_mark"] > 0).to_numpy()[unit].copy()
    state.friction = draw_friction(chance.standard_normal(len(unit)))
    return state


def loss_of(plant: Plant, unit: np.ndarray, state: FleetState, standing: np.ndarray) -> np.ndarray:
    """Return the expected loss within the horizon, by true effects, of units standing like this."""
    run, rows, loss = plant.run, plant.rows[unit], np.zeros(len(unit))
    for name, mode in MODES.items():
        without = standing[mode][rows] + run.hazard.effects.crew[mode][state.crew]
        faults = run.hazard.of_state(mode, rows, state.outcome, state.friction)
        by_stage = np.stack([without + does * faults for does in run.hazard.faults_do(mode)])
        age = np.maximum(run.lives.days - 1 - state.part_new_on(mode), 0)
        fails = run.hazard.chance_within(mode, by_stage, age, float(HORIZON))
        if mode == SEAL:
            fails = np.where(state.dripping, 1.0, fails)
        if mode == SLIP:
            fails = np.where(state.slipped, 1.0, fails)
        loss += fails * plant.assessment.risk.costs.of_failure(name)[unit]
    return loss


def truly_avoided(  # noqa: PLR0913, PLR0917 - what is done where, and how it is drawn
    plant: Plant, unit: np.ndarray, actions: np.ndarray, seed: int, stands=None, draws=DRAWS
):
    """Return the loss that sets of work avoid on average, over takes, crews and re-hangs.

    ``stands`` draws how units stand by what is known of them, and nobody knows their luck; by
    default they stand as they truly do.
    """
    if len(unit) == 0:
        return np.zeros(0)
    chance, run = np.random.default_rng(seed), plant.run
    rows, total = plant.rows[unit], np.zeros(len(unit))
    standing = run.hazard.standing if stands is None else plant.standing
    for turn in range(draws):
        state = state_of(plant, unit) if stands is None else stands(plant, unit, chance)
        before = loss_of(plant, unit, state, standing)
        drawn = Chance(seed).of("work", str(turn)).at(np.arange(len(unit)))
        crew = run.crews.pick(drawn, run.site[rows])
        day = np.full(len(unit), run.lives.days - 1)
        jobs = Jobs(np.arange(len(unit)), day, actions, crew, np.zeros(len(unit), dtype=bool))
        fault_chance = run.crew_chances(rows, crew, run.ways.times(drawn.normal("bad day")))
        apply_actions(drawn, state, jobs, run.hazard.effects.success, fault_chance)
        total += before - loss_of(plant, unit, state, standing)
    return total / draws


def true_faults(plant: Plant) -> np.ndarray:
    """Tell which checks of each unit in service are truly faulty."""
    unit = np.arange(len(plant.rows))
    outcome, mounting = state_of(plant, unit).outcome, plant.run.mounting[plant.rows]
    at = np.arange(len(CHECK_NAMES))[None, :]
    return LEVEL_BY_MOUNTING[mounting[:, None], at, outcome] > 0
