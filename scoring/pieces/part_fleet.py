"""Part a checked fleet that memory holds: so many units a piece, and all that was written of them.

Units follow each other as they did, so that the pieces one after the other are the fleet. Units at
which one reducer hung come into one piece, that of the first of them, for how old it is rests on
all of them.
"""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract import FLEET_TABLES
from scoring.pieces.piece_folder import PieceFolder
from scoring.records import Fleet

Places = NDArray[np.int64]


def part_fleet(fleet: Fleet, kept: PieceFolder) -> None:
    """Keep the rows of each piece of a fleet.

    Parameters
    ----------
    fleet : Fleet
        Checked tables.
    kept : PieceFolder
        Where to, and in how many pieces.
    """
    piece = _pieces_of(fleet.units, kept.pieces)
    unit_ids = pd.Index(fleet.units["unit_id"])
    parted = {}
    for table in FLEET_TABLES:
        frame = fleet.table(table.name)
        of_rows = piece
        if table.name != "units":
            of_rows = piece[unit_ids.get_indexer(pd.Index(frame["unit_id"]))]
        order = np.argsort(of_rows, kind="stable")
        ends = np.searchsorted(of_rows[order], np.arange(kept.pieces + 1))
        parted[table.name] = order, ends
    for number in range(kept.pieces):
        rows = {name: order[slice(*ends[number:][:2])] for name, (order, ends) in parted.items()}
        tables = (
            fleet.table(table.name).take(rows[table.name]).reset_index(drop=True)
            for table in FLEET_TABLES
        )
        kept.keep_good_rows(number, Fleet(*tables))


def _pieces_of(units: pd.DataFrame, pieces: int) -> Places:
    """Tell which piece each unit belongs to."""
    place = np.arange(len(units))
    asset, _ = pd.factorize(units["asset_id"])
    known = np.flatnonzero(asset >= 0)
    _, first, which = np.unique(asset[known], return_index=True, return_inverse=True)
    place[known] = known[first][which]
    return np.asarray(place * pieces // max(len(units), 1), dtype=np.int64)
