"""Torque of each pass and order of the screws, beside the checks on tightening.

The final torque is the one that the unit's own record states, or one that a person types from
the unit's own manual; none is ever supplied.
"""

from typing import Any

import numpy as np
import pandas as pd

from scoring.contract.mountings import CLAMPED, TAPERED_BUSHING
from scoring.errors import OutOfRangeError
from scoring.rules.tightening_schedule import LEAST_PASSES, screw_order, torque_shares

ASKED_WITH = ("torque_passes", "tightening_order", "final_torque_nm", "screws_low")
"""The checks beside which the help is shown."""

ORDER_HELP = {
    "star": "each time the screw that lies farthest from those tightened before",
    "circular": "one after another round the circle",
}

NOTE = (
    "Common practice, no source: screws hand-tight all round first; torque wrench for every "
    "pass; then the final torque all round until no screw turns. The final torque and the number "
    "of passes are those of the unit's own manual."
)


def tightening_help(units: pd.DataFrame, limits: pd.DataFrame) -> list[dict[str, Any] | None]:
    """Return the help of each unit; None for one that has no clamp screws.

    Parameters
    ----------
    units : DataFrame, shape (n_units, ...)
        The table ``units``.
    limits : DataFrame, shape (n_units, n_limits)
        Their limits.

    Returns
    -------
    list of dict or None
        ``final_torque_nm`` as recorded or None [N·m], ``passes``, ``shares`` of the final torque
        in each, ``order`` of the screws or None, ``order_words``, ``order_help``, ``note``.
    """
    asked = np.fmax(limits["torque_passes_required"].to_numpy(), LEAST_PASSES)
    rows = zip(
        units["mounting"], units["screw_torque_nm"], units["screw_count"], asked, strict=True
    )
    return [_of_one(str(mounting), *numbers) for mounting, *numbers in rows]


def _of_one(mounting: str, torque: float, screws: float, passes: float) -> dict[str, Any] | None:
    if mounting not in CLAMPED:
        return None
    words = "star" if mounting == TAPERED_BUSHING else "circular"
    return {
        "final_torque_nm": None if np.isnan(torque) else float(torque),
        "passes": int(passes),
        "shares": torque_shares(int(passes)),
        "order": _order(screws, mounting),
        "order_words": words,
        "order_help": ORDER_HELP[words],
        "note": NOTE,
    }


def _order(screws: float, mounting: str) -> list[int] | None:
    if np.isnan(screws):
        return None
    try:
        return screw_order(int(screws), mounting)
    except OutOfRangeError:  # one screw has no order, and some hundred no circle
        return None
