"""Check the records of one piece, and of all pieces whether they hold an id twice."""

from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pandas as pd
import pyarrow as pa

from scoring.assessment import FleetAssessor, PieceOfFleet
from scoring.contract import FLEET_TABLES
from scoring.errors import FaultyRecordsError
from scoring.intake import CheckedFleet, check_fleet
from scoring.pieces.cut_by_unit import Cut, hash_of_ids
from scoring.pieces.piece_files import keep_numbers
from scoring.records import Fleet, empty_table

PARTS_OF_IDS = 16
"""Ids are compared in so many parts, to bound memory. Ours."""


@dataclass(frozen=True)
class CheckedPiece:
    """What checking one piece found.

    Attributes
    ----------
    of_fleet : PieceOfFleet
        What it adds to what is the same for the whole fleet.
    checked : CheckedFleet
        All but its good rows, which lie in the folder of the pieces.
    """

    of_fleet: PieceOfFleet
    checked: CheckedFleet


def check_piece(cut: Cut, number: int, today: pd.Timestamp, as_of: pd.Timestamp) -> CheckedPiece:
    """Read and check the records of a piece, and keep its good rows beside it.

    Parameters
    ----------
    cut : Cut
        The pieces.
    number : int
        Which of them.
    today : Timestamp
        The day against which the future is judged.
    as_of : Timestamp
        What was known by its end counts.

    Returns
    -------
    CheckedPiece
    """
    checked = check_fleet(cut.piece(number), today, may_mend=False)
    fleet = checked.fleet
    for table in FLEET_TABLES:
        ids = pa.array(fleet.table(table.name)[table.key].array)
        keep_numbers(np.sort(hash_of_ids(ids)), _ids_of(cut, table.name, number))
    cut.kept.keep_good_rows(number, fleet)
    nothing = Fleet(*(empty_table(table) for table in FLEET_TABLES))  # no view, which holds all
    told = CheckedFleet(**vars(checked) | {"fleet": nothing})
    return CheckedPiece(FleetAssessor(fleet).piece(as_of), told)


def require_ids_once(cut: Cut) -> None:
    """Refuse ids that stand in more than one piece.

    Raises
    ------
    FaultyRecordsError
        If a record's id is that of another unit's, too, or looks the same.
    """
    for table in FLEET_TABLES:
        kept = [
            np.load(_ids_of(cut, table.name, number), mmap_mode="r") for number in range(cut.pieces)
        ]
        bounds = np.arange(1, PARTS_OF_IDS, dtype=np.uint64) * np.uint64(2**64 // PARTS_OF_IDS)
        ends = [np.concatenate([[0], np.searchsorted(one, bounds), [len(one)]]) for one in kept]
        for part in range(PARTS_OF_IDS):
            here = [one[end[part] : end[part + 1]] for one, end in zip(kept, ends, strict=True)]
            found = np.sort(np.concatenate(here))
            twice = found[1:][found[1:] == found[:-1]]
            if len(twice):
                raise FaultyRecordsError(
                    f"the {table.key} {_named(cut, table.name, table.key, twice[0])} stands at two "
                    f"units in {table.name}, or two look the same; nothing was done. Give each "
                    "record an id of its own"
                )


def _named(cut: Cut, name: str, key: str, wanted: np.uint64) -> str:
    """Return an id by its number."""
    for number in range(cut.pieces):
        ids = cut.kept.good_rows(number).table(name)[key]
        places = np.flatnonzero(hash_of_ids(pa.array(ids.array)) == wanted)
        if len(places):
            return repr(ids.iloc[places[0]])
    return ""


def _ids_of(cut: Cut, table: str, number: int) -> Path:
    return cut.folder / f"ids-{table}-{number:06}.npy"
