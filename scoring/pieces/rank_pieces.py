"""Learn from one piece, and rank one piece, by what is the same for the whole fleet."""

from dataclasses import dataclass

import pandas as pd

from scoring.assessment import FleetAssessor, FleetLearning, FleetWide, PieceOfFleet
from scoring.pieces.piece_folder import PieceFolder

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


def look_at_piece(kept: PieceFolder, number: int, as_of: pd.Timestamp) -> PieceOfFleet:
    """Return what a piece adds to what is the same for the whole fleet."""
    return FleetAssessor(kept.good_rows(number)).piece(as_of)


def lay_out_rows(kept: PieceFolder, number: int, wide: FleetWide) -> int:
    """Lay failures of a piece beside what may explain them, keep that, and return how many rows."""
    rows = FleetAssessor(kept.good_rows(number)).failure_rows(wide.as_of, wide)
    kept.keep_failure_rows(number, rows)
    return len(rows)


def rank_piece(
    kept: PieceFolder,
    number: int,
    wide: FleetWide,
    horizon_days: int,
    learning: FleetLearning | None,
) -> RankedPiece:
    """Rank the units of a piece among each other, and keep their rows beside it.

    Parameters
    ----------
    kept : PieceFolder
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
    assessor = FleetAssessor(kept.good_rows(number))
    own = None
    if learning is not None:
        own = assessor.with_own_failures(learning, wide.as_of, wide)
    assessment = assessor.assess(wide.as_of, horizon_days, own, wide)
    kept.keep_ranked(number, assessment.ranking)
    ignored, contradictory = assessment.known.better_but_ignored, assessment.contradictions
    return RankedPiece(
        len(assessment.ranking),
        ignored.head(NOTES_KEPT).copy(),
        contradictory.head(NOTES_KEPT).copy(),
        (len(ignored), len(contradictory)),
    )
