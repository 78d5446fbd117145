"""The order in which one walks past machines: site, line, place on the line, else by their ids."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

Ints = NDArray[np.int64]

DIGITS = 20
"""To which numbers within names are filled up, so that 2 comes before 10; ids are no longer."""


def walking_order(units: pd.DataFrame) -> Ints:
    """Return where each unit stands in the walk past all of them.

    Parameters
    ----------
    units : DataFrame, shape (n_units, ...)
        ``unit_id``, ``site``, ``line`` and ``walk_order``.

    Returns
    -------
    ndarray of int, shape (n_units,)
        The first one has 0.

    Notes
    -----
    By site, line and ``walk_order``; units of a line without one come after those that have one,
    in the natural order of their ids.

    Examples
    --------
    >>> units = pd.DataFrame({"unit_id": ["CH-10", "CH-2", "CH-7"], "site": "pit", "line": "one"})
    >>> walking_order(units.assign(walk_order=[None, None, 5])).tolist()
    [2, 1, 0]
    """
    keys = {name: natural_key(units[name]) for name in ("site", "line", "unit_id")}
    place = pd.to_numeric(units["walk_order"]).to_numpy(np.float64, na_value=np.inf)
    there = pd.DataFrame({**keys, "place": np.where(np.isnan(place), np.inf, place)})
    walk = there.reset_index(drop=True).sort_values(
        ["site", "line", "place", "unit_id"], kind="stable"
    )
    order = np.empty(len(units), dtype=np.int64)
    order[walk.index.to_numpy()] = np.arange(len(units))
    return order


def natural_key(names: "pd.Series[str]") -> NDArray[np.object_]:
    """Return keys that sort names as people do: CH-2 before CH-10.

    Examples
    --------
    >>> sorted(["CH-10", "CH-2"], key=lambda one: natural_key(pd.Series([one]))[0])
    ['CH-2', 'CH-10']
    """
    known = names.astype(object).where(names.notna(), "").astype(str)
    filled = known.str.replace(r"\d+", lambda found: found.group().zfill(DIGITS), regex=True)
    keys: NDArray[np.object_] = filled.to_numpy(dtype=object)
    return keys
