"""Cut a data set into pieces by unit: a unit, and all that was written down of it, together.

Units at which one reducer hung come into one piece, for how old it is rests on all of them; so do
ids that look alike, which are faults of each other. Which piece a unit comes into follows from its
id alone, so that the files may be sorted by anything.
"""

from dataclasses import dataclass
from itertools import chain, pairwise
from pathlib import Path

import numpy as np
import pandas as pd
import pyarrow as pa
import pyarrow.compute as pc
from numpy.typing import NDArray

from scoring.errors import UnreadableFleetError
from scoring.intake import RawTable
from scoring.intake.look_alike_texts import PLAIN, looks_like
from scoring.intake.plain_texts import all_plain
from scoring.pieces.batches_together import read_ahead
from scoring.pieces.cells_of_pieces import as_kept, in_one, put_together
from scoring.pieces.data_set import ROW_OF_SOURCE, Stretch, TableFiles
from scoring.pieces.piece_folder import PieceFolder, pieces_of
from scoring.pieces.workers import Work

ROWS_CUT_AT_ONCE = 200_000
"""So many rows are cut in one go: else a large data set would have as many crumbs as it has files,
times pieces. Ours."""

ROWS_OF_A_STRETCH = 1_000_000
"""About so many rows are read and cut by one worker: few enough that all have work. Ours."""

Hashes = NDArray[np.uint64]
Places = NDArray[np.int64]


@dataclass(frozen=True)
class Cut:
    """A data set cut into pieces, in a folder of its own.

    Attributes
    ----------
    folder : Path
        Where the pieces lie: for each table files of one batch a piece.
    pieces : int
        How many.
    tables : dict of str to TableFiles
        What was cut.
    """

    folder: Path
    pieces: int
    tables: dict[str, TableFiles]

    @property
    def kept(self) -> PieceFolder:
        """Where what becomes of the pieces is kept: beside them."""
        return PieceFolder(self.folder, self.pieces)

    def piece(self, number: int) -> dict[str, RawTable]:
        """Return the tables of one piece, with the row of each record in its own source."""
        return {name: self._table(name, number) for name in self.tables}

    def _table(self, name: str, number: int) -> RawTable:
        files = self.tables[name]
        batches = []
        for path in sorted((self.folder / name).glob("*.arrow")):
            with pa.memory_map(str(path)) as source:
                batches.append(pa.ipc.open_file(source).get_batch(number))
        parts = [batch.column(ROW_OF_SOURCE).to_numpy() for batch in batches]
        cells = tuple(
            put_together([batch.column(heading) for batch in batches]) for heading in files.headings
        )
        return RawTable(name, files.sources, files.headings, cells, np.concatenate(parts))


def cut_by_unit(found: dict[str, Path], folder: Path, work: Work | None = None) -> Cut:
    """Cut a data set into pieces of about as many units each.

    Parameters
    ----------
    found : dict of str to Path
        From ``find_data_set``.
    folder : Path
        Where to write them.
    work : Work, optional
        Who cuts, each a stretch of the files, to which they need to get; by default this process.

    Returns
    -------
    Cut
        The same whoever cuts.

    Raises
    ------
    UnreadableFleetError
        If a file cannot be read, or a table has no column ``unit_id``.
    """
    tables = {name: TableFiles.of(name, below) for name, below in found.items()}
    for name, table in tables.items():
        if "unit_id" not in table.headings:
            raise UnreadableFleetError(
                f"{name} has no column unit_id; a data set has columns as mount-risk columns names "
                "them. Files of another shape are read whole, by a plan"
            )
        (folder / name).mkdir(parents=True)
    pieces = pieces_of(tables["units"].rows)
    moved = _units_that_share_a_reducer(tables["units"], found["units"])
    asked = [
        (table, found[name], stretch, folder / name / f"{number:06}", pieces, moved)
        for name, table in tables.items()
        for number, stretch in enumerate(table.stretches(ROWS_OF_A_STRETCH))
    ]
    if work is None:
        for one in asked:
            _cut_stretch(*one)
    else:
        work(_cut_stretch, asked)
    return Cut(folder, pieces, tables)


def _cut_stretch(  # noqa: PLR0913, PLR0917 - what is cut, where from, where to, and how
    table: TableFiles,
    below: Path,
    stretch: Stretch,
    into: Path,
    pieces: int,
    moved: tuple[Hashes, Hashes],
) -> None:
    """Write the rows of a stretch, some at a time, each time one batch for each piece."""
    names = [*table.headings, ROW_OF_SOURCE]
    none = pa.table({name: pa.array([], pa.string()) for name in table.headings})
    none = none.append_column(ROW_OF_SOURCE, pa.array([], pa.int64()))
    batches = read_ahead(table.batches(below, stretch), ROWS_CUT_AT_ONCE)
    for number, rows in enumerate(chain([none], batches)):
        piece = _pieces_of(rows.column("unit_id"), pieces, moved)
        order = np.argsort(piece, kind="stable")
        ends = np.searchsorted(piece[order], np.arange(pieces + 1)).tolist()
        wanted = pa.array(order)
        columns = [as_kept(rows.column(name), pieces).take(wanted) for name in names]
        in_order = pa.record_batch(columns, names)
        place = f"{into}-{number:06}.arrow"
        with pa.ipc.new_file(place, in_order.schema) as file:
            for start, stop in pairwise(ends):
                file.write_batch(in_order.slice(start, stop - start))


def _pieces_of(unit_id: pa.ChunkedArray, pieces: int, moved: tuple[Hashes, Hashes]) -> Places:
    """Tell which piece each row belongs to."""
    unit, (shared, reducer) = hash_of_ids(unit_id), moved
    if len(shared):
        at = np.minimum(np.searchsorted(shared, unit), len(shared) - 1)
        unit = np.where(shared[at] == unit, reducer[at], unit)
    return (unit % np.uint64(pieces)).astype(np.int64)


def _units_that_share_a_reducer(units: TableFiles, below: Path) -> tuple[Hashes, Hashes]:
    """Return the units at whose reducer hung at another one too, and what stands for them all."""
    nothing = np.array([], dtype=np.uint64)
    if "asset_id" not in units.headings:
        return nothing, nothing
    unit, asset = [nothing], [nothing]
    for batch in units.batches(below, units.whole, ("unit_id", "asset_id")):
        given = pc.not_equal(pc.utf8_trim_whitespace(batch.column("asset_id")), "")
        some = batch.filter(given)
        unit.append(hash_of_ids(some.column("unit_id")))
        asset.append(hash_of_ids(some.column("asset_id")))
    units_of, assets = np.concatenate(unit), np.concatenate(asset)
    _, which, count = np.unique(assets, return_inverse=True, return_counts=True)
    shared = count[which] > 1
    order = np.argsort(units_of[shared], kind="stable")
    return units_of[shared][order], assets[shared][order]


def hash_of_ids(ids: pa.Array | pa.ChunkedArray) -> Hashes:
    """Return a number for each id, the same for ids that look the same.

    Parameters
    ----------
    ids : pyarrow text array, shape (n_rows,)
        As written.

    Returns
    -------
    ndarray of uint64, shape (n_rows,)

    Examples
    --------
    >>> one, other = hash_of_ids(pa.chunked_array([["CH-1", " CH-1"]]))
    >>> bool(one == other)
    True
    """
    encoded = in_one(ids).dictionary_encode()
    texts = pc.utf8_trim_whitespace(encoded.dictionary)
    distinct = texts.to_numpy(zero_copy_only=False).astype(object)
    if not all_plain(texts):
        plain = pc.match_substring_regex(texts, PLAIN).to_numpy(zero_copy_only=False).astype(bool)
        distinct[~plain] = [looks_like(text) for text in distinct[~plain]]
    hashes: Hashes = pd.util.hash_array(distinct, categorize=False)
    found: Hashes = hashes[encoded.indices.to_numpy(zero_copy_only=False)]
    return found
