"""The units of a route, by site and line."""

from collections.abc import Sequence

import pandas as pd


def route_choices(units: pd.DataFrame) -> tuple[list[str], list[str]]:
    """Return the sites and the lines that there are."""
    return sorted(units["site"].dropna().unique()), sorted(units["line"].dropna().unique())


def units_of_route(
    units: pd.DataFrame, day: pd.Timestamp, sites: Sequence[str], lines: Sequence[str]
) -> list[str]:
    """Return the units of some sites and lines that were in service on a day, in their order.

    Parameters
    ----------
    units : DataFrame
        The table ``units``.
    day : Timestamp
        The day.
    sites, lines : sequence of str
        Empty for all.

    Returns
    -------
    list of str

    Examples
    --------
    >>> units = pd.DataFrame({"unit_id": ["B", "A"], "site": "x", "line": ["1", "2"],
    ...     "installed_on": pd.Timestamp("2024-01-01"), "out_of_service_on": pd.NaT})
    >>> units_of_route(units, pd.Timestamp("2026-01-01"), [], [])
    ['B', 'A']
    """
    there = (units["installed_on"] <= day) & ~(units["out_of_service_on"] < day)
    if sites:
        there &= units["site"].isin(list(sites))
    if lines:
        there &= units["line"].isin(list(lines))
    ordered = units[there].sort_values(["site", "line", "unit_id"], kind="stable")
    route: list[str] = ordered["unit_id"].tolist()
    return route


def route_name(sites: Sequence[str], lines: Sequence[str]) -> str:
    """Return the name of a route, under which a browser keeps its answers.

    Examples
    --------
    >>> route_name(["Stone shed"], []), route_name([], [])
    ('Stone shed', 'all units')
    """
    return ", ".join((*sites, *lines)) or "all units"
