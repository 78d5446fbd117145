"""Sets of looks that one visit to a unit may take, each with its time and worth."""

from dataclasses import dataclass

import numpy as np
import pandas as pd

SHORTEST = 1e-6
"""A look takes no less, so that worth an hour is a number. [min]"""


@dataclass(frozen=True)
class Visits:
    """What visits may take in.

    Attributes
    ----------
    looks : DataFrame, shape (n_looks, ...)
        Looks worth taking, one for all that show the same; with ``place`` and ``place_open``:
        their place in their unit's order, of all and of those with the guard on.
    table : DataFrame, shape (n_visits, 7)
        ``unit``, ``site``, ``guard_off`` (whether it is taken off), ``checks`` (how many, the
        first of that order), ``minutes``, ``value``.
    """

    looks: pd.DataFrame
    table: pd.DataFrame

    def looks_of(self, chosen: pd.DataFrame) -> pd.DataFrame:
        """Return the looks of some visits, at most one for each unit.

        Parameters
        ----------
        chosen : DataFrame
            Rows of ``table``.

        Returns
        -------
        DataFrame
            Rows of ``looks``.
        """
        said = chosen[["unit", "guard_off", "checks"]]
        joined = self.looks.merge(said, on="unit")
        place = joined["place"].where(joined["guard_off"], joined["place_open"])
        return joined[place < joined["checks"]].drop(columns=["guard_off", "checks"])


def visits_of(looks: pd.DataFrame) -> Visits:
    """Lay out what visits may take in.

    Parameters
    ----------
    looks : DataFrame
        From ``worth_of_looks``.

    Returns
    -------
    Visits
        For each unit the best look, the best two, and so on by worth a minute: of all, with the
        guard off where any of them needs it, and of those that can be seen with the guard on. The
        visit itself is counted once.
    """
    worth = looks[looks["value"] > 0].sort_values(
        ["value", "minutes", "check"], ascending=[False, True, True], kind="stable"
    )
    worth = worth.drop_duplicates(["unit", "shows"])
    worth = worth.assign(rate=worth["value"] / np.maximum(worth["minutes"], SHORTEST))
    worth = worth.sort_values(
        ["unit_id", "rate", "check"],
        ascending=[True, False, True],
        kind="stable",
        ignore_index=True,
    )
    open_ones = worth["guard_minutes"] == 0
    by_unit = worth.groupby("unit")
    worth["place"] = by_unit.cumcount()
    worth["place_open"] = np.where(
        open_ones, open_ones.astype(np.int64).groupby(worth["unit"]).cumsum() - 1, len(worth)
    )
    table = pd.concat(
        [_first_ones(worth, guard_off=True), _first_ones(worth[open_ones], guard_off=False)],
        ignore_index=True,
    )
    return Visits(worth, table)


def _first_ones(looks: pd.DataFrame, *, guard_off: bool) -> pd.DataFrame:
    """Return the first one, the first two, and so on of each unit's looks."""
    by_unit = looks.groupby("unit")
    minutes = by_unit["minutes"].cumsum() + by_unit["visit_minutes"].cummax()
    return pd.DataFrame(
        {
            "unit": looks["unit"],
            "site": looks["site"],
            "guard_off": guard_off,
            "checks": by_unit.cumcount() + 1,
            "minutes": minutes + by_unit["guard_minutes"].cummax(),
            "value": by_unit["value"].cumsum(),
        }
    )
