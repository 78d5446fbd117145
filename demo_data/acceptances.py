"""The table ``accepted``: a few findings that an engineer lets stand for a time."""

import numpy as np
import pandas as pd

from demo_data.arrays import Words
from demo_data.chance import Chance
from demo_data.fault_model import Level
from demo_data.fault_table import CHECK_NAMES
from demo_data.fleet_state import FleetState
from demo_data.service_lives import ServiceLives
from scoring.contract import ACCEPTED

FEWEST, MOST = 2, 20
REASONS = np.array(
    [
        "waits for the yearly shutdown",
        "part on order",
        "looked at again: light duty",
        "belt is to be taken out",
    ],
    dtype=object,
)


def accepted_table(
    chance: Chance, state: FleetState, lives: ServiceLives, units: Words, first: np.datetime64
) -> pd.DataFrame:
    """Accept a few of the findings on record.

    Parameters
    ----------
    chance : Chance
        Source of chance.
    state : FleetState
        At the end of the records.
    lives : ServiceLives
        When each unit serves.
    units : object array, shape (units,)
        Keys of the units.
    first : numpy.datetime64
        First day of the records.

    Returns
    -------
    pandas.DataFrame
        Columns in the contract's order; some have run out by the end of the records.
    """
    open_now = (state.recorded == Level.CORRECT) & state.seen & lives.in_service[:, None]
    row, check = np.nonzero(open_now)
    count = min(len(row), int(np.clip(len(units) // 100, FEWEST, MOST)))
    drawn = chance.of("picked").at(np.arange(len(units))).shares(CHECK_NAMES)[row, check]
    picked = np.sort(np.argsort(drawn)[:count])
    row, check = row[picked], check[picked]
    draws = chance.at(row)
    last_seen = np.maximum(state.clock[row], 0)
    day = np.minimum(last_seen + draws.whole("day", 1, 40), lives.days - 1)
    until = day + np.array([60, 120, 180, 365])[draws.whole("until", 0, 4)]
    by_plant = draws.share("by") < 0.7
    order = np.argsort(day, kind="stable")
    table = pd.DataFrame(
        {
            "unit_id": units[row],
            "check": np.array(CHECK_NAMES, dtype=object)[check],
            "accepted_by": np.where(by_plant, "plant engineer", "works engineer"),
            "reason": REASONS[draws.whole("reason", 0, len(REASONS))],
            "accepted_on": (first + day).astype(str).astype(object),
            "until_on": (first + until).astype(str).astype(object),
        },
    ).iloc[order]
    table.insert(0, "accepted_id", [f"A{i + 1:03d}" for i in range(count)])
    return table[[column.name for column in ACCEPTED.columns]].reset_index(drop=True)
