"""What knowledge from other plants is worth: families of plants that have their effects in common.

Seeds fixed before any was looked at. Each wide plant of 200 units is ranked alone and with the
other four of its family as prior, and beside it a plant of 1,000 units of the same seed: of the
same effects, habits and spreads, but of other units, which the handbook alone may order better or
worse. So both are compared: the share, and what failures add to the handbook's. Run with
``pytest tests/benchmarks/test_other_plants_against_truth.py -m long -s`` to make the table.
"""

from pathlib import Path
from tempfile import TemporaryDirectory

import pandas as pd
import pytest
from joblib import Parallel, delayed
from lead_over_chance import share_of_oracle

from demo_data.families import WIDE
from demo_data.generate import generate_fleet
from demo_data.write import write_fleet
from scoring.assessment import FleetAssessor
from scoring.files.read_fleet import read_fleet
from scoring.handbook.held_arm_effect import HARMS as MODES
from scoring.intake import check_fleet
from scoring.learning.other_plants import KnownPlant, OtherPlants

AS_OF = pd.Timestamp("2026-06-30")
SEEDS = range(8501, 8511)
"""Of what the plants of each family have in common."""

FEW_SEEDS = range(8551, 8552)
PLANTS, UNITS, MANY = 5, 200, 1000
HANDBOOK, ALONE, PRIOR = "handbook", "alone", "others as prior"
LARGE, LARGE_HANDBOOK = "1,000 units", "handbook, 1,000 units"


def plant_of(units, seed, family_seed):
    """Return the assessor of a plant of one site, and the true chances of its units."""
    fleet = generate_fleet(units, seed, sites=1, family=WIDE, effects_seed=family_seed)
    with TemporaryDirectory() as folder:
        write_fleet(fleet, folder)
        truth = pd.read_parquet(Path(folder) / "truth" / "units.parquet").set_index("unit_id")
        checked = check_fleet(read_fleet(folder).tables, AS_OF)
    assert checked.faults.empty, checked.faults.to_string()
    return FleetAssessor(checked.fleet), truth


def shares(assessor, truth, learning):
    """Return for each failure the share of the oracle's lead."""
    ranked = assessor.assess(AS_OF, 365, learning)
    true = truth.loc[ranked.known.units["unit_id"]]
    return {
        mode: share_of_oracle(
            ranked.risk.modes[mode].probability, true[f"p_{mode}"].to_numpy(float)
        )
        for mode in MODES
    }


def rank_family(family_seed, plants=PLANTS, large=True):
    """Rank the plants of one family in every way; a row for each plant, way and failure."""
    small = [plant_of(UNITS, 10 * family_seed + n, family_seed) for n in range(plants)]
    known = OtherPlants(tuple(KnownPlant.of(a.fleet, a.failure_rows(AS_OF)) for a, _ in small))
    table = []
    for number, (assessor, truth) in enumerate(small):
        with_others = FleetAssessor(assessor.fleet, known)
        assert len(with_others.others.plants) == plants - 1
        ways = {
            HANDBOOK: (assessor, truth, None),
            ALONE: (assessor, truth, assessor.learn(AS_OF)),
            PRIOR: (with_others, truth, with_others.learn(AS_OF)),
        }
        if large:
            grown, its_truth = plant_of(MANY, 10 * family_seed + number, family_seed)
            ways[LARGE_HANDBOOK] = (grown, its_truth, None)
            ways[LARGE] = (grown, its_truth, grown.learn(AS_OF))
        table += [
            {"family": family_seed, "plant": number, "way": way, "mode": mode, "share": share}
            for way, given in ways.items()
            for mode, share in shares(*given).items()
        ]
    return table


def rank_families(seeds, **asked):
    """Rank families in two processes."""
    parts = Parallel(n_jobs=2)(delayed(rank_family)(seed, **asked) for seed in seeds)
    return pd.DataFrame([row for part in parts for row in part])


def means(table):
    """Return the mean share, ways across."""
    return table.pivot_table(index="mode", columns="way", values="share")


def gains(table):
    """Return what failures add to the handbook's share in each family, ways across."""
    mean = table.pivot_table(index=["mode", "family"], columns="way", values="share")
    own = {ALONE: HANDBOOK, PRIOR: HANDBOOK, LARGE: LARGE_HANDBOOK}
    return pd.DataFrame({way: mean[way] - mean[before] for way, before in own.items()})


def tell(table):
    """Print mean shares, what was gained, and by how much that is above half way."""
    gained = gains(table)
    above = (gained[PRIOR] - (gained[ALONE] + gained[LARGE]) / 2).groupby("mode")
    error = above.std() / table["family"].nunique() ** 0.5
    report = gained.groupby("mode").mean().assign(**{"above half way": above.mean()}, error=error)
    print(f"\nmean share of the oracle's lead\n{means(table).round(3).to_string()}")  # noqa: T201
    print(f"\ngained over the handbook\n{report.round(3).to_string()}")  # noqa: T201


@pytest.fixture(scope="session")
def table():
    found = rank_families(SEEDS)
    tell(found)
    return found


@pytest.mark.long
@pytest.mark.parametrize("mode", MODES)
def test_others_bring_a_plant_half_way_to_one_of_a_thousand_units(table, mode):
    for mean in (gains(table).groupby("mode").mean().loc[mode], means(table).loc[mode]):
        assert mean[PRIOR] >= (mean[ALONE] + mean[LARGE]) / 2, mean.round(3).to_string()
        assert mean[PRIOR] > mean[ALONE]


def test_other_plants_help_to_rank():
    """Of few families, to see the direction; all failures together, for each alone says little."""
    mean = rank_families(FEW_SEEDS, large=False).groupby("way")["share"].mean()
    assert mean[PRIOR] > mean[ALONE] > mean[HANDBOOK]
