"""Ranking generated fleets by the handbook alone, against the chances that are true of them.

Seeds 1 to 10, fixed in advance; no failure on record is used. Run with ``-s`` to see the table.
"""

from dataclasses import replace
from typing import NamedTuple

import numpy as np
import pandas as pd
import pytest
from lead_over_chance import expected_concordance, share_of_oracle

from demo_data.generate import generate_fleet
from demo_data.write import write_fleet
from scoring.assessment import FleetAssessor
from scoring.contract import CHECKS, UNITS, Kind
from scoring.files.read_fleet import read_fleet
from scoring.handbook.held_arm_effect import HARMS as MODES
from scoring.intake import check_fleet

SEEDS = range(1, 11)
SIZE = 2000
AS_OF = pd.Timestamp("2026-06-30")
LEAST_SHARE = {"low_speed_bearing": 0.67, "seal_leak": 0.61}
MEASURED = {check.name for check in CHECKS if check.kind is Kind.NUMBER}
OF_SOME = {check.name for check in CHECKS if check.only_where}
COUNTED = {check.name for check in CHECKS if check.kind is Kind.COUNT}


class Shares(NamedTuple):
    """Share of the oracle's lead, of our chances and of the plain count of findings."""

    ours: float
    count: float


def kept_columns(tables, *, without):
    """Keep the required columns of units, and drop some checks from the walkdowns.

    Which units have what only some have stands in no required column: it cannot be looked at.
    """
    kept = dict(tables)
    kept["units"] = _only(tables["units"], lambda name: name in UNITS.required)
    kept["walkdowns"] = _only(tables["walkdowns"], lambda name: name not in without | OF_SOME)
    return kept


def _only(table, wanted):
    places = [n for n, name in enumerate(table.headings) if wanted(name)]
    return replace(
        table,
        headings=tuple(table.headings[n] for n in places),
        cells=tuple(table.cells[n] for n in places),
    )


def shares_of(tables, truth):
    checked = check_fleet(tables, AS_OF)
    assert checked.faults.empty, checked.faults.to_string()
    assessment = FleetAssessor(checked.fleet).assess(AS_OF)
    assert (assessment.ranking["basis"] == "handbook").all()
    unit_id = assessment.known.units["unit_id"]
    kept = unit_id.isin(truth.index).to_numpy()  # without its column nobody knows who left service
    count = assessment.verdicts.counts[["HOLD", "CORRECT"]].sum(axis=1).to_numpy(float)[kept]
    shares = {}
    for mode in MODES:
        chance = truth.loc[unit_id[kept], f"p_{mode}"].to_numpy(float)
        ours = assessment.risk.modes[mode].probability[kept]
        shares[mode] = Shares(share_of_oracle(ours, chance), share_of_oracle(count, chance))
    return shares


@pytest.fixture(scope="session")
def shares(tmp_path_factory):
    """Shares by what was kept of the records, failure and seed."""
    rows = []
    for seed in SEEDS:
        folder = tmp_path_factory.mktemp(f"seed_{seed}")
        write_fleet(generate_fleet(SIZE, seed), folder)
        truth = pd.read_parquet(folder / "truth" / "units.parquet").set_index("unit_id")
        every = read_fleet(str(folder)).tables
        records = {
            "everything": every,
            "words and counts": kept_columns(every, without=MEASURED),
            "words only": kept_columns(every, without=MEASURED | COUNTED),
        }
        for kept, tables in records.items():
            for mode, both in shares_of(tables, truth).items():
                rows.append({"kept": kept, "mode": mode, "seed": seed, **both._asdict()})
    table = pd.DataFrame(rows)
    spread = table.groupby(["mode", "kept"])[["ours", "count"]].agg(["mean", "min", "max"])
    print("\nshare of the oracle's lead\n" + spread.round(3).to_string())  # noqa: T201 - a report
    return table.set_index(["kept", "mode", "seed"]).sort_index()


@pytest.mark.slow
@pytest.mark.parametrize("mode", MODES)
def test_every_record_ranks_better_than_counting_findings_at_each_seed(shares, mode):
    full = shares.loc["everything", mode]
    assert full["ours"].mean() >= LEAST_SHARE[mode]
    assert (full["ours"] > full["count"]).all()


@pytest.mark.slow
@pytest.mark.parametrize("mode", MODES)
def test_five_columns_and_plain_checks_rank_better_than_chance_and_counting(shares, mode):
    """Nothing measured is kept; what is counted by hand is, as free isolators and passes."""
    reduced = shares.loc["words and counts", mode]
    assert reduced["ours"].min() > 0
    assert reduced["ours"].mean() > reduced["count"].mean()
    assert reduced["ours"].mean() <= shares.loc["everything", mode]["ours"].mean()


@pytest.mark.slow
@pytest.mark.parametrize("mode", MODES)
def test_words_alone_rank_better_than_chance(shares, mode):
    """Without free isolators and passes bearings are ranked no better than by counting."""
    assert shares.loc["words only", mode]["ours"].mean() > 0.1


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_quick_concordance_agrees_with_two_plain_loops(seed):
    draw = np.random.default_rng(seed)
    chance, score = draw.uniform(size=40), draw.integers(0, 8, 40).astype(float)
    right = pairs = 0.0
    for i in range(40):
        for j in range(40):
            if i != j:
                weight = chance[i] * (1 - chance[j])
                pairs += weight
                right += weight * ((score[i] > score[j]) + 0.5 * (score[i] == score[j]))
    assert expected_concordance(score, chance) == pytest.approx(right / pairs)
    assert share_of_oracle(chance, chance) == pytest.approx(1)
    assert share_of_oracle(np.zeros(40), chance) == pytest.approx(0)
