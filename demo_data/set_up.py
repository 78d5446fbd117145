"""Set a plant up before its first day: sites, crews, lives, nameplates, effects."""

from dataclasses import dataclass

import numpy as np
import pandas as pd

from demo_data.arrays import Chance, Whole
from demo_data.crews import draw_crews
from demo_data.fleet_state import FleetState
from demo_data.hanging import draw_hanging, fault_chances
from demo_data.hazard import build_hazard
from demo_data.nameplates import draw_nameplates, yardsticks_of
from demo_data.plant_run import PlantRun
from demo_data.record_book import RecordBook
from demo_data.scenario import ENVIRONMENTS, Scenario
from demo_data.service_lives import draw_service_lives
from demo_data.true_effects import draw_effects
from scoring.contract.mountings import EVERY_MOUNTING

SHARE_MEASURING = 0.75
"""Share of units whose people own a dial indicator, and use it."""


@dataclass(frozen=True)
class NewPlant:
    """A plant on the eve of its records.

    Attributes
    ----------
    run : PlantRun
        Ready to be simulated.
    plate : pandas.DataFrame
        Nameplates, nothing blank.
    line : int array, shape (units,)
        Line of each unit.
    first_crew : int array, shape (units,)
        Crew that hung it first.
    """

    run: PlantRun
    plate: pd.DataFrame
    line: Whole
    first_crew: Whole


def _site_of_each(chance: Chance, units: int, sites: int, came_from: Whole) -> Whole:
    share = 1.0 / np.arange(1, sites + 1) ** 0.5
    cut = np.cumsum(share / share.sum())
    site = np.minimum(np.searchsorted(cut, chance.random(units), side="right"), sites - 1)
    site[:sites] = np.arange(sites)
    return np.where(came_from >= 0, site[came_from], site)


def set_up(units: int, seed: int, sites: int, days: int, scenario: Scenario) -> NewPlant:
    """Draw everything that stands before the first day of the records.

    Parameters
    ----------
    units, seed, sites : int
        Size of the plant, and what everything follows from.
    days : int
        Length of the records. [d]
    scenario : Scenario
        Names, surroundings and costs.

    Returns
    -------
    NewPlant
        Each part is drawn from a source of its own, so that one can change alone.
    """
    sources = [np.random.default_rng(s) for s in np.random.SeedSequence(seed).spawn(6)]
    lives = draw_service_lives(sources[0], units, days)
    site = _site_of_each(sources[0], units, sites, lives.came_from)
    line = sources[0].integers(0, len(scenario.lines), units)
    crews = draw_crews(sources[1], sites)
    plate = draw_nameplates(sources[2], scenario, site, lives.came_from)
    mounting = plate["mounting"].map(EVERY_MOUNTING.index).to_numpy(dtype=np.int64)
    surroundings = plate["environment"].map(ENVIRONMENTS.index).to_numpy(dtype=np.int64)
    effects = draw_effects(sources[3], sites, len(scenario.lines), len(crews.names))

    state = FleetState.blank(units, lives.hung)
    state.crew = crews.pick(sources[1], site)
    fault_chance = fault_chances(crews.carelessness)
    usual = draw_hanging(sources[4], fault_chance[state.crew, mounting])
    place = (site, line, surroundings, mounting)
    hazard = build_hazard(sources[4], effects, plate, place, (usual, state.crew))
    careful = 0.6 + 0.8 * sources[1].random(sites)
    run = PlantRun(
        chance=sources[5],
        lives=lives,
        site=site,
        mounting=mounting,
        ambient=plate["ambient_c"].to_numpy(dtype=np.float64),
        measures=sources[1].random(units) < SHARE_MEASURING * careful[site],
        crews=crews,
        fault_chance=fault_chance,
        hazard=hazard,
        usual_hazard=np.array(
            [hazard.log_hazard(mode, usual, state.crew).mean() for mode in (0, 1)],
        ),
        yardsticks=yardsticks_of(plate),
        state=state,
        book=RecordBook(),
    )
    return NewPlant(run, plate, line, state.crew.copy())
