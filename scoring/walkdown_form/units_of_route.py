"""Which units a walk goes to, and in which order."""

from collections.abc import Sequence

import pandas as pd

from scoring.errors import FixableError


def units_of_route(
    units: pd.DataFrame,
    *,
    sites: Sequence[str] = (),
    lines: Sequence[str] = (),
    unit_ids: Sequence[str] = (),
) -> list[str]:
    """Return the units of some sites and lines, or those that are named.

    Parameters
    ----------
    units : DataFrame, shape (n_units, ...)
        The table ``units``.
    sites, lines : sequence of str
        Units of any of these; all where there are none.
    unit_ids : sequence of str
        Units by name; they are walked to in this order.

    Returns
    -------
    list of str
        Named units in the order given; others as the records have them.

    Raises
    ------
    FixableError
        If a name is not in the records, or no unit is left.

    Examples
    --------
    >>> units = pd.DataFrame({"unit_id": ["A", "B"], "site": ["n", "s"], "line": ["1", "1"]})
    >>> units_of_route(units, sites=["s"]), units_of_route(units, unit_ids=["B", "A"])
    (['B'], ['B', 'A'])
    """
    chosen = units
    for column, wanted in (("site", sites), ("line", lines), ("unit_id", unit_ids)):
        if not wanted:
            continue
        there = chosen[column].astype(object)
        for name in wanted:
            if not (there == name).any():
                raise FixableError(_no_such(column, name, there))
        chosen = chosen[there.isin(list(wanted))]
    found = [str(name) for name in chosen["unit_id"].tolist()]
    if not found:
        raise FixableError("the records hold no unit; there is nothing to walk to")
    if not unit_ids:
        return found
    return list(dict.fromkeys(name for name in unit_ids if name in set(found)))


def _no_such(column: str, name: str, there: pd.Series) -> str:
    words = {"site": "site", "line": "line", "unit_id": "unit"}[column]
    known = sorted({str(one) for one in there.dropna().tolist()})
    some = ", ".join(known[:8]) + (", ..." if len(known) > 8 else "")
    return f"there is no {words} {name!r} here; there are {some or 'none'}"
