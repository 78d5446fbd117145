"""The true hazard of each failure mode: nameplate, faults, age, and what no record shows."""

from dataclasses import dataclass

import numpy as np
import pandas as pd

from demo_data.arrays import Codes, Floats, Whole
from demo_data.chance import Chance
from demo_data.fault_arrays import PAIRS, SEVERITY
from demo_data.true_effects import MODES, UNIT_SD, TrueEffects, with_slips
from demo_data.true_grip import Grip, draw_grip

BEARING, SEAL, SLIP = range(len(MODES))
DAYS_A_YEAR = 365.25

RUN_IN_EXTRA = np.array([0.5, 0.6, 0.8])
RUN_IN_YEARS = np.array([0.30, 0.25, 0.4])
WEAR_YEARS = np.array([8.0, 6.5, 60.0])
WEAR_POWER = 2.0

TARGET_RATE = ((0.018, 0.030), (0.055, 0.090), (0.0025, 0.005))
"""Range of failures a unit-year of units just hung, from which a plant's level is drawn; ours.
Weak joints slip soon, and those that still stand slip less."""


def cumulative_age_factor(mode: int, years: Floats) -> Floats:
    """Integral of the age factor from new: a little run-in, then slow wear.

    Parameters
    ----------
    mode : int
        Place of the failure mode.
    years : float array
        Age of the part. [a]

    Returns
    -------
    float array
        Years of the hazard of a middle-aged part. [a]

    Examples
    --------
    >>> float(cumulative_age_factor(0, np.array(0.0)))
    0.0
    """
    run_in = RUN_IN_EXTRA[mode] * RUN_IN_YEARS[mode] * (1 - np.exp(-years / RUN_IN_YEARS[mode]))
    wear = years * (years / WEAR_YEARS[mode]) ** WEAR_POWER / (WEAR_POWER + 1)
    return np.asarray(years + run_in + wear)


def chance_within(mode: int, log_hazard: Floats, age_days: Floats | Whole, days: float) -> Floats:
    """Chance of a first failure within some days, faults staying as they are.

    Parameters
    ----------
    mode : int
        Place of the failure mode.
    log_hazard : float array
        Log of the hazard of a middle-aged part. [log 1/a]
    age_days : float array
        Age of the part now. [d]
    days : float
        Length of the time ahead. [d]

    Returns
    -------
    float array
        From 0 to 1.
    """
    now = np.asarray(age_days, dtype=np.float64) / DAYS_A_YEAR
    ahead = cumulative_age_factor(mode, now + days / DAYS_A_YEAR) - cumulative_age_factor(mode, now)
    return -np.expm1(-np.exp(log_hazard) * ahead)


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
    """

    effects: TrueEffects
    standing: Floats
    fault: Floats
    grip: Grip

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
        habits = self.effects.crew[mode][crew]
        faults = self.of_state(mode, rows, outcome, friction)
        return np.asarray(self.standing[mode][rows] + habits + faults)


def of_nameplate(plate: pd.DataFrame) -> Floats:
    """Return what each nameplate makes of the log hazard, shape (modes, units)."""
    duty = np.log(plate["duty_h_per_day"].to_numpy() / 16)
    size = np.log(plate["shaft_diameter_mm"].to_numpy() / 80)
    speed = np.log(plate["output_speed_rpm"].to_numpy() / 50)
    peak = plate["peak_factor"].to_numpy() - 1.8
    surroundings = plate["environment"].map(
        {"dry_indoor": -0.25, "dusty": 0.25, "washdown": 0.3, "outdoor": 0.0}
    )
    grit = surroundings.to_numpy(dtype=np.float64)
    warm = (plate["ambient_c"].to_numpy() - 20) / 10
    rubber = plate["seal_material"].map({"nbr": 0.15, "hnbr": 0.0, "fkm": -0.15})
    lips = rubber.to_numpy(dtype=np.float64)
    roller = (plate["bearing_kind"] == "roller").to_numpy()
    bearing = 0.6 * duty + 0.25 * size + 0.2 * speed + 0.5 * peak + 0.4 * grit - 0.15 * roller
    seal = 0.6 * duty + 0.3 * size + 0.3 * speed + 0.9 * grit + 0.12 * warm + lips
    return np.stack([bearing, seal, 0.3 * duty])


def build_hazard(
    chance: Chance,
    effects: TrueEffects,
    plate: pd.DataFrame,
    place: tuple[Whole, Whole, Whole, Whole],
    start: tuple[Codes, Whole, Floats],
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
        is set: on average they give the rate drawn from ``TARGET_RATE``.

    Returns
    -------
    Hazard
        With level, site, line, surroundings and lasting differences between units.
    """
    site, line, surroundings, mounting = place
    lasting = UNIT_SD * chance.of("lasting").at(np.arange(len(site))).normals(MODES).T
    standing = (
        of_nameplate(plate)
        + effects.site[:, site]
        + effects.line[:, line]
        + effects.place[:, surroundings, mounting]
        + lasting
    )
    fault = effects.fault[:, :, None] * SEVERITY[None]
    grip = draw_grip(chance.of("grip"), plate, effects.fault[SLIP])
    effects = with_slips(effects, grip.at_worst)
    unlevelled = Hazard(effects, standing, fault, grip)
    low, high = np.array(TARGET_RATE).T
    target = low + (high - low) * chance.of("rate").at(np.zeros(1, np.int64)).shares(MODES)[0]
    every = np.arange(len(site))
    mean = np.array(
        [np.exp(unlevelled.log_hazard(m, every, *start)).mean() for m in range(len(MODES))]
    )
    return Hazard(effects, standing + np.log(target / mean)[:, None], fault, grip)
