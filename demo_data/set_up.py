"""Set a plant up before its first day: sites, crews, lives, nameplates, effects."""

from dataclasses import dataclass

import numpy as np
import pandas as pd

from demo_data.arrays import Whole
from demo_data.chance import Chance, Draws
from demo_data.crews import draw_crews
from demo_data.families import FAMILIES, PLAIN
from demo_data.fault_table import ONLY_WHERE
from demo_data.fleet_state import FleetState
from demo_data.hanging import draw_hanging, fault_chances
from demo_data.nameplates import draw_nameplates, yardsticks_of
from demo_data.plant_run import PlantRun
from demo_data.record_book import RecordBook
from demo_data.scenario import ENVIRONMENTS, Scenario
from demo_data.service_lives import draw_service_lives
from demo_data.true_effects import draw_effects
from demo_data.true_grip import draw_friction
from demo_data.true_hazard import build_hazard
from scoring.contract.declaration import YES
from scoring.contract.mountings import EVERY_MOUNTING

SHARE_MARKED = 0.5
"""Share of units that have a witness mark across shaft and hub."""

SHARE_MEASURING = 0.75
"""Share of units whose people own a dial indicator, and use it."""


@dataclass(frozen=True)
class NewPlant:
    """A plant on the eve of its records.

    Attributes
    ----------
    scenario : Scenario
        What it was drawn for.
    run : PlantRun
        Ready to be simulated.
    plate : pandas.DataFrame
        Nameplates, nothing blank.
    line : int array, shape (units,)
        Line of each unit.
    first_crew : int array, shape (units,)
        Crew that hung it first.
    """

    scenario: Scenario
    run: PlantRun
    plate: pd.DataFrame
    line: Whole
    first_crew: Whole


def _site_of_each(draws: Draws, sites: int, came_from: Whole) -> Whole:
    share = 1.0 / np.arange(1, sites + 1) ** 0.5
    cut = np.cumsum(share / share.sum())
    drawn = np.searchsorted(cut, draws.share("site"), side="right")
    site = np.minimum(drawn, sites - 1)
    site[:sites] = np.arange(sites)
    return np.where(came_from >= 0, site[came_from], site)


def set_up(  # noqa: PLR0913, PLR0917 - what a plant is asked for by
    units: int,
    seed: int,
    sites: int,
    days: int,
    scenario: Scenario,
    family: str = PLAIN,
    effects_seed: int | None = None,
) -> NewPlant:
    """Draw everything that stands before the first day of the records.

    Parameters
    ----------
    units, seed, sites : int
        Size of the plant, and what everything follows from.
    days : int
        Length of the records. [d]
    scenario : Scenario
        Names, surroundings and costs.
    family : str
        One of ``FAMILIES``.
    effects_seed : int, optional
        What faults, nameplate and age do follows from it; by default from ``seed``.

    Returns
    -------
    NewPlant
        Each part is drawn by its name, so that one can change alone.
    """
    chance = Chance(seed)
    common = Chance(seed if effects_seed is None else effects_seed)
    nature = FAMILIES[family](common.of("nature"), chance.of("nature"))
    draws = chance.at(np.arange(units))
    lives = draw_service_lives(chance.of("service lives"), units, days)
    site = _site_of_each(draws, sites, lives.came_from)
    line = draws.whole("line", 0, len(scenario.lines))
    crews = draw_crews(chance.of("crews"), sites, nature.habits)
    plate = draw_nameplates(chance.of("nameplate"), scenario, site, lives.came_from, nature.plates)
    mounting = plate["mounting"].map(EVERY_MOUNTING.index).to_numpy(dtype=np.int64)
    surroundings = plate["environment"].map(ENVIRONMENTS.index).to_numpy(dtype=np.int64)
    effects = draw_effects(
        chance.of("effects"),
        sites,
        len(scenario.lines),
        len(crews.names),
        nature.spread,
        common.of("effects"),
    )

    state = FleetState.blank(units, lives.hung)
    state.crew = crews.pick(draws.of("first"), site)
    fault_chance = fault_chances(crews.carelessness)
    has = np.column_stack(
        [plate[name] == YES if name else np.ones(units, np.bool_) for name in ONLY_WHERE]
    )
    usual = draw_hanging(draws.of("usual"), fault_chance[state.crew, mounting] * has)
    place = (site, line, surroundings, mounting)
    friction = draw_friction(draws.of("usual").normal("friction"))
    start = (usual, state.crew, friction)
    hazard = build_hazard(
        chance.of("hazard"), effects, plate, place, start, (nature.physics, nature.spread.unit)
    )
    careful = 0.6 + 0.8 * chance.at(np.arange(sites)).share("careful")
    run = PlantRun(
        chance=chance,
        lives=lives,
        site=site,
        mounting=mounting,
        has=has,
        ambient=plate["ambient_c"].to_numpy(dtype=np.float64),
        marks=draws.share("marks") < SHARE_MARKED * careful[site],
        measures=draws.share("measures") < SHARE_MEASURING * careful[site],
        crews=crews,
        ways=nature.habits,
        fault_chance=fault_chance,
        hazard=hazard,
        usual_hazard=np.array(
            [hazard.log_hazard(mode, np.arange(units), *start).mean() for mode in (0, 1)],
        ),
        yardsticks=yardsticks_of(plate),
        state=state,
        book=RecordBook(),
    )
    return NewPlant(scenario, run, plate, line, state.crew.copy())
