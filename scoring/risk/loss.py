"""What a failure costs here, and the expected loss."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract.events import JOINT_SLIP, LOW_SPEED_BEARING, SEAL_LEAK
from scoring.errors import FixableError

Floats = NDArray[np.float64]

PLANNED_COSTS = {
    "downtime_cost_per_h": 400.0,
    "bearing_repair_cost": 6000.0,
    "bearing_repair_h": 12.0,
    "leak_repair_cost": 1200.0,
    "leak_repair_h": 4.0,
    "slip_repair_cost": 3000.0,
    "slip_repair_h": 10.0,
}
"""Costs where a whole fleet is silent; planning values of ours. [currency]"""

REPAIR = {
    LOW_SPEED_BEARING: ("bearing_repair_cost", "bearing_repair_h"),
    SEAL_LEAK: ("leak_repair_cost", "leak_repair_h"),
    JOINT_SLIP: ("slip_repair_cost", "slip_repair_h"),
}
"""Where the cost and the hours of each repair stand."""


@dataclass(frozen=True)
class Costs:
    """What failures cost at each unit.

    Attributes
    ----------
    table : DataFrame, shape (n_units, 7)
        The cost columns of ``units``, blanks filled.
    words : tuple of (ndarray of bool, str)
        For which units a cost was assumed, and how.
    currency : str
        The one currency of all costs, an ISO 4217 code; empty where no unit names one.
    """

    table: pd.DataFrame
    words: tuple[tuple[NDArray[np.bool_], str], ...]
    currency: str

    def of_failure(self, mode: str) -> Floats:
        """Return what repair and standstill of one failure cost."""
        repair, hours = REPAIR[mode]
        once, h, per_h = (
            self.table[name].to_numpy(dtype=np.float64)
            for name in (repair, hours, "downtime_cost_per_h")
        )
        return np.asarray(once + h * per_h)


@dataclass(frozen=True)
class UsualCosts:
    """What failures usually cost, by which blanks are filled.

    Attributes
    ----------
    by_site : DataFrame, shape (n_sites, 7)
        Median of each cost at each site; missing where a site is silent.
    fleet : Series, shape (7,)
        That of all units.
    currency : str
        The one currency of all costs; empty where no unit names one.
    """

    by_site: pd.DataFrame
    fleet: "pd.Series[float]"
    currency: str

    @classmethod
    def of(cls, units: pd.DataFrame) -> "UsualCosts":
        """Return what is usual among units in service.

        Raises
        ------
        FixableError
            If they name different currencies: their losses cannot be ranked together.
        """
        currency = one_currency(units["currency"].value_counts())
        costs = units[list(PLANNED_COSTS)]
        return cls(costs.groupby(units["site"], observed=True).median(), costs.median(), currency)


def fill_costs(units: pd.DataFrame, usual: UsualCosts | None = None) -> Costs:
    """Fill blank costs: the site's median, else the fleet's, else a planning value.

    Parameters
    ----------
    units : DataFrame, shape (n_units, ...)
        The units in service.
    usual : UsualCosts, optional
        What is usual in the whole fleet, where these are some of its units only.

    Returns
    -------
    Costs

    Raises
    ------
    FixableError
        If units name different currencies: their losses cannot be ranked together.
    """
    usual = UsualCosts.of(units) if usual is None else usual
    filled = {}
    site_blank, fleet_blank, plan_blank = (np.zeros(len(units), dtype=bool) for _ in range(3))
    site = usual.by_site.index.get_indexer(pd.Index(units["site"]))
    of_sites = usual.by_site[list(PLANNED_COSTS)].to_numpy(dtype=np.float64)
    of_sites = np.vstack([of_sites, np.full(len(PLANNED_COSTS), np.nan)])  # a site nobody knows
    of_fleet = usual.fleet[list(PLANNED_COSTS)].to_numpy(dtype=np.float64)
    for place, (name, planned) in enumerate(PLANNED_COSTS.items()):
        given, by_site = units[name].to_numpy(dtype=np.float64), of_sites[site, place]
        fleet = of_fleet[place]
        blank = np.isnan(given)
        no_site = blank & np.isnan(by_site)
        site_blank |= blank & ~no_site
        (plan_blank if np.isnan(fleet) else fleet_blank)[no_site] = True
        otherwise = planned if np.isnan(fleet) else fleet
        filled[name] = np.where(blank, np.where(no_site, otherwise, by_site), given)
    words = (
        (site_blank, "costs: the site's median"),
        (fleet_blank, "costs: the fleet's median"),
        (plan_blank, "costs: planning values of ours"),
    )
    return Costs(pd.DataFrame(filled, index=units.index, copy=False), words, usual.currency)


def one_currency(counts: "pd.Series[int]") -> str:
    """Return the one currency that units name, by how many name each; empty where none does.

    Raises
    ------
    FixableError
        If they name different ones: their losses cannot be ranked together.
    """
    if len(counts) > 1:
        said = ", ".join(f"{code} ({count} units)" for code, count in counts.sort_index().items())
        raise FixableError(
            f"the costs are in different currencies: {said}; one ranking has one currency. "
            "Convert the costs, or rank the units of each currency apart"
        )
    return str(counts.index[0]) if len(counts) else ""
