"""Places where a test may make a store: empty ones, and copies of one that is filled."""

import shutil
from pathlib import Path

from postgresql_server import new_database


class Places:
    """Places on one kind of database.

    Parameters
    ----------
    folder : Path
        For files of SQLite.
    server : str or None
        Address of a server of PostgreSQL; none: places are files.
    """

    def __init__(self, folder, server=None):
        self.folder, self.server, self.number = folder, server, 0

    @classmethod
    def of(cls, kind, request, folder):
        """Return places of a kind by name; a server is started only where it is asked for."""
        is_server = kind == "postgresql"
        return cls(folder, request.getfixturevalue("postgresql") if is_server else None)

    def empty(self):
        """Return the address of a place where there is no store yet."""
        self.number += 1
        if self.server:
            return new_database(self.server)
        return f"sqlite:///{self.folder / f'{self.number}.db'}"

    def copy_of(self, url):
        """Copy what lies at an address that nobody has open; return the address of the copy."""
        if self.server:
            return new_database(self.server, url.rpartition("/")[2])
        copy = self.empty()
        shutil.copy(url.removeprefix("sqlite:///"), copy.removeprefix("sqlite:///"))
        return copy

    def remove(self, url):
        """Remove a file and what lies beside it; databases go with their server."""
        if not self.server:
            for path in self.folder.glob(Path(url.removeprefix("sqlite:///")).name + "*"):
                path.unlink()
