"""How much a workbook may hold, told before it is unpacked: size, rows, columns, merged cells.

No bound counts good rows: what is refused is what no spreadsheet program writes of records.
"""

import re
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from scoring.errors import UnreadableFleetError

LARGEST_UNPACKED = 1 << 30
"""A workbook that unpacks to more is refused; planning value of ours. [byte]"""

SMALL_UNPACKED = 1 << 25
"""What unpacks to less is read, however well it was packed. Ours. [byte]"""

MOST_TIMES_PACKED = 100
"""Records shrink to a twentieth or so when packed, nothing but the same again to less. Ours. [-]"""

LAST_ROW = 1_048_576
"""The last row that a sheet can have."""

_MERGED = re.compile(rb"<(?:\w+:)?mergeCell\s[^>]*?ref=[\"']([A-Z]+)([0-9]+):([A-Z]+)([0-9]+)[\"']")
_AT_ONCE = 1 << 20
_LONGEST_ENTRY = 256


class MergedCells(NamedTuple):
    """An area of cells that were merged to one."""

    coord: str
    first_row: int
    last_row: int
    first_column: int
    last_column: int


def require_bearable(path: Path) -> None:
    """Refuse a workbook that unpacks to far more than records do.

    Raises
    ------
    UnreadableFleetError
        With the sizes.
    """
    with zipfile.ZipFile(path) as archive:
        parts = archive.infolist()
    unpacked = sum(part.file_size for part in parts)
    if unpacked > LARGEST_UNPACKED:
        raise UnreadableFleetError(
            f"{path.name} unpacks to more than {LARGEST_UNPACKED >> 20} MB; "
            "give such a fleet as CSV or Parquet files"
        )
    packed = max(sum(part.compress_size for part in parts), 1)
    if unpacked > SMALL_UNPACKED and unpacked > packed * MOST_TIMES_PACKED:
        raise UnreadableFleetError(
            f"{path.name} unpacks to {unpacked >> 20} MB, {unpacked // packed} times its size, as "
            "no records do; save it anew without what is filled far below or beside the records, "
            "or give CSV files"
        )


def merged_cells(path: Path, part: str) -> list[MergedCells]:
    """Find the merged cells of a sheet, reading it piece by piece.

    Parameters
    ----------
    path : Path
        The workbook.
    part : str
        Which part of it holds the sheet.
    """
    with zipfile.ZipFile(path) as archive:
        return list(dict.fromkeys(_found(archive, part)))


def _found(archive: zipfile.ZipFile, part: str) -> Iterator[MergedCells]:
    before = b""
    with archive.open(part) as sheet:
        while piece := sheet.read(_AT_ONCE):
            text = before + piece  # an entry may lie across two pieces; then it is found twice
            for area in _MERGED.finditer(text):
                first, top, last, bottom = (word.decode() for word in area.groups())
                yield MergedCells(
                    f"{first}{top}:{last}{bottom}",
                    int(top),
                    int(bottom),
                    _place(first),
                    _place(last),
                )
            before = text[-_LONGEST_ENTRY:]


def _place(letters: str) -> int:
    """Return the place of a column, A first.

    Examples
    --------
    >>> _place("A"), _place("XFD")
    (1, 16384)
    """
    place = 0
    for letter in letters:
        place = place * 26 + ord(letter) - ord("A") + 1
    return place
