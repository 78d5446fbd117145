"""A ranking that is kept, and of which only the units are judged anew whose records changed."""

from bisect import bisect_left
from collections.abc import Callable, Collection
from dataclasses import dataclass, replace

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.assessment.assess import Assessment, FleetAssessor
from scoring.assessment.fleet_learning import FleetLearning
from scoring.assessment.fleet_wide import FleetWide
from scoring.contract.ranking import HOLD
from scoring.records import Fleet


def rows_of_ranking(assessment: Assessment) -> pd.DataFrame:
    """Return the contract's table ``ranking``."""
    return assessment.ranking


@dataclass(frozen=True)
class KeptRanking:
    """A ranking, and by what its units were judged.

    Attributes
    ----------
    wide : FleetWide
        What is the same for all units. It stays as it was, with what was learned, until somebody
        learns anew: else one look at one unit would move the chances of all others.
    learning : FleetLearning or None
        What the fleet's own failures said; None by the handbook alone.
    horizon_days : int
        Days looked ahead. [d]
    ranking : DataFrame, shape (n_units, ...)
        By rank: the contract's table ``ranking``, or what ``rows_of`` makes of it.
    rows_of : callable
        From an assessment to one row for each of its units, with what orders them.
    """

    wide: FleetWide
    learning: FleetLearning | None
    horizon_days: int
    ranking: pd.DataFrame
    rows_of: Callable[[Assessment], pd.DataFrame] = rows_of_ranking

    def with_changed(self, part: Fleet, unit_ids: Collection[str]) -> "KeptRanking":
        """Return the ranking after the records of some units changed.

        Parameters
        ----------
        part : Fleet
            The records of these units as they are now, and of all units at which a reducer of
            theirs hung: how old it is rests on them.
        unit_ids : collection of str
            The units whose rows are replaced. Who is not in service in ``part`` is ranked no more.

        Returns
        -------
        KeptRanking
            Bit for bit as if the whole fleet had been ranked anew by the same ``wide`` and
            ``learning``.
        """
        old = self.ranking
        rows = self._judged(FleetAssessor(part)) if len(part.units) else old.iloc[:0]
        new = rows[rows["unit_id"].isin(unit_ids)].reset_index(drop=True)
        kept = np.flatnonzero(~old["unit_id"].isin(unit_ids).to_numpy(dtype=bool))
        before = _places_among(old, kept, new)
        order = np.insert(kept, before, len(old) + np.arange(len(new)))
        both = pd.concat([old, new], ignore_index=True) if len(new) else old
        ranking = both.take(order).reset_index(drop=True)
        ranking["rank"] = np.arange(1, len(ranking) + 1)
        return replace(self, ranking=ranking)

    def _judged(self, units: FleetAssessor) -> pd.DataFrame:
        wide, own = self.wide, None
        if self.learning is not None:
            own = units.with_own_failures(self.learning, wide.as_of, wide)
        return self.rows_of(units.assess(wide.as_of, self.horizon_days, own, wide))


def _places_among(old: pd.DataFrame, kept: NDArray[np.int64], new: pd.DataFrame) -> list[int]:
    """Return before how many of the kept rows each new row stands."""
    ids, losses = old["unit_id"].array, old["expected_loss"].to_numpy()
    verdicts = old["verdict"].array

    def key(row: int) -> tuple[bool, float, str]:
        return verdicts[row] != HOLD, -losses[row], str(ids[row])

    wanted = zip(new["verdict"], new["expected_loss"].to_numpy(), new["unit_id"], strict=True)
    return [
        bisect_left(kept, (verdict != HOLD, -loss, str(unit_id)), key=key)
        for verdict, loss, unit_id in wanted
    ]
