"""How often the 90 % interval of a fleet's expected loss holds the true one.

``python tests/benchmarks/loss_of_fleets_against_truth.py --units 200 --seeds 9001-9020`` makes the
table: by family, with failures to learn from and by the handbook alone.
"""

import argparse
import sys
from tempfile import TemporaryDirectory

import pandas as pd
from ways_to_rank import AS_OF, seeds_of

from demo_data.families import FAMILIES
from demo_data.generate import fleet_of, grow_plant
from demo_data.write import write_fleet
from scoring.assessment import FleetAssessor
from scoring.contract.events import MODES
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet
from scoring.risk.loss_of_the_fleet import loss_of_the_fleet


def of_one_fleet(family, units, seed):
    """Return what was said of one fleet's loss, beside the true one."""
    plant = grow_plant(units, seed, end=str(AS_OF.date()), family=family)
    made = fleet_of(plant, str(AS_OF.date()))
    with TemporaryDirectory() as folder:
        write_fleet(made, folder)
        assessor = FleetAssessor(check_fleet(read_fleet(folder).tables, AS_OF).fleet)
    truth = made.truth.units.set_index("unit_id")
    rows = []
    for basis, learning in (("learned", assessor.learn(AS_OF)), ("handbook", None)):
        said = assessor.assess(AS_OF, 365, learning)
        true = sum(
            truth.loc[said.known.units["unit_id"], f"p_{mode}"].to_numpy(float)
            @ said.risk.costs.of_failure(mode)
            for mode in MODES
        )
        corrections = said.yardstick.corrections(said.known.place)
        loss = loss_of_the_fleet(said.known, said.risk, 365, corrections)
        rows.append(
            {
                "family": family,
                "basis": basis,
                "seed": seed,
                "said over true": loss.mean / true,
                "low": loss.low / loss.mean,
                "high": loss.high / loss.mean,
                "holds": loss.low <= true <= loss.high,
            }
        )
    return rows


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--units", type=int, default=200)
    parser.add_argument("--seeds", default="9001-9020")
    asked = parser.parse_args()
    table = pd.DataFrame(
        row
        for family in FAMILIES
        for seed in seeds_of(asked.seeds)
        for row in of_one_fleet(family, asked.units, seed)
    )
    means = table.drop(columns="seed").groupby(["family", "basis"]).mean()
    sys.stdout.write(f"{means.round(3).to_string()}\n")
