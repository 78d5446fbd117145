"""The units of a walk that are in service, site by site and line by line."""

from collections import Counter
from collections.abc import Sequence

import pandas as pd

from scoring.errors import FixableError
from scoring.walkdown_form.units_of_route import units_of_route


def units_in_service(
    units: pd.DataFrame,
    today: pd.Timestamp,
    *,
    sites: Sequence[str] = (),
    lines: Sequence[str] = (),
    unit_ids: Sequence[str] = (),
) -> list[str]:
    """Return the units of a route.

    Parameters
    ----------
    units : DataFrame, shape (n_units, ...)
        The table ``units``.
    today : Timestamp
        Units out of service by this day are left out, unless they are named.
    sites, lines : sequence of str
        Only units of these; empty: of all.
    unit_ids : sequence of str
        Only these, and in this order; empty: all, as recorded, site by site and line by line.

    Returns
    -------
    list of str

    Raises
    ------
    FixableError
        If there is no such site, line or unit, a unit is named twice, or none is left.

    Examples
    --------
    >>> units = pd.DataFrame({"unit_id": ["B", "A", "C"], "site": ["n", "s", "n"], "line": "1",
    ...                       "out_of_service_on": pd.NaT})
    >>> units_in_service(units, pd.Timestamp("2026-01-01"))
    ['B', 'C', 'A']
    """
    twice = [unit_id for unit_id, count in Counter(unit_ids).items() if count > 1]
    if twice:
        raise FixableError(f"the unit {twice[0]!r} stands twice; a walk visits each once")
    in_order = units.sort_values(["site", "line"], kind="stable")
    route = units_of_route(in_order, sites=sites, lines=lines, unit_ids=unit_ids)
    if unit_ids:
        return route
    ended = set(units.loc[units["out_of_service_on"] <= today, "unit_id"])
    in_service = [unit_id for unit_id in route if unit_id not in ended]
    if not in_service:
        raise FixableError("no unit of these is in service; ask for more sites or lines")
    return in_service
