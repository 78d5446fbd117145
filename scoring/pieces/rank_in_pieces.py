"""Rank a data set in pieces: check all of them, put together what they share, rank each, merge."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import pandas as pd

from scoring.assessment import FleetLearning, FleetWide, PieceOfFleet
from scoring.contract import FLEET_TABLES
from scoring.errors import FixableError
from scoring.intake import CheckedFleet
from scoring.learning.other_plants import OtherPlants
from scoring.learning.rows_of_pieces import rows_together
from scoring.pieces.check_pieces import CheckedPiece, check_piece, require_ids_once
from scoring.pieces.cut_by_unit import Cut
from scoring.pieces.piece_folder import PieceFolder
from scoring.pieces.rank_pieces import RankedPiece, lay_out_rows, look_at_piece, rank_piece
from scoring.pieces.workers import Work
from scoring.records import Fleet, empty_table
from scoring.validation.choose_basis import try_and_choose


@dataclass(frozen=True)
class CheckedPieces:
    """A data set whose pieces were checked.

    Attributes
    ----------
    cut : Cut
        The pieces.
    pieces : tuple of CheckedPiece
        What was found in each.
    """

    cut: Cut
    pieces: tuple[CheckedPiece, ...]

    @property
    def checked(self) -> CheckedFleet:
        """What checking found in all pieces together, without their good rows."""
        found = [piece.checked for piece in self.pieces]
        faults = pd.concat([one.faults for one in found], ignore_index=True)
        place = {table.name: number for number, table in enumerate(FLEET_TABLES)}
        order = pd.DataFrame(
            {"table": faults["table"].map(place), "source": faults["source"], "row": faults["row"]}
        ).sort_values(["table", "source", "row"], kind="stable")
        names = {name for one in found for name in one.rejected}
        rejected = {
            name: [one.rejected[name] for one in found if name in one.rejected] for name in names
        }
        return CheckedFleet(
            Fleet(*(empty_table(table) for table in FLEET_TABLES)),
            faults.loc[order.index].reset_index(drop=True),
            {
                name: replace(parts[0], rows=[row for part in parts for row in part.rows])
                for name, parts in rejected.items()
            },
            tuple(dict.fromkeys(name for one in found for name in one.unusable)),
            tuple(dict.fromkeys(note for one in found for note in one.notes)),
            tuple(dict.fromkeys(said for one in found for said in one.assumptions)),
            sum(one.untold for one in found),
        )

    @property
    def of_fleet(self) -> list[PieceOfFleet]:
        """What each piece adds to what is the same for the whole fleet."""
        return [piece.of_fleet for piece in self.pieces]

    @property
    def units(self) -> int:
        """How many good units there are."""
        return sum(piece.units for piece in self.of_fleet)


def check_in_pieces(cut: Cut, work: Work, as_of: pd.Timestamp) -> CheckedPieces:
    """Check all pieces of a data set.

    Parameters
    ----------
    cut : Cut
        The pieces.
    work : callable
        From ``workers``.
    as_of : Timestamp
        What was known by its end counts.

    Returns
    -------
    CheckedPieces

    Raises
    ------
    FaultyRecordsError
        If an id stands in several pieces.
    """
    today = pd.Timestamp.today()
    done = work(check_piece, [(cut, number, today, as_of) for number in range(cut.pieces)])
    require_ids_once(cut)
    return CheckedPieces(cut, tuple(done))


def look_in_pieces(kept: PieceFolder, work: Work, as_of: pd.Timestamp) -> list[PieceOfFleet]:
    """Return what each piece of a fleet that was checked as a whole adds to it."""
    return work(look_at_piece, [(kept, number, as_of) for number in range(kept.pieces)])


def learn_in_pieces(
    kept: PieceFolder,
    of_fleet: Sequence[PieceOfFleet],
    wide: FleetWide,
    work: Work,
    others: OtherPlants | None = None,
) -> FleetLearning:
    """Learn from all pieces: each lays out its rows, and one fit is made of them all.

    Parameters
    ----------
    kept : PieceFolder
        The pieces, checked.
    of_fleet : sequence of PieceOfFleet
        What each of them adds to the fleet.
    wide : FleetWide
        What is the same for all units.
    work : callable
        From ``workers``.
    others : OtherPlants, optional
        Plants from whose failures learning begins, without this one.

    Returns
    -------
    FleetLearning
        Without the failures of single units, which each piece counts.
    """
    numbers = range(kept.pieces)
    sizes = work(lay_out_rows, [(kept, number, wide) for number in numbers])
    work.rest()  # who waits while one process fits would hold as much memory as the fit
    units = [piece.units for piece in of_fleet]
    pieces = (kept.hand_over_failure_rows(number) for number in numbers)
    rows = rows_together(pieces, sizes, units, kept.room)
    if others is not None:
        rows = replace(rows, others=others.priors)
    basis, table = try_and_choose(rows)
    return FleetLearning(wide.as_of, basis, table, {}, others)


def rank_in_pieces(
    kept: PieceFolder,
    wide: FleetWide,
    horizon_days: int,
    learning: FleetLearning | None,
    work: Work,
) -> Sequence[RankedPiece]:
    """Rank all pieces, each by itself.

    Parameters
    ----------
    kept : PieceFolder
        The pieces, checked.
    wide : FleetWide
        What is the same for all units.
    horizon_days : int
        Days looked ahead. [d]
    learning : FleetLearning, optional
        What failures say; by default the handbook stands alone.
    work : callable
        From ``workers``.

    Returns
    -------
    sequence of RankedPiece
        What is told of each piece; ``MergedRanking`` of ``kept.ranked`` has their rows.

    Raises
    ------
    FixableError
        If no unit was in service.
    """
    light = None
    if learning is not None:
        light = replace(learning, predictions=pd.DataFrame(), tallies={})
    asked = [(kept, number, wide, horizon_days, light) for number in range(kept.pieces)]
    done = work(rank_piece, asked)
    if not any(piece.units for piece in done):
        raise FixableError(
            f"no unit was in service on {wide.as_of.date()}; ask as of a day (--as-of) between "
            "installed_on and out_of_service_on"
        )
    return done
