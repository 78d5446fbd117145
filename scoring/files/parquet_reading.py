"""Read a Parquet file as text cells, so that it passes the same checks as any other."""

from pathlib import Path

import numpy as np
import pyarrow as pa
import pyarrow.parquet as pq

from scoring.contract import TABLE_BY_NAME
from scoring.errors import UnreadableFleetError
from scoring.files.arrow_as_text import arrow_as_text
from scoring.files.table_bounds import require_few_columns
from scoring.intake import RawTable, refuse_junk
from scoring.intake.junk import LARGE_ROWS, ROWS_LOOKED_AT

SMALL_UNPACKED = 1 << 28
"""What unpacks to less is read, however often it says the same. Ours. [byte]"""

MOST_TIMES_PACKED = 300
"""Each record has a key of its own, which takes bytes however well it is packed. Ours. [-]"""


def read_parquet(path: Path, name: str) -> RawTable:
    """Read a Parquet file.

    Parameters
    ----------
    path : Path
        Columns of text, numbers, dates or dictionaries of these.
    name : str
        The table of the contract it stands for.

    Returns
    -------
    RawTable
        Cells as text; the first record counts as row 2, as in a file with headings.

    Raises
    ------
    UnreadableFleetError
        If the file is no Parquet file or a column cannot be text.
    """
    try:
        with pq.ParquetFile(path) as file:
            require_few_columns(file.metadata.num_columns, path.name)
            _look_ahead(file, path, name)
            table = file.read()
    except (pa.ArrowException, OSError) as error:
        raise UnreadableFleetError(
            f"{path.name} cannot be read as Parquet ({error}); write it anew, or give CSV files"
        ) from None
    return _table_of(table, path.name, name)


def _look_ahead(file: pq.ParquetFile, path: Path, name: str) -> None:
    """Refuse a large file for what its beginning shows, or for what it would unpack to."""
    if file.metadata.num_rows <= LARGE_ROWS:
        return
    begun = pa.Table.from_batches([next(file.iter_batches(ROWS_LOOKED_AT))])
    head = _table_of(begun, path.name, name)
    if name in TABLE_BY_NAME:
        refuse_junk(head)
    bytes_a_row = sum(cells.nbytes for cells in head.cells) / max(begun.num_rows, 1)
    unpacked, packed = bytes_a_row * file.metadata.num_rows, path.stat().st_size
    if unpacked > SMALL_UNPACKED and unpacked > packed * MOST_TIMES_PACKED:
        raise UnreadableFleetError(
            f"{path.name} has {file.metadata.num_rows} rows in {packed / 1e6:.1f} MB, which unpack "
            f"to {unpacked / 1e6:.0f} MB: the same again and again, as no records are; give the "
            "records once"
        )


def _table_of(table: pa.Table, source: str, name: str) -> RawTable:
    cells = tuple(
        arrow_as_text(table.column(i), f"{source}, column {heading}")
        for i, heading in enumerate(table.column_names)
    )
    rows = np.arange(2, table.num_rows + 2, dtype=np.int64)
    headings = tuple(heading.strip() for heading in table.column_names)
    return RawTable(name, (source,), headings, cells, rows)
