"""``mount-risk rank`` of a data set that may be larger than memory: in pieces, and merged."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

import click
import pandas as pd

from scoring.cli.fleet_question import FleetQuestion
from scoring.cli.loading import keep_good_or_stop
from scoring.cli.ranking_told import tell_odd, tell_worst
from scoring.cli.screen import err, say, warn
from scoring.errors import FaultyRecordsError, FixableError
from scoring.files.write_table import IN_PARTS, check_suffix
from scoring.pieces.data_set import find_data_set, rows_of

if TYPE_CHECKING:
    from scoring.pieces.rank_in_pieces import CheckedPieces

MANY_UNITS = 50_000
"""From so many units on a data set is ranked in pieces without being asked. Ours."""


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
    def wanted(self) -> bool:
        """Whether it is to be ranked in pieces.

        Raises
        ------
        UsageError
            If it was asked for, or is needed, and something else that was given forbids it.
        """
        question, is_asked = self.question, bool(self.workers or self.cluster or self.scratch)
        if self.tables is None:
            if is_asked:
                raise click.UsageError(
                    "--workers, --cluster and --scratch are for a folder that holds each table as "
                    f"Parquet, in one file or in a folder of files; {question.fleet} is none"
                )
            return False
        in_folders = any(path.is_dir() for path in self.tables.values())
        needs = {
            "--add": bool(question.add),
            "--plan": question.headings is not None,
            "--prior": question.prior is not None,
        }
        given = [name for name, is_given in needs.items() if is_given]
        if given and (is_asked or in_folders):
            raise click.UsageError(f"{given[0]} does not go with a data set ranked in pieces")
        if given:
            return False
        return is_asked or in_folders or rows_of(self.tables["units"]) >= MANY_UNITS


def tell_in_pieces(asked: AskedInPieces) -> None:
    """Rank a data set in pieces, print what is told of it, and write it where that was asked.

    Raises
    ------
    FixableError
        If something of it cannot be used.
    """
    from scoring.pieces import rank_in_pieces as step  # noqa: PLC0415 - few rank in pieces
    from scoring.pieces.cut_by_unit import cut_by_unit  # noqa: PLC0415 - as above
    from scoring.pieces.workers import workers  # noqa: PLC0415 - as above

    question, tables = asked.question, asked.tables
    if asked.out is not None:
        check_suffix(asked.out, IN_PARTS)
    question.require_one_basis()
    kept, day = question.kept, question.day
    with _folder(asked.scratch) as folder:
        with workers(asked.workers or 1, asked.cluster) as work:
            with err.status("cutting the data set into pieces"):
                cut = cut_by_unit(tables or {}, folder)
            with err.status(f"checking {cut.pieces} pieces"):
                pieces = step.check_in_pieces(cut, work, day)
            _tell_what_was_checked(question, pieces)
            wide = step.fleet_wide(pieces, day)
            learning = None if kept is None else kept.learning
            if kept is not None:
                are_others = kept.records.units != pieces.units
                for note in kept.notes_where(day, are_others=are_others):
                    warn(f"note: {question.learned}: {note}")
            elif not question.handbook_only:
                with err.status("learning from failures"):
                    learning = step.learn_in_pieces(pieces, wide, work)
            del pieces  # what was found of each is told, and takes room where there are many
            with err.status(f"judging the units of {cut.pieces} pieces"):
                told = step.rank_in_pieces(cut, wide, question.horizon, learning, work)
        merged = step.merged(cut)
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
