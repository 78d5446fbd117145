"""How much a table may hold before it is read: what it is, its bytes, its columns.

No bound counts good rows. What most rows of a table being faulty means stands in `intake/junk.py`.
"""

from pathlib import Path

from scoring.contract import TABLE_BY_NAME
from scoring.errors import UnreadableFleetError

MOST_COLUMNS = 2_000
"""Ours: all tables of the contract together have a tenth of it."""

LARGEST_SETTINGS = 10_000_000
"""A file that a person writes by hand, as of shutdowns, is refused if it is larger. Ours. [byte]"""


def require_records_or_small(path: Path, name: str) -> None:
    """Refuse what is no file, and a file of settings that is far too large.

    Raises
    ------
    UnreadableFleetError
        With what it is.
    """
    if path.exists() and not path.is_file() and not path.is_fifo():
        raise UnreadableFleetError(f"{path} is no file; give a CSV file")
    if name not in TABLE_BY_NAME and path.is_file():
        require_small(path.stat().st_size, str(path))


def require_small(size: int, where: str) -> None:
    """Refuse settings that are far too large.

    Raises
    ------
    UnreadableFleetError
        With how large they may be.
    """
    if size > LARGEST_SETTINGS:
        raise UnreadableFleetError(
            f"{where} has more than {LARGEST_SETTINGS / 1e6:.0f} MB, as no file written by hand "
            "has; is it the right one?"
        )


def require_few_columns(width: int, source: str) -> None:
    """Refuse a table with far more columns than records have.

    Raises
    ------
    UnreadableFleetError
        With how many there are.
    """
    if width > MOST_COLUMNS:
        raise UnreadableFleetError(
            f"{source} has {width} columns, where at most {MOST_COLUMNS} are read; delete what is "
            "filled far beside the records"
        )
