"""Learn from one piece, and rank one piece, by what is the same for the whole fleet."""

from dataclasses import dataclass
from pathlib import Path

import pandas as pd
import pyarrow as pa

from scoring.assessment import FleetAssessor, FleetLearning, FleetWide
from scoring.learning.failure_rows import FailureRows
from scoring.pieces.check_pieces import good_rows
from scoring.pieces.cut_by_unit import Cut
from scoring.pieces.piece_files import keep_object, keep_table, kept_object

NOTES_KEPT = 5
"""So many notes of each kind are kept of a piece; the others are counted. Ours."""


@dataclass(frozen=True)
class RankedPiece:
    """What is told of a piece that was ranked; its rows lie in the folder of the pieces.

    Attributes
    ----------
    units : int
        Units in service.
    ignored, contradictory : DataFrame
        The first looks that mend no finding, and checks that contradict each other.
    odd : tuple of int
        How many there are of each.
    """

    units: int
    ignored: pd.DataFrame
    contradictory: pd.DataFrame
    odd: tuple[int, int]


def lay_out_rows(cut: Cut, number: int, wide: FleetWide) -> None:
    """Lay failures of a piece beside what may explain them, and keep that beside it."""
    rows = FleetAssessor(good_rows(cut, number)).failure_rows(wide.as_of, wide)
    keep_object(rows, _rows_of(cut, number))


def failure_rows_of_piece(cut: Cut, number: int) -> FailureRows:
    """Return what ``lay_out_rows`` kept."""
    rows: FailureRows = kept_object(_rows_of(cut, number))
    return rows


def rank_piece(
    cut: Cut, number: int, wide: FleetWide, horizon_days: int, learning: FleetLearning | None
) -> RankedPiece:
    """Rank the units of a piece among each other, and keep their rows beside it.

    Parameters
    ----------
    cut : Cut
        The pieces, checked.
    number : int
        Which of them.
    wide : FleetWide
        What is the same for the whole fleet.
    horizon_days : int
        Days looked ahead. [d]
    learning : FleetLearning, optional
        What failures say; those of each unit are counted here.

    Returns
    -------
    RankedPiece
    """
    assessor = FleetAssessor(good_rows(cut, number))
    own = None
    if learning is not None:
        own = assessor.with_own_failures(learning, wide.as_of, wide)
    assessment = assessor.assess(wide.as_of, horizon_days, own, wide)
    rows = pa.Table.from_pandas(assessment.ranking, preserve_index=False)
    keep_table(rows, ranked_rows_of(cut, number))
    ignored, contradictory = assessment.known.better_but_ignored, assessment.contradictions
    return RankedPiece(
        len(assessment.ranking),
        ignored.head(NOTES_KEPT).copy(),
        contradictory.head(NOTES_KEPT).copy(),
        (len(ignored), len(contradictory)),
    )


def ranked_rows_of(cut: Cut, number: int) -> Path:
    """Return where the ranked rows of a piece lie, each piece's in the order of its ranks."""
    return cut.folder / f"ranked-{number:06}.arrow"


def _rows_of(cut: Cut, number: int) -> Path:
    return cut.folder / f"rows-{number:06}.pickle"
