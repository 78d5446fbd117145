"""A fleet as a person may see it: cut to their sites, and without money, before all else."""

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import pandas as pd

from scoring.access.acts import Act
from scoring.access.who_asks import Asker
from scoring.records import Fleet

COSTS = (
    "downtime_cost_per_h",
    "bearing_repair_cost",
    "leak_repair_cost",
    "slip_repair_cost",
    "currency",
)
"""What units say of money."""

WITHOUT_MONEY = (
    "What standstill and repairs cost is not for your role: losses here rest on planning values "
    "of ours, so that units may rank otherwise than for others."
)


@dataclass(frozen=True)
class Cut:
    """What is left of a fleet for somebody.

    Attributes
    ----------
    sites : frozenset of str or None
        The sites; none for all.
    with_money : bool
        Whether what the plant says of costs is left.
    """

    sites: frozenset[str] | None = None
    with_money: bool = True


WHOLE = Cut()


def cut_for(asker: Asker) -> Cut:
    """Return what is left of a fleet for somebody.

    Examples
    --------
    >>> from scoring.access.acts import Role
    >>> cut_for(Asker("Ann Bell", frozenset({Role.INSPECTOR}), frozenset({"North"})))
    Cut(sites=frozenset({'North'}), with_money=False)
    """
    return Cut(asker.sites, asker.may(Act.SEE_MONEY))


def cut_fleet(fleet: Fleet, cut: Cut) -> Fleet:
    """Return what is left of a fleet."""
    if cut.sites is not None:
        units = fleet.units[fleet.units["site"].isin(sorted(cut.sites))]
        fleet = Fleet(
            units.reset_index(drop=True),
            **{
                name: frame[frame["unit_id"].isin(units["unit_id"])].reset_index(drop=True)
                for name, frame in vars(fleet).items()
                if name != "units"
            },
        )
    if cut.with_money:
        return fleet
    blank_units = {name: _blank(fleet.units[name]) for name in COSTS}
    blank_events = {"cost": _blank(fleet.events["cost"])}
    return replace(
        fleet,
        units=fleet.units.assign(**blank_units),
        events=fleet.events.assign(**blank_events),
    )


def _blank(column: "pd.Series[Any]") -> "pd.Series[Any]":
    """Return a column of the same kind in which nothing stands."""
    return pd.Series(np.nan, index=column.index).astype(column.dtype)
