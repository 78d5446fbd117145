"""How often a crew's page names a step that is no worse than the fleet's, and misses one that is.

``python tests/benchmarks/crews_against_truth.py --units 400 --seeds 9101-9120`` makes the tables:
once of fleets whose crews all hang alike, once of fleets whose crews differ as they do in each
family.
"""

import argparse
import sys
from dataclasses import replace
from tempfile import TemporaryDirectory

import numpy as np
import pandas as pd
from ways_to_rank import AS_OF, seeds_of

from demo_data import set_up
from demo_data.families import FAMILIES
from demo_data.fault_arrays import IS_FAULT
from demo_data.fault_table import CHECK_NAMES
from demo_data.generate import fleet_of, grow_plant
from demo_data.hanging import outcome_chances
from demo_data.write import write_fleet
from scoring.assessment import FleetAssessor
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet
from scoring.trends.looks_after_hanging import looks_after_hanging
from scoring.trends.steps_of_a_crew import LESS, MORE, steps_of_a_crew

ALIKE = {"careless_crews": 0.0, "careless_sites": 0.0, "quirks": 0.0}
"""Habits of a plant whose crews differ by nothing."""


def with_crews_alike(draw):
    """Return what draws the same plants with crews that hang alike."""

    def drawn(common, chance):
        nature = draw(common, chance)
        return replace(nature, habits=replace(nature.habits, **ALIKE))

    return drawn


def true_shares(plant):
    """Return how often each crew truly leaves each check wrong on each mounting."""
    chances = outcome_chances(plant.run.fault_chance)
    wrong = (chances * IS_FAULT).sum(axis=-1)
    names = list(plant.run.crews.names)
    index = pd.MultiIndex.from_product(
        [names, EVERY_MOUNTING, CHECK_NAMES], names=["crew", "mounting", "check"]
    )
    return pd.Series(wrong.ravel(), index=index)


def of_one_fleet(family, units, seed):
    """Return each crew's steps, as named and as they truly are over the fleet's."""
    plant = grow_plant(units, seed, end=str(AS_OF.date()), family=family)
    with TemporaryDirectory() as folder:
        write_fleet(fleet_of(plant, str(AS_OF.date())), folder)
        assessor = FleetAssessor(check_fleet(read_fleet(folder).tables, AS_OF).fleet)
    looks = looks_after_hanging(assessor.timeline, AS_OF)
    keys = pd.MultiIndex.from_frame(looks[["crew", "mounting", "check"]])
    looks["true"] = true_shares(plant).reindex(keys).to_numpy()
    everybody = looks.groupby(["mounting", "check"])["true"].transform("mean")
    tables = []
    for crew in looks["crew"].dropna().unique():
        own = looks["crew"] == crew
        true = looks["true"][own].groupby(looks["check"][own]).sum()
        usual = everybody[own].groupby(looks["check"][own]).sum()
        said = steps_of_a_crew(looks, crew)
        found = said.steps.set_index("check")
        named = {how: found.index.isin(said.standing(how)["check"]) for how in (MORE, LESS)}
        table = found.assign(times=true / usual, crew=crew, seed=seed, **named)
        tables.append(table.reset_index())
    return pd.concat(tables)


def say(line):
    sys.stdout.write(f"{line}\n")


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--units", type=int, default=400)
    parser.add_argument("--seeds", default="9101-9120")
    asked = parser.parse_args()
    usual = dict(FAMILIES)
    for family, draw in usual.items():
        for alike in (True, False):
            set_up.FAMILIES[family] = with_crews_alike(draw) if alike else draw
            table = pd.concat(
                of_one_fleet(family, asked.units, seed) for seed in seeds_of(asked.seeds)
            )
            tell(family, alike, table)


def tell(family, alike, table):
    crews = table.groupby(["seed", "crew"])
    named = table[table[MORE]]
    say(f"\n{family}, {asked_of(alike)}: {crews.ngroups} crews, {len(named)} steps named")
    if alike:
        for how in (MORE, LESS):
            any_named = crews[how].any()
            error = np.sqrt(any_named.mean() * (1 - any_named.mean()) / len(any_named))
            say(f"  crews with a step {how}: {any_named.mean():.3f} ({error:.3f})")
        return
    say(f"  crews with a step named: {crews[MORE].any().mean():.3f}")
    say(f"  truly above the fleet, of those named: {(named['times'] > 1).mean():.3f}")
    say(f"  truly above 1.25 times: {(named['times'] > 1.25).mean():.3f}")
    for times, least in ((1.5, 3), (2.0, 3), (2.0, 8)):
        bad = table[(table["times"] >= times) & (table["expected"] >= least)]
        share = bad[MORE].mean()
        say(f"  of {len(bad)} steps truly {times} times, {least} faults usual: {share:.3f} named")
    ratio = table[table["expected"] > 1]
    holds = (ratio["low"] <= ratio["times"]) & (ratio["times"] <= ratio["high"])
    say(f"  90 % intervals hold the truth: {holds.mean():.3f}")


def asked_of(alike):
    return "crews alike" if alike else "crews differ"


if __name__ == "__main__":
    main()
