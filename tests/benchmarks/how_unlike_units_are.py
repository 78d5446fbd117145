"""By how much intervals must be widened for units alike on paper, and whether failures tell it.

``python tests/benchmarks/how_unlike_units_are.py`` looks at plants of both families whose seeds no
test uses: how often intervals hold the truth with one deviation or another, which one each fleet
would need to hold 9 of 10, and how that goes with the one under which its failures, unit by unit,
are likeliest.
"""

from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
import pandas as pd
from joblib import Parallel, delayed
from scipy.stats import nbinom

from demo_data.families import FAMILIES
from demo_data.generate import generate_fleet
from demo_data.write import write_fleet
from scoring.assessment import FleetAssessor
from scoring.consequences.interval import Z90
from scoring.files.read_fleet import read_fleet
from scoring.handbook.base_rates import BASE_RATES
from scoring.handbook.held_arm_effect import HARMS as MODES
from scoring.intake import check_fleet

AS_OF = pd.Timestamp("2026-06-30")
SEEDS = {200: range(8101, 8111), 2000: range(8201, 8205)}
DEVIATIONS = np.round(np.arange(0, 2.01, 0.05), 2)
SHOWN = (0.5, 0.65, 0.75, 0.8, 0.9)
CELL = ["family", "units", "mode"]


def of_one_fleet(family, units, seed):
    """Return for each failure shares held, what would be needed, and what failures tell."""
    with TemporaryDirectory() as folder:
        write_fleet(generate_fleet(units, seed, family=family), folder)
        truth = pd.read_parquet(Path(folder) / "truth" / "units.parquet").set_index("unit_id")
        assessor = FleetAssessor(check_fleet(read_fleet(folder).tables, AS_OF).fleet)
    rows = assessor.failure_rows(AS_OF)
    learning = assessor.learn(AS_OF, rows)
    said = assessor.assess(AS_OF, 365, learning)
    at_risk = said.known.history["leak_since"].isna().to_numpy()
    found = []
    for mode in MODES:
        risk = said.risk.modes[mode]
        true = truth.loc[said.known.units["unit_id"], f"p_{mode}"].to_numpy(float)
        shares = [_share_held(mode, risk, true, unlike)[at_risk].mean() for unlike in DEVIATIONS]
        needed = DEVIATIONS[np.argmax(np.array(shares) >= 0.9)]
        told = _told_by_failures(rows, mode, learning.basis[mode].learned)
        held = {str(u): shares[list(DEVIATIONS).index(u)] for u in SHOWN}
        found.append({"family": family, "units": units, "mode": mode, **held})
        found[-1] |= {"needed": needed, "told": told}
    return found


def _share_held(mode, risk, true, unlike):
    spread = np.sqrt(risk.log_spread**2 - BASE_RATES[mode].unlike_units ** 2 + unlike**2)
    median = risk.expected * np.exp(-(spread**2) / 2)
    low, high = (-np.expm1(-median * np.exp(sign * Z90 * spread)) for sign in (-1, 1))
    return (np.minimum(low, risk.probability) <= true) & (
        true <= np.maximum(high, risk.probability)
    )


def _told_by_failures(rows, mode, learned):
    """Return the deviation under which failures of each unit, of gamma hazards, are likeliest."""
    one = rows.modes[mode]
    corrected = one.expected * np.exp(learned.log_ratio(one.state_by(rows.place, -1)))
    failures, expected = (np.bincount(rows.place, of) for of in (one.failures_by(-1), corrected))
    shape = 1 / np.expm1(DEVIATIONS[1:, np.newaxis] ** 2)
    likelihood = nbinom.logpmf(failures, shape, shape / (shape + np.maximum(expected, 1e-9)))
    return DEVIATIONS[1:][likelihood.sum(axis=1).argmax()]


def main():
    fleets = [
        (family, units, seed) for family in FAMILIES for units in SEEDS for seed in SEEDS[units]
    ]
    parts = Parallel(n_jobs=2)(delayed(of_one_fleet)(*fleet) for fleet in fleets)
    table = pd.DataFrame([row for part in parts for row in part])
    means = table.groupby(CELL, sort=False).mean()
    print(means.round(3).to_string())  # noqa: T201 - a report
    print(means.mean().round(3).to_string())  # noqa: T201 - a report
    for (units, mode), cell in table.groupby(["units", "mode"], sort=False):
        together = cell["needed"].corr(cell["told"])
        print(f"needed and told, {units} units, {mode}: correlation {together:.2f}")  # noqa: T201


if __name__ == "__main__":
    main()
