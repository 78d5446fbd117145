"""Which units are walked to, and in which order."""

from collections.abc import Sequence

import pandas as pd

from scoring.errors import FixableError


def units_on_route(
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
    >>> units_on_route(units, pd.Timestamp("2026-01-01"))
    ['B', 'C', 'A']
    """
    for column, wanted in (("site", sites), ("line", lines), ("unit_id", unit_ids)):
        _refuse_unknown(units, column, wanted)
    twice = [one for place, one in enumerate(unit_ids) if one in unit_ids[:place]]
    if twice:
        raise FixableError(f"the unit {twice[0]!r} stands twice; a walk visits each once")
    kept = units
    for column, wanted in (("site", sites), ("line", lines), ("unit_id", unit_ids)):
        if wanted:
            kept = kept[kept[column].isin(list(wanted))]
    if unit_ids:
        place = {unit_id: n for n, unit_id in enumerate(unit_ids)}
        route = sorted(kept["unit_id"].tolist(), key=lambda unit_id: place[unit_id])
    else:
        ended = kept["out_of_service_on"].notna() & (kept["out_of_service_on"] <= today)
        kept = kept[~ended]
        route = kept.sort_values(["site", "line"], kind="stable")["unit_id"].tolist()
    if not route:
        raise FixableError("no unit in service is left for this route; ask for more sites or lines")
    return [str(unit_id) for unit_id in route]


def _refuse_unknown(units: pd.DataFrame, column: str, wanted: Sequence[str]) -> None:
    there = set(units[column].dropna())
    for one in wanted:
        if one not in there:
            known = sorted(map(str, there))
            few = f"; there are {', '.join(known)}" if 0 < len(known) <= 12 else ""
            raise FixableError(f"there is no {column} {one!r}{few}; names are case-sensitive")
