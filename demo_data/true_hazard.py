"""The true hazard of each failure mode: nameplate, faults, age, and what no record shows."""

from dataclasses import dataclass

import numpy as np
import pandas as pd

from demo_data.ageing import chance_within
from demo_data.arrays import Codes, Floats, Whole
from demo_data.chance import Chance
from demo_data.fault_arrays import PAIRS, SEVERITY
from demo_data.physics_of_a_plant import PLAIN_PHYSICS, Physics
from demo_data.true_effects import MODES, UNIT_SD, TrueEffects, with_slips
from demo_data.true_grip import Grip, draw_grip

BEARING, SEAL, SLIP = range(len(MODES))


@dataclass(frozen=True)
class Hazard:
    """Everything that makes up the log hazard of a middle-aged part.

    Attributes
    ----------
    effects : TrueEffects
        The drawn effects.
    standing : float array, shape (modes, units)
        What stays the same over time, level included. [log 1/a]
    fault : float array, shape (modes, checks, outcomes)
        Log multiplier of every outcome; a slip goes by the grip.
    grip : Grip
        What joints hold.
    physics : Physics
        What nameplate and age do.
    """

    effects: TrueEffects
    standing: Floats
    fault: Floats
    grip: Grip
    physics: Physics = PLAIN_PHYSICS

    def of_faults(self, mode: int, outcome: Codes) -> Floats:
        """Sum of the log multipliers of the outcomes, shape (units,)."""
        does = np.flatnonzero(self.fault[mode].any(axis=1))
        each = self.fault[mode][does[:, None], outcome.T[does]]
        return np.asarray(each.sum(axis=0) + self.of_pair(mode, outcome))

    def of_pair(self, mode: int, outcome: Codes) -> Floats:
        """Log multiplier of faults that stand together, shape (units,)."""
        total = np.zeros(len(outcome))
        for effect, pair in zip(self.effects.pair[mode], PAIRS, strict=True):
            one, two = SEVERITY[pair.one], SEVERITY[pair.two]
            total += effect * (one[outcome[:, pair.one]] * two[outcome[:, pair.two]])
        return total

    def of_state(self, mode: int, rows: Whole, outcome: Codes, friction: Floats) -> Floats:
        """Return what faults, and of a slip friction too, make of the log hazard, shape (rows,)."""
        if mode != SLIP:
            return self.of_faults(mode, outcome)
        return self.grip.log_slips(rows, outcome, friction) + self.of_pair(mode, outcome)

    def log_hazard(
        self, mode: int, rows: Whole, outcome: Codes, crew: Whole, friction: Floats
    ) -> Floats:
        """Return the log hazard [log 1/a] of middle-aged parts of some units, shape (rows,)."""
        without = self.standing[mode][rows] + self.effects.crew[mode][crew]
        return np.asarray(without + self.of_state(mode, rows, outcome, friction))

    def by_stage(
        self, mode: int, rows: Whole, outcome: Codes, crew: Whole, friction: Floats
    ) -> Floats:
        """Return the same in each stage of a part's life, shape (stages, rows)."""
        without = self.standing[mode][rows] + self.effects.crew[mode][crew]
        faults = self.of_state(mode, rows, outcome, friction)
        return np.stack([without + does * faults for does in self.faults_do(mode)])

    def faults_do(self, mode: int) -> Floats:
        """Return the factor on the log multipliers of faults in each stage of a part's life."""
        return np.asarray(self.physics.ageing.faults[mode])

    def chance_within(
        self, mode: int, log_hazard: Floats, age_days: Floats | Whole, days: float
    ) -> Floats:
        """Return the chance of a first failure within some days; see ``ageing``."""
        return chance_within(mode, log_hazard, age_days, days, self.physics.ageing)


def build_hazard(  # noqa: PLR0913, PLR0917 - all that bears on a hazard
    chance: Chance,
    effects: TrueEffects,
    plate: pd.DataFrame,
    place: tuple[Whole, Whole, Whole, Whole],
    start: tuple[Codes, Whole, Floats],
    nature: tuple[Physics, float] = (PLAIN_PHYSICS, UNIT_SD),
) -> Hazard:
    """Put the hazard of every unit together.

    Parameters
    ----------
    chance : Chance
        Source of chance.
    effects : TrueEffects
        The drawn effects.
    plate : pandas.DataFrame
        Nameplates, nothing blank.
    place : tuple of int arrays, each of shape (units,)
        Site, line, surroundings and mounting of each unit.
    start : tuple of arrays
        Outcomes, shape (units, checks), crews and friction, shape (units,), by which the level
        is set: on average they give the rate that is drawn.
    nature : tuple of Physics and float
        What nameplate and age do, and the spread of lasting differences between units.

    Returns
    -------
    Hazard
        With level, site, line, surroundings and lasting differences between units.
    """
    site, line, surroundings, mounting = place
    physics, unit_sd = nature
    lasting = unit_sd * chance.of("lasting").at(np.arange(len(site))).normals(MODES).T
    standing = (
        physics.of_nameplate(plate)
        + effects.site[:, site]
        + effects.line[:, line]
        + effects.place[:, surroundings, mounting]
        + lasting
    )
    fault = effects.fault[:, :, None] * SEVERITY[None]
    grip = draw_grip(chance.of("grip"), plate, effects.fault[SLIP])
    effects = with_slips(effects, grip.at_worst)
    unlevelled = Hazard(effects, standing, fault, grip, physics)
    low, high = np.array(physics.rate).T
    target = low + (high - low) * chance.of("rate").at(np.zeros(1, np.int64)).shares(MODES)[0]
    every = np.arange(len(site))
    mean = np.array(
        [np.exp(unlevelled.log_hazard(m, every, *start)).mean() for m in range(len(MODES))]
    )
    return Hazard(effects, standing + np.log(target / mean)[:, None], fault, grip, physics)
