"""The table ``units`` as a plant would have it: what is known is written, the rest blank."""

import numpy as np
import pandas as pd

from demo_data.arrays import Flags, Whole, Words
from demo_data.blanks import blank_unless
from demo_data.chance import Chance
from demo_data.habits_of_a_plant import Habits
from demo_data.scenario import Scenario
from demo_data.set_up import NewPlant
from scoring.contract import UNITS
from scoring.contract.declaration import YES

KNOWN_SHARE = {
    "required_engagement_mm": 0.55,
    "shaft_tolerance": 0.55,
    "output_torque_nm": 0.6,
    "peak_factor": 0.3,
    "output_speed_rpm": 0.8,
    "motor_power_kw": 0.9,
    "duty_h_per_day": 0.85,
    "joint_rated_torque_nm": 0.4,
    "unit_mass_kg": 0.6,
    "arm_length_mm": 0.5,
    "bearing_span_mm": 0.15,
    "arm_offset_mm": 0.15,
    "shaft_support_distance_mm": 0.2,
    "hub_outer_mm": 0.25,
    "clamp_length_mm": 0.25,
    "bearing_kind": 0.2,
    "bearing_dynamic_rating_n": 0.1,
    "isolator_outer_mm": 0.12,
    "isolator_inner_mm": 0.12,
    "isolator_thickness_mm": 0.18,
    "isolator_hardness_shore_a": 0.08,
    "screw_thread": 0.65,
    "screw_count": 0.65,
    "screw_torque_nm": 0.7,
    "torque_passes_required": 0.3,
    "collar_gap_min_mm": 0.4,
    "starts_per_day": 0.3,
    "walk_order": 0.6,
    "seal_material": 0.45,
    "environment": 0.9,
    "ambient_c": 0.6,
    "downtime_cost_per_h": 0.75,
    "bearing_repair_cost": 0.6,
    "bearing_repair_h": 0.6,
    "leak_repair_cost": 0.5,
    "leak_repair_h": 0.5,
    "slip_repair_cost": 0.4,
    "slip_repair_h": 0.4,
}
"""How often a plant knows a column; those not named here are always known."""

SITES_WITH_SLIPS = 0.85
"""Share of the other sites that write slips down, as the first does, and say since when."""

TOGETHER = {
    "collar_gap_max_mm": "collar_gap_min_mm",
    "isolator_inner_mm": "isolator_outer_mm",
    "screw_count": "screw_thread",
    "clamp_length_mm": "hub_outer_mm",
}
WHOLE_COLUMNS = ("screw_count", "torque_passes_required", "walk_order")


def unit_keys(scenario: Scenario, site: Whole, sites: int) -> Words:
    """Return the keys: two letters of the site, and a running number."""
    names = scenario.sites(sites)
    letters = [_letters(name) for name in names]
    if len(set(letters)) < len(letters):
        letters = [f"{letter}{i + 1}" for i, letter in enumerate(letters)]
    width = max(3, len(str(len(site))))
    number = np.arange(1, len(site) + 1).astype(str).astype(object)
    padded = pd.Series(number).str.zfill(width).to_numpy(dtype=object)
    return np.asarray(np.array(letters, dtype=object)[site] + "-" + padded)


def _letters(name: str) -> str:
    return "".join(word[0] for word in name.split()).upper()[:2]


def _dates(first: np.datetime64, day: Whole, known: Flags) -> Words:
    return blank_unless(known, (first + day).astype(str).astype(object))


def _blank_out(chance: Chance, plate: pd.DataFrame, site: Whole, ways: Habits) -> pd.DataFrame:
    every, sites = np.arange(len(plate)), np.arange(int(site.max()) + 1)
    of_site = chance.at(sites).normal("papers of the site")[site]
    draws = chance.at(every)
    keeps_papers = 0.5 * of_site + draws.normal("papers")
    known: dict[str, Flags] = {}
    for column, share in KNOWN_SHARE.items():
        odds = ways.papers + ways.unevenly * np.log(share / (1 - share)) + keeps_papers
        known[column] = draws.share(column) < 1 / (1 + np.exp(-odds))
    for column, other in TOGETHER.items():
        known[column] = known[other]
    limits = ~known["shaft_tolerance"] & (draws.share("shaft limits") < 0.2)
    known["shaft_low_mm"] = known["shaft_high_mm"] = limits
    return plate.assign(**{c: plate[c].where(flags) for c, flags in known.items()})


def unit_table(chance: Chance, plant: NewPlant, first: np.datetime64) -> pd.DataFrame:
    """Write the units down.

    Parameters
    ----------
    chance : Chance
        Source of chance.
    plant : NewPlant
        Its nameplates, nothing blank, and who hung what when and where.
    first : numpy.datetime64
        First day of the records.

    Returns
    -------
    pandas.DataFrame
        Columns in the contract's order; dates as text, a blank as a missing value.
    """
    site, lives, scenario = plant.run.site, plant.run.lives, plant.scenario
    rows, sites = len(site), int(site.max()) + 1
    own = np.arange(rows)
    draws = chance.at(own)
    on_line = pd.Series(draws.share("walk order")).groupby([site, plant.line])
    plate = plant.plate.assign(walk_order=on_line.rank(method="first").to_numpy())
    table = _blank_out(chance.of("known"), plate, site, plant.run.ways)
    table["unit_id"] = unit_keys(scenario, site, sites)
    reducer = np.where(lives.came_from >= 0, lives.came_from, own)
    moved = np.isin(own, lives.came_from) | (lives.came_from >= 0)
    number = pd.Series((reducer + 1).astype(str)).str.zfill(5)
    table["asset_id"] = blank_unless(
        moved | (draws.share("asset_id") < 0.7), ("G" + number).to_list()
    )
    table["site"] = np.array(scenario.sites(sites), dtype=object)[site]
    names, drives = (np.array(words, dtype=object) for words in zip(*scenario.lines, strict=True))
    table["line"] = blank_unless(draws.share("line") < 0.95, names[plant.line])
    driven = draws.share("driven_equipment") < 0.85
    table["driven_equipment"] = blank_unless(driven, drives[plant.line])
    old = lives.hung < 0
    unknown = draws.share("installer") < np.where(old, 0.35, 0.06)
    table["installer"] = blank_unless(~unknown, plant.run.crews.names[plant.first_crew])
    table["installed_on"] = _dates(first, lives.hung, np.ones(rows, np.bool_))
    recorded = (lives.started > lives.hung) | (draws.share("started_on") < 0.5)
    table["started_on"] = _dates(first, lives.started, recorded)
    table["out_of_service_on"] = _dates(first, lives.last, lives.retired)
    writes = chance.at(np.arange(sites)).share("slips are recorded") < SITES_WITH_SLIPS
    at_site = writes[site] | (site == 0)
    slips = at_site & (draws.share("slips_recorded_from") < 0.95)
    table["slips_recorded_from"] = _dates(first, np.maximum(lives.started, 0), slips)
    kept = old | (draws.share("failures_recorded_from") < 0.1)
    table["failures_recorded_from"] = _dates(first, np.maximum(lives.started, 0), kept)
    for column in WHOLE_COLUMNS:
        table[column] = table[column].astype("Int64")
    table["backstop"] = blank_unless(
        (plant.plate["backstop"] == YES).to_numpy() | (draws.share("backstop") < 0.5),
        plant.plate["backstop"].to_list(),
    )
    return table.reindex(columns=[column.name for column in UNITS.columns])
