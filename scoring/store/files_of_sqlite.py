"""Which files a connection of SQLite has open, and which ones lie at its address by now.

SQLite does not look: it goes on to write into a file that was deleted or replaced, and into notes
beside it that were removed, and nobody else ever sees that.
"""

import threading
from dataclasses import dataclass
from pathlib import Path

Mark = tuple[int, int]


@dataclass(frozen=True)
class FilesOfStore:
    """Which files lie at an address: the store and the notes that SQLite makes beside it.

    Attributes
    ----------
    store, log, index : tuple of int, or None
        Device and number of each on it; none where there is none.
    """

    store: Mark | None
    log: Mark | None
    index: Mark | None


def files_at(file: Path) -> FilesOfStore:
    """Return which files lie at an address now."""
    return FilesOfStore(*(_mark(file.with_name(file.name + end)) for end in ("", "-wal", "-shm")))


def _mark(path: Path) -> Mark | None:
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino


def never_close(connection: object) -> None:
    """Keep a connection open until the process ends.

    The last connection to close a file of SQLite removes the notes beside it by their name; where
    another store lies there by now, these would be that one's.
    """
    ever = threading.Event()

    def hold(held: object) -> None:
        ever.wait()
        del held

    threading.Thread(target=hold, args=(connection,), daemon=True).start()
