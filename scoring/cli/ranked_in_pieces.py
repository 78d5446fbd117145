"""``mount-risk rank`` in pieces: data sets larger than memory, or many units by all cores."""

import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

import click
import pandas as pd

from scoring.assessment import FleetLearning, FleetWide, PieceOfFleet
from scoring.cli.fleet_question import FleetQuestion
from scoring.cli.loading import keep_good_or_stop
from scoring.cli.ranking_told import tell_odd, tell_worst
from scoring.cli.screen import err, say, warn
from scoring.errors import FaultyRecordsError, FixableError
from scoring.files.write_table import IN_PARTS, check_suffix
from scoring.intake import CheckedFleet
from scoring.learning.other_plants import OtherPlants
from scoring.pieces.data_set import find_data_set, rows_of
from scoring.records import Fleet

if TYPE_CHECKING:
    from scoring.pieces.piece_folder import PieceFolder
    from scoring.pieces.rank_in_pieces import CheckedPieces
    from scoring.pieces.rank_pieces import RankedPiece
    from scoring.pieces.workers import Work

MANY_UNITS = 50_000
"""From so many units on a data set is read in pieces without being asked. Ours."""

MANY_TO_JUDGE = 20_000
"""From so many units on records that memory holds are judged in pieces without being asked: what
it takes to begin the workers is a small part of it. Ours."""

MOST_WORKERS = 2
"""No more of them unless it was asked for, whatever cores there are: each holds memory. Ours."""


@dataclass(frozen=True)
class AskedInPieces:
    """A ranking, as the person who asks gave it."""

    question: FleetQuestion
    out: Path | None
    show: int
    workers: int | None
    cluster: str
    scratch: Path | None

    @cached_property
    def tables(self) -> dict[str, Path] | None:
        """Where the tables of the data set lie; None where FLEET is something else."""
        return find_data_set(self.question.fleet)

    @property
    def is_asked(self) -> bool:
        """Whether somebody wants pieces, however few units there are."""
        return bool(self.workers or self.cluster or self.scratch)

    def processes(self, pieces: int) -> int:
        """Return how many pieces are worked on at a time on this machine."""
        return min(pieces, self.workers or min(MOST_WORKERS, os.cpu_count() or 1))

    @property
    def reads_in_pieces(self) -> bool:
        """Whether it is a data set that is to be read in pieces.

        Raises
        ------
        UsageError
            If it is to be, and something else that was given forbids it.
        """
        question = self.question
        if self.tables is None:
            return False
        in_folders = any(path.is_dir() for path in self.tables.values())
        needs = {
            "--add": bool(question.add),
            "--plan": question.headings is not None,
            "--prior": question.prior is not None,
        }
        given = [name for name, is_given in needs.items() if is_given]
        if given and (self.is_asked or in_folders):
            raise click.UsageError(f"{given[0]} does not go with a data set ranked in pieces")
        if given:
            return False
        return self.is_asked or in_folders or rows_of(self.tables["units"]) >= MANY_UNITS

    def judges_in_pieces(self, checked: CheckedFleet) -> bool:
        """Tell whether records that memory holds are to be judged in pieces."""
        return self.is_asked or len(checked.fleet.units) >= MANY_TO_JUDGE


def tell_data_set(asked: AskedInPieces) -> None:
    """Rank a data set in pieces, print what is told of it, and write it where that was asked.

    Raises
    ------
    FixableError
        If something of it cannot be used.
    """
    from scoring.pieces import rank_in_pieces as step  # noqa: PLC0415 - few rank in pieces
    from scoring.pieces.cut_by_unit import cut_by_unit  # noqa: PLC0415 - as above
    from scoring.pieces.piece_folder import pieces_of  # noqa: PLC0415 - as above
    from scoring.pieces.workers import workers  # noqa: PLC0415 - as above

    question, tables = asked.question, asked.tables or {}
    if asked.out is not None:
        check_suffix(asked.out, IN_PARTS)
    question.require_one_basis()
    known = question.kept
    with _folder(asked.scratch) as folder:
        processes = asked.processes(pieces_of(rows_of(tables["units"])))
        with workers(processes, asked.cluster) as work:
            with err.status("cutting the data set into pieces"):
                # a cluster sees the folder of the pieces; the data set may lie here alone
                cut = cut_by_unit(tables, folder, None if asked.cluster else work)
            with err.status(f"checking {cut.pieces} pieces"):
                pieces = step.check_in_pieces(cut, work, question.day)
            _tell_what_was_checked(question, pieces)
            of_fleet, units = pieces.of_fleet, pieces.units
            del pieces  # what was found of each is told, and takes room where there are many
            if known is not None:
                are_others = known.records.units != units
                for note in known.notes_where(question.day, are_others=are_others):
                    warn(f"note: {question.learned}: {note}")
            judged = _judged(question, cut.kept, of_fleet, work)
        _tell(asked, cut.kept, *judged)


@dataclass(frozen=True)
class HandedOut:
    """Checked records in pieces, and the plants from which learning about them begins."""

    kept: "PieceFolder"
    others: OtherPlants | None


@contextmanager
def handed_out(asked: AskedInPieces, fleet: Fleet) -> Iterator[HandedOut]:
    """Hand checked records out in pieces, so that who asks may let go of the whole.

    Raises
    ------
    FixableError
        If pieces cannot be kept.
    """
    from scoring.pieces.part_fleet import part_fleet  # noqa: PLC0415 - few rank in pieces
    from scoring.pieces.piece_folder import PieceFolder, pieces_of  # noqa: PLC0415 - as above

    others, units = asked.question.others_than(fleet), len(fleet.units)
    asked.question.tell_of_learned(fleet)
    with _folder(asked.scratch) as folder:
        kept = PieceFolder(folder, pieces_of(units))
        with err.status(f"handing out {units} units in {kept.pieces} pieces"):
            part_fleet(fleet, kept)
        del fleet
        yield HandedOut(kept, others)


def tell_pieces(asked: AskedInPieces, handed: HandedOut) -> None:
    """Judge pieces of checked records by several processes, print, and write.

    Raises
    ------
    FixableError
        If no unit was in service.
    """
    from scoring.pieces import rank_in_pieces as step  # noqa: PLC0415 - few rank in pieces
    from scoring.pieces.workers import workers  # noqa: PLC0415 - as above

    question, kept = asked.question, handed.kept
    with workers(asked.processes(kept.pieces), asked.cluster) as work:
        with err.status(f"looking at {kept.pieces} pieces"):
            of_fleet = step.look_in_pieces(kept, work, question.day)
        judged = _judged(question, kept, of_fleet, work, handed.others)
    _tell(asked, kept, *judged)


def _judged(
    question: FleetQuestion,
    kept: "PieceFolder",
    of_fleet: Sequence[PieceOfFleet],
    work: "Work",
    others: OtherPlants | None = None,
) -> tuple[Sequence["RankedPiece"], FleetLearning | None]:
    """Learn from pieces where that was asked, and rank them."""
    from scoring.pieces import rank_in_pieces as step  # noqa: PLC0415 - few rank in pieces

    wide = FleetWide.of(question.day, of_fleet)
    learning = None if question.kept is None else question.kept.learning
    if learning is None and not question.handbook_only:
        with err.status("learning from failures"):
            learning = step.learn_in_pieces(kept, of_fleet, wide, work, others)
    with err.status(f"judging the units of {kept.pieces} pieces"):
        return step.rank_in_pieces(kept, wide, question.horizon, learning, work), learning


def _tell(
    asked: AskedInPieces,
    kept: "PieceFolder",
    told: Sequence["RankedPiece"],
    learning: FleetLearning | None,
) -> None:
    """Merge ranked pieces, when their workers are gone; print, and write where that was asked."""
    from scoring.pieces.merged_ranking import MergedRanking  # noqa: PLC0415 - few rank in pieces

    merged = MergedRanking(kept.ranked)
    tell_odd(
        pd.concat([piece.ignored for piece in told], ignore_index=True),
        pd.concat([piece.contradictory for piece in told], ignore_index=True),
        sum(sum(piece.odd) for piece in told),
    )
    if asked.out is not None:
        with err.status(f"writing {asked.out}"):
            merged.write(asked.out)
    tell_worst(merged.head(max(asked.show, 1)), asked.show, merged.counts, learning)
    if asked.out is not None:
        say(f"\nThe whole ranking is in {asked.out}")


def _tell_what_was_checked(question: FleetQuestion, pieces: "CheckedPieces") -> None:
    checked = pieces.checked
    for note in checked.notes:
        warn(f"note: {note}")
    for assumption in checked.assumptions:
        warn(f"assumed: {assumption}")
    keep_good_or_stop(
        checked, keep_good=question.keep_good, rejected=question.rejected, needs_units=False
    )
    if not pieces.units:
        raise FaultyRecordsError("no row of units is without a fault; mend the rows of units")


@contextmanager
def _folder(scratch: Path | None) -> Iterator[Path]:
    """Make a folder for the pieces, gone afterwards.

    Raises
    ------
    FixableError
        If it cannot be made.
    """
    try:
        if scratch is not None:
            scratch.mkdir(parents=True, exist_ok=True)
        made = TemporaryDirectory(prefix="mount-risk-pieces-", dir=scratch)
    except OSError as error:
        raise FixableError(
            f"pieces cannot be kept in {scratch or 'the folder for temporary files'} "
            f"({error.strerror or error}); name another folder: --scratch"
        ) from None
    with made as folder:
        yield Path(folder)
