"""How often 90 % intervals hold the true chance, in each fifth of predicted risk and of load.

``python tests/benchmarks/intervals_by_fifths.py --units 200 --seeds 8601-8700`` makes the table,
with standard errors from fleet to fleet, for the units of a fleet share their error.
"""

import argparse
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
import pandas as pd
from joblib import Parallel, delayed
from ways_to_rank import AS_OF, seeds_of

from demo_data.families import FAMILIES
from demo_data.generate import fleet_of, grow_plant
from demo_data.physics_of_a_plant import load_over_rating
from demo_data.write import write_fleet
from scoring.assessment import FleetAssessor
from scoring.files.read_fleet import read_fleet
from scoring.handbook.held_arm_effect import HARMS as MODES
from scoring.intake import check_fleet

FIFTHS = 5
CELL = ["family", "mode"]


def of_one_fleet(family, units, seed):
    """Return of each unit and failure whether its interval holds, and in which fifths it is."""
    plant = grow_plant(units, seed, end=str(AS_OF.date()), family=family)
    with TemporaryDirectory() as folder:
        write_fleet(fleet_of(plant, str(AS_OF.date())), folder)
        truth = pd.read_parquet(Path(folder) / "truth" / "units.parquet").set_index("unit_id")
        assessor = FleetAssessor(check_fleet(read_fleet(folder).tables, AS_OF).fleet)
    said = assessor.assess(AS_OF, 365, assessor.learn(AS_OF))
    unit_id = said.known.units["unit_id"]
    place = pd.Index(assessor.fleet.units["unit_id"]).get_indexer(pd.Index(unit_id))
    load = load_over_rating(plant.plate)[place]
    leaks = said.known.history["leak_since"].notna().to_numpy()
    tables = []
    for mode in MODES:
        risk = said.risk.modes[mode]
        true = truth.loc[unit_id, f"p_{mode}"].to_numpy(float)
        table = pd.DataFrame(
            {
                "family": family,
                "seed": seed,
                "mode": mode,
                "holds": (risk.low <= true) & (true <= risk.high),
                "risk": _fifth(risk.expected),
                "load": _fifth(load),
            }
        )
        tables.append(table[~leaks])
    return pd.concat(tables)


def _fifth(values):
    """Return the fifth, from 1, in which each value stands."""
    return np.ceil(FIFTHS * pd.Series(values).rank(pct=True).to_numpy()).astype(int)


def with_errors(table, by):
    """Return the share of intervals that hold, and its standard error from fleet to fleet."""
    of_fleets = table.groupby([*CELL, *by, "seed"])["holds"].mean()
    of_cells = of_fleets.groupby([*CELL, *by])
    return pd.DataFrame({"held": of_cells.mean(), "error": of_cells.sem()})


def main():
    parser = argparse.ArgumentParser(description="Tell how often intervals hold, by fifths.")
    parser.add_argument("--units", type=int, required=True)
    parser.add_argument("--seeds", type=seeds_of, required=True, help="such as 8601-8700")
    given = parser.parse_args()
    fleets = [(family, given.units, seed) for family in FAMILIES for seed in given.seeds]
    table = pd.concat(Parallel(n_jobs=2)(delayed(of_one_fleet)(*fleet) for fleet in fleets))
    for by in ([], ["risk"], ["load"]):
        said = with_errors(table, by).reset_index().pivot_table(index=CELL, columns=by or None)
        print(said.round(3).to_string())  # noqa: T201 - a report
    print(np.unique(table["seed"]).size, "fleets of each family")  # noqa: T201


if __name__ == "__main__":
    main()
