"""Two public sets, cut in three: Cox's fit learns from two parts and is judged on the third."""

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray
from public_lives import rossi
from scikit_survival_ways import structured
from sksurv.datasets import load_gbsg2
from sksurv.linear_model import CoxPHSurvivalAnalysis

from scoring.learning.lifetimes import Lifetimes


@dataclass(frozen=True)
class HeldOut:
    """What was learned, and the lives to judge it on."""

    model: CoxPHSurvivalAnalysis
    learned: Lifetimes
    judged: Lifetimes
    known: NDArray[np.float64]

    @property
    def score(self):
        return self.model.predict(self.known)

    def chance(self, horizon):
        """Return the predicted chances of failing by a horizon."""
        survivors = self.model.predict_survival_function(self.known)
        return 1 - np.array([of_one(horizon) for of_one in survivors])

    def cumulative_hazard(self):
        """Return what was predicted of each life's own time under observation."""
        of_each = self.model.predict_cumulative_hazard_function(self.known)
        return np.array([of_one(end) for of_one, end in zip(of_each, self.judged.end, strict=True)])


def hold_out(known, end, failed):
    """Learn from all but every third row, from the first on."""
    kept = np.arange(len(end)) % 3 != 0
    learned, judged = (Lifetimes.of(end[part], failed[part]) for part in (kept, ~kept))
    model = CoxPHSurvivalAnalysis(ties="efron", tol=1e-12).fit(known[kept], structured(learned))
    return HeldOut(model, learned, judged, known[~kept])


@cache
def rossi_held_out():
    lives = rossi()
    return hold_out(lives.known, lives.week, lives.arrested)


def breast_cancer():
    """Return what was known of each patient, days until cancer came back, and whether it did.

    Schumacher et al. 1994, from memory; as in scikit-survival 0.28.0.
    """
    table, ends = load_gbsg2()
    known = np.column_stack(
        [
            table["age"],
            table["horTh"] == "yes",
            table["tsize"],
            table["tgrade"].map({"I": 1, "II": 2, "III": 3}).astype(float),
            table["pnodes"],
            np.log1p(table["progrec"]),
        ]
    ).astype(float)
    return known, ends["time"], ends["cens"]


@cache
def breast_cancer_held_out():
    return hold_out(*breast_cancer())
