"""The units of a route, by site and line."""

from collections.abc import Sequence

import pandas as pd


def route_choices(units: pd.DataFrame) -> tuple[list[str], list[str]]:
    """Return the sites and the lines that there are."""
    return sorted(units["site"].dropna().unique()), sorted(units["line"].dropna().unique())


def route_name(sites: Sequence[str], lines: Sequence[str]) -> str:
    """Return the name of a route, under which a browser keeps its answers.

    Examples
    --------
    >>> route_name(["Stone shed"], []), route_name([], [])
    ('Stone shed', 'all units')
    """
    return ", ".join((*sites, *lines)) or "all units"
