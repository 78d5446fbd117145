"""The grids of files, whatever kind they are of."""

from collections.abc import Mapping
from pathlib import Path

import numpy as np
import pyarrow as pa

from scoring.errors import UnreadableFleetError
from scoring.files.parquet_reading import read_parquet
from scoring.files.text_grid import TEXT_ENDINGS, read_text_grid
from scoring.reading_plan import Grid

ENDINGS = (*TEXT_ENDINGS, ".xlsx", ".ods", ".parquet")
"""Files that hold grids."""

Written = Mapping[str, tuple[str, str]]
"""By file, the encoding and delimiter that a plan says."""


def read_grids(path: Path, written: Written | None = None) -> list[Grid]:
    """Read the grids of a file, or of all files of a folder.

    Raises
    ------
    UnreadableFleetError
        If there is nothing that holds grids, or a file cannot be read.
    """
    if path.is_dir():
        files = sorted(p for p in path.iterdir() if p.suffix.lower() in ENDINGS and _is_data(p))
        if not files:
            raise UnreadableFleetError(
                f"{path} holds no file that can be read; they end in {', '.join(ENDINGS)}"
            )
        return [grid for file in files for grid in _of_file(file, written or {})]
    if not path.exists():
        raise UnreadableFleetError(f"there is no folder or file {path}")
    if path.suffix.lower() not in ENDINGS:
        raise UnreadableFleetError(
            f"{path} is a file of another kind; files that can be read end in {', '.join(ENDINGS)}"
        )
    return _of_file(path, written or {})


def _is_data(path: Path) -> bool:
    """Leave out what programs keep beside an open file."""
    return path.is_file() and not path.name.startswith(("~$", ".~", "."))


def _of_file(path: Path, written: Written) -> list[Grid]:
    ending = path.suffix.lower()
    # what workbooks need takes a third of what a command imports
    if ending == ".xlsx":
        from scoring.files.workbook_grid import read_workbook_grids  # noqa: PLC0415

        return read_workbook_grids(path)
    if ending == ".ods":
        from scoring.files.open_document_grid import read_open_document_grids  # noqa: PLC0415

        return read_open_document_grids(path)
    if ending == ".parquet":
        return [_of_parquet(path)]
    return [read_text_grid(path, *written.get(path.name, ("", "")))]


def _of_parquet(path: Path) -> Grid:
    table = read_parquet(path, path.stem)
    columns = tuple(
        pa.concat_arrays([pa.array([heading], pa.string()), cells])
        for heading, cells in zip(table.headings, table.cells, strict=True)
    )
    rows = np.arange(1, len(table.rows) + 2, dtype=np.int64)
    return Grid(path.name, "", columns, rows, typed=True, folder=path.parent.name)
