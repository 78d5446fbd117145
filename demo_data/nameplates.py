"""Nameplates that hang together: one shaft, and everything that follows from it.

All sizes, ratings and screw torques are invented; none is any maker's.
"""

from dataclasses import dataclass

import numpy as np
import pandas as pd

from demo_data.arrays import Floats, Whole
from demo_data.chance import Chance
from demo_data.fault_arrays import SCALES
from demo_data.fault_model import Scale
from demo_data.measured_values import Yardsticks
from demo_data.scenario import ENVIRONMENTS, Scenario
from scoring.contract.declaration import NO, YES
from scoring.contract.mountings import (
    CLAMPED,
    EVERY_MOUNTING,
    KEYED_BORE,
    SHRINK_DISCS,
    TAPERED_BUSHING,
)

SHAFTS_MM = np.array([40.0, 50, 60, 70, 80, 90, 100, 110, 125, 140, 160])
INCH_SHAFTS_MM = np.array(
    [36.513, 49.213, 61.913, 74.613, 87.313, 87.313, 100.013, 112.713, 125.413, 138.113, 163.513]
)
SHAFT_WEIGHTS = np.array([5, 10, 14, 15, 15, 12, 10, 8, 6, 3, 2]) / 100
MOTORS_KW = np.array(
    [
        1.1,
        1.5,
        2.2,
        3,
        4,
        5.5,
        7.5,
        11,
        15,
        18.5,
        22,
        30,
        37,
        45,
        55,
        75,
        90,
        110,
        132,
        160,
        200,
        250,
        315,
        400,
    ]
)
SHARE_WITH_BACKSTOP = 0.3
STARTS_PER_DAY = (1.0, 2.0, 4.0, 8.0, 20.0, 60.0)
METRIC_SCREWS = np.array(["M8", "M10", "M12", "M14", "M16", "M20"], dtype=object)
METRIC_MM = np.array([8.0, 10, 12, 14, 16, 20])
INCH_SCREWS = np.array(["5/16-18", "3/8-16", "1/2-13", "1/2-13", "5/8-11", "3/4-10"], dtype=object)
INCH_MM = np.array([5 / 16, 3 / 8, 1 / 2, 1 / 2, 5 / 8, 3 / 4]) * 25.4

TOLERANCES = {
    KEYED_BORE: (("h7", 0.4), ("h8", 0.25), ("k6", 0.2), ("m6", 0.15)),
    TAPERED_BUSHING: (("h8", 0.1), ("h9", 0.3), ("h10", 0.35), ("h11", 0.25)),
    "disc": (("h6", 0.5), ("h7", 0.3), ("h8", 0.2)),
}
BAND_UNITS = {"h6": 10, "h7": 16, "h8": 25, "h9": 40, "h10": 64, "h11": 100, "k6": 10, "m6": 10}


@dataclass(frozen=True, kw_only=True)
class Plates:
    """How loosely nameplates hang together.

    Attributes
    ----------
    least_torque : float
        Least torque over the greatest that such a shaft bears.
    rating, arm, mass : float
        Spread of the logs of the bearing's rating, the arm's length and the unit's mass about what
        is usual for the shaft.
    """

    least_torque: float = 0.45
    rating: float = 0.0
    arm: float = 0.0
    mass: float = 0.0


PLAIN_PLATES = Plates()


def _one_of(source: np.random.Generator, rows: int, weights: tuple[float, ...] | Floats) -> Whole:
    cut = np.cumsum(weights) / np.sum(weights)
    return np.minimum(np.searchsorted(cut, source.random(rows), side="right"), len(cut) - 1)


def _between(source: np.random.Generator, rows: int, low: float, high: float) -> Floats:
    return low + (high - low) * source.random(rows)


def _shaft_limits(diameter: Floats, tolerance: Floats | np.ndarray) -> tuple[Floats, Floats]:
    # width of a tolerance band by the usual cube-root rule, in micrometres
    unit_um = 0.45 * np.cbrt(diameter) + 0.001 * diameter
    band = np.array([BAND_UNITS[t] for t in tolerance]) * unit_um / 1000
    low = np.where(tolerance == "k6", 0.0025, np.where(tolerance == "m6", 0.6 * band, -band))
    return diameter + low, diameter + low + band


def _tolerances(source: np.random.Generator, mounting: np.ndarray) -> np.ndarray:
    drawn = np.empty(len(mounting), dtype=object)
    for name in EVERY_MOUNTING:
        choices = TOLERANCES["disc" if name in SHRINK_DISCS else name]
        words = tuple(word for word, _ in choices)
        picked = _one_of(source, len(mounting), tuple(weight for _, weight in choices))
        drawn = np.where(mounting == name, np.array(words, dtype=object)[picked], drawn)
    return drawn


def _screws(source: np.random.Generator, plate: pd.DataFrame, inch: np.ndarray) -> None:
    rows = len(plate)
    size = np.clip(np.digitize(plate["shaft_diameter_mm"], (48, 68, 92, 118, 150)), 0, 5)
    millimetres = np.where(inch, INCH_MM[size], METRIC_MM[size])
    clamped = plate["mounting"].isin(CLAMPED).to_numpy()
    disc = plate["mounting"].isin(SHRINK_DISCS).to_numpy()
    plate["screw_thread"] = np.where(inch, INCH_SCREWS[size], METRIC_SCREWS[size])
    plate["screw_count"] = np.where(disc, 6 + 2 * (size // 2) + 2, 6.0)
    factor = 0.040 + 0.004 * source.integers(0, 4, rows)
    plate["screw_torque_nm"] = np.round(factor * millimetres**3)
    plate["torque_passes_required"] = np.where(source.random(rows) < 0.8, 3.0, 4.0)
    columns = ["screw_thread", "screw_count", "screw_torque_nm", "torque_passes_required"]
    plate.loc[~clamped, columns] = None


def _drive(
    source: np.random.Generator, plate: pd.DataFrame, shaft: Floats, least_torque: float
) -> None:
    rows = len(plate)
    torque = 0.0055 * shaft**3 * _between(source, rows, least_torque, 1.0)
    speed = np.round(22 + 100 * source.random(rows) ** 1.5)
    motor = np.minimum(np.searchsorted(MOTORS_KW, torque * speed / 9550 / 0.9), len(MOTORS_KW) - 1)
    plate["output_torque_nm"] = np.round(torque, -1)
    plate["peak_factor"] = np.round(_between(source, rows, 1.3, 2.5), 1)
    plate["output_speed_rpm"] = speed
    plate["motor_power_kw"] = MOTORS_KW[motor]
    duty = np.array([8.0, 12, 16, 20, 24])
    plate["duty_h_per_day"] = duty[_one_of(source, rows, (2, 2, 3, 2, 2))]
    # mounted as specified, a joint carries its peaks with something to spare
    margin = plate["peak_factor"].to_numpy() * _between(source, rows, 1.4, 2.4)
    plate["joint_rated_torque_nm"] = np.round(torque * margin, -1)


def _body(source: np.random.Generator, plate: pd.DataFrame, shaft: Floats) -> None:
    rows = len(plate)
    disc = plate["mounting"].isin(SHRINK_DISCS).to_numpy()
    plate["unit_mass_kg"] = np.round(58 * (shaft / 60) ** 2.6 * _between(source, rows, 0.85, 1.2))
    plate["arm_length_mm"] = np.round(5 * shaft + _between(source, rows, 90, 210), -1)
    plate["bearing_span_mm"] = np.round(1.8 * shaft + _between(source, rows, 15, 35))
    plate["arm_offset_mm"] = np.round(0.5 * shaft * _between(source, rows, 0.7, 1.3))
    plate["shaft_support_distance_mm"] = np.round(2 * shaft + _between(source, rows, 40, 260), -1)
    plate["hub_outer_mm"] = np.round(shaft * np.where(disc, 1.28, 1.5))
    plate["clamp_length_mm"] = np.round(shaft * np.where(disc, 0.5, 0.9))
    long = np.where(disc, 2.2, np.where(plate["mounting"] == TAPERED_BUSHING, 1.9, 1.7))
    plate["required_engagement_mm"] = np.round(shaft * long)
    roller = source.random(rows) < np.where(shaft > 95, 0.7, 0.25)
    plate["bearing_kind"] = np.where(roller, "roller", "ball")
    rating = 34_000 * (shaft / 60) ** 1.5 * np.where(roller, 1.8, 1.0)
    plate["bearing_dynamic_rating_n"] = np.round(rating * _between(source, rows, 0.9, 1.1), -2)
    outer = np.round(0.55 * shaft + 14)
    plate["isolator_outer_mm"] = outer
    plate["isolator_inner_mm"] = np.round(0.36 * outer)
    plate["isolator_thickness_mm"] = np.round(0.5 * outer / 5) * 5
    hardness = np.array([55.0, 60, 65, 70])
    plate["isolator_hardness_shore_a"] = hardness[source.integers(0, 4, rows)]


def _loosen(chance: Chance, plate: pd.DataFrame, plates: Plates) -> None:
    """Let what a bearing bears and may bear lie off what is usual for the shaft."""
    draws = chance.at(np.arange(len(plate)))
    columns = {
        "bearing_dynamic_rating_n": (plates.rating, -2),
        "arm_length_mm": (plates.arm, -1),
        "unit_mass_kg": (plates.mass, 0),
    }
    for column, (spread, decimals) in columns.items():
        if spread:
            off = np.exp(spread * draws.normal(column))
            plate[column] = np.round(plate[column] * off, decimals)


def _costs(source: np.random.Generator, plate: pd.DataFrame, shaft: Floats, level: Floats) -> None:
    rows = len(plate)
    size = shaft / 80
    plate["downtime_cost_per_h"] = np.round(900 * level * _between(source, rows, 0.4, 1.6), -1)
    plate["bearing_repair_cost"] = np.round(level * (2200 + 3600 * size**1.8), -2)
    plate["bearing_repair_h"] = np.round(8 + 9 * size * _between(source, rows, 0.8, 1.3))
    plate["leak_repair_cost"] = np.round(level * (260 + 420 * size), -1)
    plate["leak_repair_h"] = np.round(3 + 3 * size * _between(source, rows, 0.7, 1.3))


def _costs_of_a_slip(plate: pd.DataFrame, chance: Chance, level: Floats) -> None:
    rows = len(plate)
    size, draws = plate["shaft_diameter_mm"].to_numpy() / 80, chance.at(np.arange(rows))
    plate["slip_repair_cost"] = np.round(level * (900 + 1600 * size**1.5), -2)
    plate["slip_repair_h"] = np.round(6 + 6 * size * (0.8 + 0.5 * draws.share("hours")))


def draw_nameplates(
    chance: Chance,
    scenario: Scenario,
    site: Whole,
    came_from: Whole,
    plates: Plates = PLAIN_PLATES,
) -> pd.DataFrame:
    """Draw every unit's nameplate, nothing blank.

    Parameters
    ----------
    chance : Chance
        Source of chance.
    scenario : Scenario
        The plant.
    site : int array, shape (units,)
        Site of each unit.
    came_from : int array, shape (units,)
        Unit on which the same reducer served before; -1 for none.
    plates : Plates
        How loosely nameplates hang together.

    Returns
    -------
    pandas.DataFrame
        Columns of the contract's units from ``mounting`` on, in its units of measure.
        A reducer that moved keeps its plate; line, surroundings and costs are the new place's.
    """
    rows, source = len(site), chance.of("mounting").source()
    picked = _one_of(source, rows, scenario.mounting_weights)
    mounting = np.array(EVERY_MOUNTING, dtype=object)[picked]
    size = _one_of(source, rows, SHAFT_WEIGHTS)
    inch = (mounting == TAPERED_BUSHING) & (source.random(rows) < 0.4)
    shaft = np.where(inch, INCH_SHAFTS_MM[size], SHAFTS_MM[size])

    plate = pd.DataFrame({"mounting": mounting, "shaft_diameter_mm": shaft})
    tolerance = _tolerances(chance.of("tolerance").source(), mounting)
    low, high = _shaft_limits(shaft, tolerance)
    plate["shaft_tolerance"] = tolerance
    plate["shaft_low_mm"], plate["shaft_high_mm"] = np.round(low, 3), np.round(high, 3)
    _drive(chance.of("drive").source(), plate, shaft, plates.least_torque)
    _body(chance.of("body").source(), plate, shaft)
    _loosen(chance.of("loose"), plate, plates)
    _screws(chance.of("screws").source(), plate, inch)
    every = np.arange(rows)
    wide = chance.at(every).share("collar gap") < 0.2
    tapered = mounting == TAPERED_BUSHING
    plate["collar_gap_min_mm"] = np.where(tapered, np.where(wide, 0.8, 1.0), np.nan)
    plate["collar_gap_max_mm"] = np.where(tapered, np.where(wide, 2.4, 2.0), np.nan)
    seals = np.array(["nbr", "hnbr", "fkm"], dtype=object)
    plate["seal_material"] = seals[_one_of(chance.of("seal").source(), rows, (0.6, 0.15, 0.25))]
    holds_back = chance.at(every).share("backstop") < SHARE_WITH_BACKSTOP
    plate["backstop"] = np.where(holds_back, YES, NO)
    often = chance.at(every).whole("starts a day", 0, len(STARTS_PER_DAY))
    plate["starts_per_day"] = np.array(STARTS_PER_DAY)[often]
    moved = came_from >= 0
    plate.loc[moved] = plate.loc[came_from[moved]].to_numpy()
    plate = plate.infer_objects()

    sites, source = int(site.max()) + 1, chance.of("surroundings").source()
    usual = _one_of(source, sites, scenario.environment_weights)[site]
    own = _one_of(source, rows, scenario.environment_weights)
    surroundings = np.where(source.random(rows) < 0.55, usual, own)
    plate["environment"] = np.array(ENVIRONMENTS, dtype=object)[surroundings]
    site_warmth = _between(source, sites, -3, 5)[site]
    plate["ambient_c"] = np.round(
        np.array([22.0, 20, 24, 12])[surroundings] + site_warmth + 2 * source.standard_normal(rows)
    )
    level = (
        scenario.cost_level * np.exp(0.2 * chance.at(np.arange(sites)).normal("cost level"))[site]
    )
    _costs(chance.of("costs").source(), plate, plate["shaft_diameter_mm"].to_numpy(), level)
    _costs_of_a_slip(plate, chance.of("costs of a slip"), level)
    plate["currency"] = scenario.currency
    return plate


def yardsticks_of(plate: pd.DataFrame) -> Yardsticks:
    """Return what each unit's measured ranges are multiples of.

    Parameters
    ----------
    plate : pandas.DataFrame
        Nameplates, nothing blank.

    Returns
    -------
    Yardsticks
        Start and span of every scale; zero where the mounting has none.
    """
    zero = np.zeros(len(plate))
    starts = {Scale.GAP: plate["collar_gap_min_mm"], Scale.SHAFT: plate["shaft_low_mm"]}
    spans = {
        Scale.PLAIN: zero + 1,
        Scale.ENGAGEMENT: plate["required_engagement_mm"],
        Scale.TORQUE: plate["screw_torque_nm"],
        Scale.RUBBER: plate["isolator_thickness_mm"],
        Scale.GAP: plate["collar_gap_max_mm"] - plate["collar_gap_min_mm"],
        Scale.SHAFT: plate["shaft_high_mm"] - plate["shaft_low_mm"],
        Scale.PASSES: plate["torque_passes_required"],
    }
    start = np.column_stack([np.asarray(starts.get(s, zero), dtype=np.float64) for s in SCALES])
    span = np.column_stack([np.asarray(spans[s], dtype=np.float64) for s in SCALES])
    return Yardsticks(np.nan_to_num(start), np.nan_to_num(span))
