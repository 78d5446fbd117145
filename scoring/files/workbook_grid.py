"""Read every sheet of an XLSX workbook as a grid."""

import warnings
from pathlib import Path
from typing import Any

import numpy as np
import pyarrow as pa
from openpyxl import load_workbook

from scoring.errors import UnreadableFleetError
from scoring.files.sheet_bounds import merged_cells, require_bearable
from scoring.files.workbook_reading import DAMAGED, EXPLANATIONS, filled_rows
from scoring.intake import RawTrouble
from scoring.reading_plan import Grid


def read_workbook_grids(path: Path) -> list[Grid]:
    """Read every sheet of a workbook that holds anything.

    Raises
    ------
    UnreadableFleetError
        If it is no workbook, or unpacks to too much.
    """
    try:
        with warnings.catch_warnings():  # on styles and lists of words, which we do not need
            warnings.simplefilter("ignore")
            require_bearable(path)
            book = load_workbook(path, read_only=True, data_only=False)
            try:
                sheets = [s for s in book.worksheets if s.title != EXPLANATIONS]
                grids = [_read(sheet, path) for sheet in sheets]
            finally:
                book.close()
    except DAMAGED as error:
        raise UnreadableFleetError(
            f"{path.name} cannot be read as a workbook ({error}); "
            "save it anew as .xlsx in the spreadsheet program"
        ) from None
    return [grid for grid in grids if len(grid.rows)]


def _read(sheet: Any, path: Path) -> Grid:  # noqa: ANN401
    troubles = list[RawTrouble]()
    sheet.reset_dimensions()  # what a sheet says of its own size may be wrong
    rows = list(filled_rows(sheet, f"{path.name}, sheet {sheet.title}", troubles))
    width = max((len(row) for _, row in rows), default=0)
    columns = tuple(
        pa.array([row[place] if place < len(row) else "" for _, row in rows], pa.string())
        for place in range(width)
    )
    # Which part of the file holds a sheet, and so its merged cells, openpyxl tells nowhere else.
    merged = merged_cells(path, sheet._worksheet_path)  # noqa: SLF001
    return Grid(
        path.name,
        str(sheet.title),
        columns,
        np.array([number for number, _ in rows], dtype=np.int64),
        typed=True,
        troubles=tuple(troubles),
        merged=tuple((a.first_row, a.first_column, a.last_row, a.last_column) for a in merged),
        folder=path.parent.name,
    )
