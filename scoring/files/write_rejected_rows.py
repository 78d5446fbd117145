"""Rejected rows, written to files of the same shape that can be mended and read again."""

import csv
from collections.abc import Mapping
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory
from zipfile import ZIP_DEFLATED, ZipFile

from scoring.errors import FixableError
from scoring.files.exported_folder import disarmed_cell, write_mark
from scoring.files.whole_file import whole_folder
from scoring.intake.rejected_rows import RejectedRows


def write_rejected(rejected: Mapping[str, RejectedRows], folder: Path) -> list[Path]:
    """Write the rejected rows of each table, as they were found but for what would run.

    A cell that a spreadsheet would run as a formula is written as in an export, which reading
    undoes again.

    Parameters
    ----------
    rejected : mapping of str to RejectedRows
        By table.
    folder : Path
        A new or empty folder, so that rows mended earlier are never lost.

    Returns
    -------
    list of Path
        What was written.

    Raises
    ------
    FixableError
        If the folder holds something already, or cannot be written.
    """
    paths = []
    try:
        if folder.exists() and any(folder.iterdir()):
            raise FixableError(
                f"{folder} holds rows already, which may have been mended; nothing was done. "
                "Give another folder: --rejected NEW_FOLDER"
            )
        with whole_folder(folder) as place:
            for name, rows in rejected.items():
                _write_rows(rows, place / f"{name}.csv")
                paths.append(folder / f"{name}.csv")
    except OSError as error:
        raise FixableError(f"{folder} cannot be written ({error.strerror or error})") from None
    return paths


def _write_rows(rows: RejectedRows, path: Path) -> None:
    cells = [[disarmed_cell(cell) for cell in row] for row in (rows.headings, *rows.rows)]
    if cells != [list(rows.headings), *rows.rows]:
        write_mark(path.parent)
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\r\n")
        writer.writerows(cells)


def rejected_as_zip(rejected: Mapping[str, RejectedRows]) -> bytes:
    """Return the rejected rows of each table as one file, for a page to hand out.

    Examples
    --------
    >>> rejected_as_zip({"units": RejectedRows(("unit_id",), [["U-1"]])})[:2]
    b'PK'
    """
    packed = BytesIO()
    with TemporaryDirectory() as place, ZipFile(packed, "w", ZIP_DEFLATED) as archive:
        folder = Path(place) / "rejected"
        write_rejected(rejected, folder)
        for path in sorted(folder.iterdir()):
            archive.write(path, f"rejected/{path.name}")
    return packed.getvalue()
