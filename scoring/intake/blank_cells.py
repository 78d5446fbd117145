"""What spreadsheets leave behind: rows without a cell filled, and columns without a heading."""

from dataclasses import replace

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc

from scoring.intake.cells import trimmed
from scoring.intake.raw import RawTable


def without_blank_rows(raw: RawTable) -> RawTable:
    """Leave out rows in which every cell is empty, as spreadsheets leave them behind."""
    filled = np.zeros(len(raw.rows), dtype=bool)
    for cells in raw.cells:
        filled |= pc.not_equal(trimmed(cells), "").to_numpy(zero_copy_only=False)
        if filled.all():
            return raw
    cells = tuple(column.filter(pa.array(filled)) for column in raw.cells)
    return replace(raw, cells=cells, rows=raw.rows[filled])


def filled_without_heading(raw: RawTable) -> list[str]:
    """Name the columns that have cells but no heading, so that they are not lost unseen."""
    return [
        f"column {place} (it has no heading)"
        for place, (heading, cells) in enumerate(zip(raw.headings, raw.cells, strict=True), 1)
        if not heading and pc.any(pc.not_equal(trimmed(cells), "")).as_py()
    ]
