"""Which units an inspector has to look at, or had better, and why, in the order of the walk."""

import numpy as np
import pandas as pd

from scoring.contract import CHECK_BY_NAME, CHECKS, Seen
from scoring.looking.look_minutes import LookMinutes
from scoring.looking.walking_order import walking_order
from scoring.rules.judged_units import JudgedUnits
from scoring.rules.look_status import never_seen, seen_too_long_ago

AFTER_REWORK, NEVER_SEEN, TOO_LONG_AGO, SUGGESTED = (
    "after re-work",
    "never seen",
    "seen too long ago",
    "suggested",
)
WHY = (AFTER_REWORK, NEVER_SEEN, TOO_LONG_AGO, SUGGESTED)
"""Why a check is to be looked at, the first reason first."""

OF_UNITS = ("unit_id", "site", "line", "driven_equipment", "mounting")
COLUMNS = (*OF_UNITS, *WHY, "done_on", "value", "currency", "minutes")
"""Columns of ``due_looks``."""


def due_looks(
    judged: JudgedUnits,
    overdue: pd.DataFrame,
    visits: pd.DataFrame | None = None,
    minutes: LookMinutes | None = None,
) -> pd.DataFrame:
    """List the units that are due for a look, or worth one.

    Parameters
    ----------
    judged : JudgedUnits
        What the rules say of the units in service.
    overdue : DataFrame
        Re-work that nobody has looked at in time, as ``trends.overdue_looks`` lists it.
    visits : DataFrame, optional
        Visits that ``plan_looks`` chose; by default none is suggested.
    minutes : LookMinutes, optional
        How long looking takes; by default by our planning values.

    Returns
    -------
    DataFrame, shape (n_units, 13)
        In walking order: ``unit_id``, ``site``, ``line``, ``driven_equipment``, ``mounting``;
        ``after re-work``, ``never seen``, ``seen too long ago`` and ``suggested``: names of
        checks, ``;`` between them, each under its first reason only, empty where there is none;
        ``done_on``: the day of the oldest such re-work; ``value`` of the suggested visit and its
        ``currency``; ``minutes`` that the visit takes. What can be seen only while a unit is hung
        is not asked for.
    """
    units = judged.known.units.reset_index(drop=True)
    looks = _looks(judged, _places(units, overdue), _places(units, visits))
    order = walking_order(units)
    table = units.loc[looks["unit"].unique(), list(OF_UNITS)]
    names = looks.groupby(["unit", "why"], sort=False, observed=True)["check"].agg(";".join)
    for why in WHY:
        here = names[names.index.get_level_values("why") == why].droplevel("why")
        table[why] = here.reindex(table.index).fillna("").astype(str)
    of_rework = _by_unit(units, overdue)
    table["done_on"] = of_rework.groupby("unit")["done_on"].min().reindex(table.index)
    of_visits = _by_unit(units, visits).set_index("unit")
    for name in ("value", "currency"):
        there = of_visits[name] if name in of_visits else pd.Series(dtype=object)
        table[name] = there.reindex(table.index)
    took = (minutes or LookMinutes()).of_checks(
        units["site"].take(looks["unit"].to_numpy()).reset_index(drop=True), looks["check"]
    )
    took.index = looks.index
    timed = looks[["unit"]].join(took).groupby("unit", sort=False)
    table["minutes"] = (
        timed["minutes"].sum() + timed["visit_minutes"].max() + timed["guard_minutes"].max()
    )
    walk = np.argsort(order[table.index.to_numpy()], kind="stable")
    return table.iloc[walk].reset_index(drop=True)[list(COLUMNS)]


def _looks(judged: JudgedUnits, rework: pd.DataFrame, suggested: pd.DataFrame) -> pd.DataFrame:
    """Return one row a unit and check: its place, the check, and the first reason for it."""
    known = judged.known
    parts = [rework.assign(why=AFTER_REWORK)]
    for check in CHECKS:
        if check.seen is Seen.HANGING:
            continue
        for why, here in (
            (NEVER_SEEN, never_seen(check, known, judged.limits)),
            (TOO_LONG_AGO, seen_too_long_ago(check, known)),
        ):
            place = np.flatnonzero(here)
            parts.append(pd.DataFrame({"unit": place, "check": check.name, "why": why}))
    parts.append(suggested.assign(why=SUGGESTED))
    looks = pd.concat(parts, ignore_index=True)
    looks["why"] = pd.Categorical(looks["why"], WHY, ordered=True)
    looks["walk"] = looks["check"].map({name: n for n, name in enumerate(CHECK_BY_NAME)})
    looks = looks.sort_values(["unit", "why", "walk"], kind="stable")
    return looks.drop_duplicates(["unit", "check"]).reset_index(drop=True)


def _by_unit(units: pd.DataFrame, table: pd.DataFrame | None) -> pd.DataFrame:
    """Put before each row of a table the place of its unit; units that are not there fall out."""
    if table is None:
        return pd.DataFrame({"unit": pd.Series(dtype=np.int64)})
    place = pd.Index(units["unit_id"]).get_indexer(pd.Index(table["unit_id"]))
    there: pd.DataFrame = table.assign(unit=place)[place >= 0]
    return there


def _places(units: pd.DataFrame, table: pd.DataFrame | None) -> pd.DataFrame:
    """Return one row a unit and check that a table names."""
    if table is None or table.empty:
        return pd.DataFrame({"unit": pd.Series(dtype=np.int64), "check": pd.Series(dtype=object)})
    there = _by_unit(units, table)
    each = there.assign(check=there["checks"].astype(object).str.split(";")).explode("check")
    can_be_seen = [name for name, check in CHECK_BY_NAME.items() if check.seen is not Seen.HANGING]
    looks: pd.DataFrame = each.loc[each["check"].isin(can_be_seen), ["unit", "check"]]
    return looks
