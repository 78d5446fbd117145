"""How well ours, and the models that others would fit, rank fleets of one family of plants.

Of ours and of the handbook alone also how often their 90 % intervals hold the true chance.

Look at seeds that no test uses with, for example, ``python tests/benchmarks/ways_to_rank.py
--units 2000 --seeds 8201-8204 --ways ridge``; ours and the handbook alone are always there.
"""

import argparse
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
import pandas as pd
from joblib import Parallel, delayed
from lead_over_chance import expected_concordance, share_of_oracle
from other_models import OTHER_MODELS
from rows_for_other_models import rows_ahead, rows_to_learn_from

from demo_data.families import FAMILIES
from demo_data.generate import generate_fleet
from demo_data.write import write_fleet
from scoring.assessment import FleetAssessor
from scoring.contract.events import SEAL_LEAK
from scoring.files.read_fleet import read_fleet
from scoring.handbook.held_arm_effect import HARMS as MODES
from scoring.intake import check_fleet

AS_OF = pd.Timestamp("2026-06-30")
OURS, HANDBOOK = "ours", "handbook"


def rank_one_fleet(family, units, seed, ways=tuple(OTHER_MODELS)):
    """Rank one fleet in every way; a row for each failure and way."""
    with TemporaryDirectory() as folder:
        write_fleet(generate_fleet(units, seed, family=family), folder)
        truth = pd.read_parquet(Path(folder) / "truth" / "units.parquet").set_index("unit_id")
        checked = check_fleet(read_fleet(folder).tables, AS_OF)
    assert checked.faults.empty, checked.faults.to_string()
    assessor = FleetAssessor(checked.fleet)
    learning, rows = assessor.learn(AS_OF), assessor.failure_rows(AS_OF)
    handbook, ours = assessor.assess(AS_OF), assessor.assess(AS_OF, 365, learning)
    unit_id = ours.known.units["unit_id"]
    leaks = ours.known.history["leak_since"].notna().to_numpy()
    table = []
    for mode in MODES:
        chance = truth.loc[unit_id, f"p_{mode}"].to_numpy(float)
        before = handbook.risk.modes[mode].probability
        scores = {OURS: ours.risk.modes[mode].probability, HANDBOOK: before}
        learned_from, usual = rows_to_learn_from(checked.fleet.units, rows, mode)
        ahead = rows_ahead(handbook, mode, usual)
        for way in ways:
            scores[way] = OTHER_MODELS[way](learned_from, ahead)
            if mode == SEAL_LEAK:  # known to have failed, to every way alike
                scores[way][leaks] = scores[way].max() + 1
        index = expected_concordance(before, chance)
        said = {OURS: ours.risk.modes[mode], HANDBOOK: handbook.risk.modes[mode]}
        held = {way: _share_held(risk, chance, ~leaks) for way, risk in said.items()}
        table += [
            {
                "family": family,
                "units": units,
                "seed": seed,
                "mode": mode,
                "way": way,
                "share": share_of_oracle(score, chance),
                "above_handbook": expected_concordance(score, chance) - index,
                "held": held.get(way, np.nan),
            }
            for way, score in scores.items()
        ]
    return table


def rank_fleets(fleets, ways=tuple(OTHER_MODELS)):
    """Rank fleets, each a family, a number of units and a seed, in two processes."""
    parts = Parallel(n_jobs=2)(delayed(rank_one_fleet)(*fleet, ways) for fleet in fleets)
    return pd.DataFrame([row for part in parts for row in part])


def _share_held(risk, chance, still_to_fail):
    return ((risk.low <= chance) & (chance <= risk.high))[still_to_fail].mean()


def mean_shares(table):
    """Return the mean share of the oracle's lead, ways across."""
    return table.pivot_table(index=["units", "mode", "family"], columns="way", values="share")


def mean_held(table):
    """Return the mean share of true chances within 90 % intervals, ways that have them across."""
    return table.pivot_table(index=["units", "mode", "family"], columns="way", values="held")


def seeds_of(text):
    first, _, last = text.partition("-")
    return range(int(first), int(last or first) + 1)


def main():
    parser = argparse.ArgumentParser(description="Rank fleets of some seeds in several ways.")
    parser.add_argument("--families", nargs="+", choices=FAMILIES, default=list(FAMILIES))
    parser.add_argument("--units", type=int, required=True)
    parser.add_argument("--seeds", type=seeds_of, required=True, help="such as 8101-8110")
    parser.add_argument("--ways", nargs="*", choices=OTHER_MODELS, default=list(OTHER_MODELS))
    given = parser.parse_args()
    fleets = [(family, given.units, seed) for family in given.families for seed in given.seeds]
    table = rank_fleets(fleets, tuple(given.ways))
    report = mean_shares(table).round(3).to_string()
    print(f"mean share of the oracle's lead\n{report}")  # noqa: T201 - a report
    report = mean_held(table).round(3).to_string()
    print(f"mean share of the truth within 90 % intervals\n{report}")  # noqa: T201 - a report


if __name__ == "__main__":
    main()
