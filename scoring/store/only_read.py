"""A store on SQLite of which the file or the folder may only be read: it is ranked all the same.

SQLite writes beside such a file even to read it: it notes there who reads. Where it may not, it
must be told that nobody writes, or the writer's own notes must be there already.
"""

import os
import sqlite3
from pathlib import Path
from urllib.parse import quote

from sqlalchemy import Engine, NullPool, create_engine


def may_only_be_read(file: Path) -> bool:
    """Tell whether a store is there that this person may not write, or not beside it."""
    return file.is_file() and not (os.access(file, os.W_OK) and os.access(file.parent, os.W_OK))


def only_reading(file: Path) -> Engine:
    """Return an engine that writes nothing, neither to the file nor beside it.

    Parameters
    ----------
    file : Path
        The store's file.

    Notes
    -----
    Each question opens the file anew, for what is told that nobody writes looks for no change.
    """

    def connect() -> sqlite3.Connection:
        beside = file.with_name(file.name + "-wal")
        others_write = beside.exists() and beside.stat().st_size > 0
        how = "mode=ro" if others_write else "mode=ro&immutable=1"
        address = f"file:{quote(str(file.absolute()))}?{how}"
        return sqlite3.connect(address, uri=True, check_same_thread=False, isolation_level=None)

    return create_engine("sqlite://", creator=connect, poolclass=NullPool)
