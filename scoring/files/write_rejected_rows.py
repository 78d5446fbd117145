"""Rejected rows, written to files of the same shape that can be mended and read again."""

import csv
from collections.abc import Mapping
from pathlib import Path

from scoring.errors import FixableError
from scoring.intake.rejected_rows import RejectedRows


def write_rejected(rejected: Mapping[str, RejectedRows], folder: Path) -> list[Path]:
    """Write the rejected rows of each table, as they were found.

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
    if folder.exists() and any(folder.iterdir()):
        raise FixableError(
            f"{folder} holds rows already, which may have been mended; nothing was done. "
            "Give another folder: --rejected NEW_FOLDER"
        )
    paths = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, rows in rejected.items():
            path = folder / f"{name}.csv"
            with path.open("w", encoding="utf-8", newline="") as file:
                writer = csv.writer(file, lineterminator="\r\n")
                writer.writerow(rows.headings)
                writer.writerows(rows.rows)
            paths.append(path)
    except OSError as error:
        raise FixableError(f"{folder} cannot be written ({error.strerror or error})") from None
    return paths
