"""How often each cost stands in the records of each site: enough for medians, and small."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.risk.loss import PLANNED_COSTS, UsualCosts, one_currency

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class CostsCounted:
    """The costs of some units in service, equal ones of a site counted.

    Attributes
    ----------
    sites : tuple of str
        All sites, sorted, whether they tell of costs or not.
    currencies : Series of int
        How many units name each currency.
    costs : dict of str to Series of int
        For each cost, by site and then by amount, how many units name it.
    """

    sites: tuple[str, ...]
    currencies: "pd.Series[int]"
    costs: "dict[str, pd.Series[int]]"

    @classmethod
    def of(cls, units: pd.DataFrame) -> "CostsCounted":
        """Count the costs of units in service."""
        return cls(
            tuple(sorted(units["site"].dropna().unique())),
            units["currency"].value_counts(),
            {name: units.groupby(["site", name], observed=True).size() for name in PLANNED_COSTS},
        )

    @classmethod
    def together(cls, parts: Sequence["CostsCounted"]) -> "CostsCounted":
        """Put together what was counted of several parts of a fleet."""
        return cls(
            tuple(sorted({site for part in parts for site in part.sites})),
            pd.concat([part.currencies for part in parts]).groupby(level=0).sum(),
            {
                name: pd.concat([part.costs[name] for part in parts]).groupby(level=[0, 1]).sum()
                for name in PLANNED_COSTS
            },
        )

    @property
    def usual(self) -> UsualCosts:
        """What is usual among all of them: as ``UsualCosts.of`` says of the units themselves.

        Raises
        ------
        FixableError
            If they name different currencies: their losses cannot be ranked together.
        """
        currency = one_currency(self.currencies)
        by_site, fleet = {}, {}
        for name, counted in self.costs.items():
            site = pd.Index(self.sites).get_indexer(counted.index.get_level_values(0))
            amount = counted.index.get_level_values(1).to_numpy(dtype=np.float64)
            times = np.asarray(counted, dtype=np.int64)
            by_site[name] = _medians(site, amount, times, len(self.sites))
            fleet[name] = _medians(np.zeros(len(site), np.int64), amount, times, 1)[0]
        index = pd.Index(self.sites, name="site", dtype=object)
        return UsualCosts(pd.DataFrame(by_site, index=index), pd.Series(fleet), currency)


def _medians(
    group: NDArray[np.int64], amount: Floats, times: NDArray[np.int64], n_groups: int
) -> Floats:
    """Return the median of each group's amounts, each of which stands there so many times.

    Examples
    --------
    >>> one = np.zeros(3, np.int64)
    >>> _medians(one, np.array([1.0, 5.0, 9.0]), np.array([2, 1, 1]), 2).tolist()
    [3.0, nan]
    """
    order = np.lexsort([amount, group])
    amount, upto = amount[order], np.cumsum(times[order])
    count = np.bincount(group, weights=times, minlength=n_groups).astype(np.int64)
    before = np.cumsum(count) - count
    known = np.flatnonzero(count)
    lower, upper = (
        amount[np.searchsorted(upto, before[known] + middle, side="right")]
        for middle in ((count[known] - 1) // 2, count[known] // 2)
    )
    medians = np.full(n_groups, np.nan)
    medians[known] = (lower + upper) / 2
    return medians
