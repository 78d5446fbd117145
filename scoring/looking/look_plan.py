"""A route for the inspector's hours at each site; beside each check the chance that it is wrong."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import pandas as pd

from scoring.contract import CHECK_BY_NAME
from scoring.looking.candidate_visits import visits_of
from scoring.looking.choose_visits import choose_visits

MINUTES_PER_H = 60.0

COLUMNS = (
    "order",
    "unit_id",
    "site",
    "line",
    "checks",
    "minutes",
    "value",
    "currency",
    "chance_of_finding",
    "chance_of_hold",
    "why",
)
"""Columns of a route."""


@dataclass(frozen=True)
class LookPlan:
    """Where to look.

    Attributes
    ----------
    visits : DataFrame, shape (n_visits, 11)
        One row a unit, as one walks past them (``walking_order``): ``order``, ``unit_id``,
        ``site``, ``line``, ``checks`` (names, ``;`` between them, in walking order),
        ``minutes``, ``value``, ``currency``, ``chance_of_finding`` (that any of them finds
        something) and ``chance_of_hold`` [-], ``why``.
    by_site : DataFrame
        ``site``, ``hours`` there are, ``visits``, ``minutes`` spent, ``value``, and ``bound`` that
        no route passes.
    """

    visits: pd.DataFrame
    by_site: pd.DataFrame


def plan_looks(looks: pd.DataFrame, hours: Mapping[str, float]) -> LookPlan:
    """Choose where to look in the hours there are.

    Parameters
    ----------
    looks : DataFrame
        From ``worth_of_looks``.
    hours : mapping of str to float
        For each site the inspector's hours; other sites are not visited. [h]

    Returns
    -------
    LookPlan

    Notes
    -----
    Values of a unit's looks are added, which is nearly right; see ``worth_of_looks``.
    """
    there = looks[looks["site"].astype(object).isin(list(hours))]
    visits = visits_of(there)
    site = visits.table["site"].astype(object).to_numpy()
    chosen, rows = [], []
    for name in sorted(hours):
        here = visits.table[site == name]
        best = choose_visits(
            here["unit"].to_numpy(np.int64),
            here["minutes"].to_numpy(np.float64),
            here["value"].to_numpy(np.float64),
            hours[name] * MINUTES_PER_H,
        )
        chosen.append(here[best.taken])
        spent = float(here["minutes"].to_numpy()[best.taken].sum())
        rows.append((name, hours[name], int(best.taken.sum()), spent, best.value, best.bound))
    by_site = pd.DataFrame(rows, columns=["site", "hours", "visits", "minutes", "value", "bound"])
    taken = pd.concat(chosen, ignore_index=True) if chosen else visits.table[:0]
    return LookPlan(_as_table(visits.looks_of(taken), taken), by_site)


def _as_table(looks: pd.DataFrame, taken: pd.DataFrame) -> pd.DataFrame:
    """Write one row a unit, in the order of the walk."""
    place = looks["check"].map({name: n for n, name in enumerate(CHECK_BY_NAME)})
    ordered = looks.assign(walk=place.to_numpy(), label=_labels(looks["check"]))
    ordered = ordered.sort_values(["unit", "walk"], kind="stable")
    ordered["quiet"] = np.log1p(-np.minimum(ordered["chance_of_finding"], 1 - 1e-12))
    ordered["no_hold"] = np.log1p(-np.minimum(ordered["chance_of_hold"], 1 - 1e-12))
    by_unit = ordered.groupby("unit", sort=False)
    table = by_unit[["walk_place", "unit_id", "site", "line", "currency"]].first()
    table["checks"] = by_unit["check"].agg(";".join)
    table["why"] = _why(ordered)
    table["chance_of_finding"] = -np.expm1(by_unit["quiet"].sum())
    table["chance_of_hold"] = -np.expm1(by_unit["no_hold"].sum())
    table = table.join(taken.set_index("unit")[["minutes", "value"]])
    table = table.sort_values("walk_place")
    table["order"] = np.arange(1, len(table) + 1)
    return table.reset_index(drop=True)[list(COLUMNS)]


def _labels(check: "pd.Series[str]") -> "pd.Series[str]":
    return check.map({name: one.label for name, one in CHECK_BY_NAME.items()})


def _why(looks: pd.DataFrame) -> "pd.Series[str]":
    """Say for each unit why to look, check by check with the chance that it is wrong."""
    per_cent = (100 * looks["chance_of_finding"]).round(0).astype(int).astype(str)
    said = looks.assign(said=looks["label"] + " (" + per_cent + " %)")
    parts = said.groupby(["unit", "why"], sort=False)["said"].agg(", ".join).reset_index()
    parts["said"] = parts["why"] + ": " + parts["said"]
    words: pd.Series[str] = parts.groupby("unit", sort=False)["said"].agg("; ".join)
    return words
