"""Which steps of hanging a crew gets wrong more, or less, often than luck explains."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray
from scipy.stats import hypergeom

from scoring.contract import CHECKS
from scoring.learning.credible import credible_ratio
from scoring.trends.false_discoveries import stand_out
from scoring.trends.looks_after_hanging import is_step

SHARE_OF_LUCK = 0.1
"""So many of the steps that are named may be luck, in the mean; ours. [-]"""

WORTH_OF_THE_FLEET = 4.0
"""Faults expected at which a crew's own ratio counts half: so that crews are believed to differ
by a factor of some 1.6 before anything is seen; planning value of ours. [-]"""

LEAST_CHANCE = 0.01
"""A step of which not even nothing but faults would be rarer by luck cannot be told; ours. [-]"""

FEWEST_LOOKS = 10
"""Of fewer hangings nothing is said, however they came out; ours. [-]"""

MORE, LESS, WITHIN, CANNOT_BE_TOLD = "more often", "less often", "within luck", "cannot be told"


@dataclass(frozen=True)
class StepsOfCrew:
    """A crew's steps beside those of the whole fleet.

    Attributes
    ----------
    steps : DataFrame
        One row for each check: ``check``, ``looks`` after this crew's hangings and how many found
        it ``wrong``; ``fleet_wrong`` of ``fleet_looks``, whoever hung; ``expected`` wrong ones, by
        the fleet's share at each mounting; ``ratio`` of wrong over expected, drawn towards 1, with
        its 90 % interval ``low``, ``high``; ``chance`` that luck alone makes as many wrong, and
        ``chance_less`` as few; ``stands``.
    by_mounting : DataFrame
        The same with ``mounting``, one row for each check and mounting.
    """

    steps: pd.DataFrame
    by_mounting: pd.DataFrame

    def standing(self, how: str) -> pd.DataFrame:
        """Return the steps that stand so, the furthest from the fleet first.

        Returns
        -------
        DataFrame
            As ``by_mounting``; ``mounting`` is missing where a step stands so over all mountings,
            which are then not told apart.
        """
        over_all = self.steps[self.steps["stands"] == how]
        at_one = self.by_mounting[self.by_mounting["stands"] == how]
        at_one = at_one[~at_one["check"].isin(over_all["check"])]
        some = pd.concat([over_all.assign(mounting=None), at_one], ignore_index=True)
        far = np.abs(np.log(some["ratio"].to_numpy(np.float64)))
        return some.iloc[np.argsort(-far, kind="stable")].reset_index(drop=True)


def steps_of_a_crew(looks: pd.DataFrame, crew: str) -> StepsOfCrew:
    """Hold a crew's steps against the whole fleet's.

    Parameters
    ----------
    looks : DataFrame
        From ``looks_after_hanging``.
    crew : str
        The crew.

    Returns
    -------
    StepsOfCrew

    Notes
    -----
    Chance: given how often a step was found wrong at all, mounting by mounting, and how many of
    these units were this crew's, the number at its units follows a hypergeometric law if crews do
    not differ (exact test of Fisher, one-sided, added over mountings; textbook). Steps of which
    the records could not tell, however they had come out, and those seen less than
    ``FEWEST_LOOKS`` times are left out; of all others, each over
    all mountings and at each of them, those stand out that ``stand_out`` names at
    ``SHARE_OF_LUCK``, those found wrong more and less often apart. Ratio: gamma prior about 1
    worth ``WORTH_OF_THE_FLEET`` (textbook).
    """
    own = (looks["crew"] == crew).to_numpy()
    cells = _counted(looks, own)
    by_mounting = _compared(cells, ["check", "mounting"])
    steps = _compared(cells, ["check"])
    order = {check.name: n for n, check in enumerate(filter(is_step, CHECKS))}
    tables = []
    for table in (steps, by_mounting):
        rows = table.sort_values("check", key=lambda names: names.map(order), kind="stable")
        tables.append(rows.reset_index(drop=True))
    judged = _judged(pd.concat(tables, ignore_index=True))
    of_all, at_one = judged[: len(tables[0])], judged[len(tables[0]) :]
    return StepsOfCrew(of_all.drop(columns="mounting"), at_one.reset_index(drop=True))


def _counted(looks: pd.DataFrame, own: NDArray[np.bool_]) -> pd.DataFrame:
    wrong = looks["wrong"].to_numpy(bool)
    counts = {"looks": own, "wrong": own & wrong, "fleet_looks": own | True, "fleet_wrong": wrong}
    table = looks[["check", "mounting"]].assign(
        **{name: flags.astype(np.int64) for name, flags in counts.items()}
    )
    cells = table.groupby(["check", "mounting"], as_index=False).sum()
    return cells[cells["looks"] > 0].reset_index(drop=True)


def _compared(cells: pd.DataFrame, by: list[str]) -> pd.DataFrame:
    cells = cells.assign(expected=cells["looks"] * cells["fleet_wrong"] / cells["fleet_looks"])
    names = ["looks", "wrong", "fleet_looks", "fleet_wrong", "expected"]
    table = cells.groupby(by, as_index=False)[names].sum()
    laws = [_tails(rows) for _, rows in cells.groupby(by)]
    columns = ("chance", "chance_less", "least", "least_less")
    table[list(columns)] = np.array(laws, dtype=np.float64).reshape(-1, len(columns))
    prior = WORTH_OF_THE_FLEET
    drawn = credible_ratio(table["wrong"], table["expected"], prior, prior)
    return table.assign(ratio=drawn.mean, low=drawn.low, high=drawn.high)


def _tails(cells: pd.DataFrame) -> tuple[float, float, float, float]:
    """Return the chance of as many and of as few, and the least that either could be."""
    law = np.ones(1)
    looks, of, wrong = (
        cells[name].to_numpy(np.int64) for name in ("looks", "fleet_looks", "fleet_wrong")
    )
    low, high = np.maximum(0, looks + wrong - of), np.minimum(looks, wrong)
    for n in range(len(cells)):  # at most one for each mounting
        could = np.arange(low[n], high[n] + 1)
        law = np.convolve(law, hypergeom.pmf(could, of[n], wrong[n], looks[n]))
    least = int(low.sum())
    place = int(cells["wrong"].sum()) - least
    return float(law[place:].sum()), float(law[: place + 1].sum()), float(law[-1]), float(law[0])


def _judged(table: pd.DataFrame) -> pd.DataFrame:
    stands = np.full(len(table), CANNOT_BE_TOLD, dtype=object)
    enough = (table["looks"] >= FEWEST_LOOKS).to_numpy()
    for how, chance, least in ((MORE, "chance", "least"), (LESS, "chance_less", "least_less")):
        can = (table[least] <= LEAST_CHANCE).to_numpy() & enough
        stands[can & (stands == CANNOT_BE_TOLD)] = WITHIN
        told = np.zeros(len(table), dtype=bool)
        told[can] = stand_out(table[chance].to_numpy(np.float64)[can], SHARE_OF_LUCK)
        stands[told] = how
    return table.drop(columns=["least", "least_less"]).assign(stands=stands)
