"""How much loss an hour of re-work avoids: the curve of both, the best hours first."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


def curve_of_hours(bundles: pd.DataFrame, points: int = 100) -> pd.DataFrame:
    """Return the loss avoided against crew-hours, were they all in one window.

    Parameters
    ----------
    bundles : DataFrame, shape (n_bundles, ...)
        With ``unit``, ``hours`` and ``loss_avoided``.
    points : int
        How many points are shown at most, from none to all hours.

    Returns
    -------
    DataFrame, shape (n_points, 3)
        ``hours`` [h], ``loss_avoided`` [currency] and ``an_hour_more`` avoids there
        [currency/h]; never bent upward.

    Notes
    -----
    The linear relaxation of a multiple-choice knapsack: of each unit the sets of work on its upper
    convex hull, in steps, the steepest first (textbook). No plan of as many hours avoids more;
    crane, people, parts and holds are not looked at.

    Examples
    --------
    >>> sets = pd.DataFrame({"unit": [0, 0, 1], "hours": [1.0, 3, 2], "loss_avoided": [9.0, 11, 8]})
    >>> curve_of_hours(sets)[["hours", "loss_avoided"]].to_numpy().tolist()
    [[0.0, 0.0], [1.0, 9.0], [3.0, 17.0], [5.0, 19.0]]
    """
    unit, hours, loss = _hull(
        bundles["unit"].to_numpy(dtype=np.int64),
        bundles["hours"].to_numpy(dtype=np.float64),
        bundles["loss_avoided"].to_numpy(dtype=np.float64),
    )
    first = np.append(True, unit[1:] != unit[:-1])[: len(unit)]
    more_hours = hours - np.where(first, 0.0, np.roll(hours, 1))
    more_loss = loss - np.where(first, 0.0, np.roll(loss, 1))
    slope = more_loss / np.maximum(more_hours, 1e-9)
    order = np.argsort(-slope, kind="stable")
    table = pd.DataFrame(
        {
            "hours": np.append(0.0, np.cumsum(more_hours[order])),
            "loss_avoided": np.append(0.0, np.cumsum(more_loss[order])),
            "an_hour_more": np.append(slope[order], 0.0),
        }
    )
    if len(table) <= points:
        return table
    shown = np.linspace(0, np.sqrt(len(table) - 1), points) ** 2  # closer where it bends
    return table.iloc[np.unique(np.round(shown).astype(np.int64))].reset_index(drop=True)


def _hull(unit: Ints, hours: Floats, loss: Floats) -> tuple[Ints, Floats, Floats]:
    """Keep of each unit the sets on the upper convex hull that begins at no work at all."""
    order = np.lexsort([-loss, hours, unit])
    unit, hours, loss = unit[order], hours[order], loss[order]
    keep = loss > 0
    while True:  # as often as a unit has sets
        unit, hours, loss = unit[keep], hours[keep], loss[keep]
        if len(unit) == 0:
            return unit, hours, loss
        first = np.append(True, unit[1:] != unit[:-1])
        last = np.append(first[1:], True)
        rise = loss - np.where(first, 0.0, np.roll(loss, 1))
        slope = rise / np.maximum(hours - np.where(first, 0.0, np.roll(hours, 1)), 1e-9)
        steeper_next = ~last & (np.roll(slope, -1) >= slope)
        keep = (rise > 0) & ~(steeper_next & (np.roll(rise, -1) > 0))
        if keep.all():
            return unit, hours, loss
