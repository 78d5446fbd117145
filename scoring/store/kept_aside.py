"""What a history tells, kept aside on the disk while it is read: memory stays as it is."""

import json
import sqlite3
from collections.abc import Iterator
from typing import Any

_MADE = (
    "PRAGMA journal_mode = OFF",
    "PRAGMA synchronous = OFF",
    "CREATE TABLE told (about TEXT, key TEXT, said TEXT, PRIMARY KEY (about, key)) WITHOUT ROWID",
    "BEGIN",
)
_PUT = "INSERT OR REPLACE INTO told VALUES (?, ?, ?)"
_GET = "SELECT said FROM told WHERE about = ? AND key = ?"
_TAKE = "DELETE FROM told WHERE about = ? AND key = ? RETURNING said"
_REST = "SELECT key FROM told WHERE about = ? ORDER BY key"

Key = tuple[Any, ...]
Said = dict[str, Any]


class KeptAside:
    """Rows by table and key; the file has no name, and goes when it is closed.

    Examples
    --------
    >>> aside = KeptAside()
    >>> aside.put("units", ("U-1",), {"version": 1})
    >>> aside.take("units", ("U-1",)), aside.take("units", ("U-1",))
    ({'version': 1}, None)
    >>> aside.close()
    """

    def __init__(self) -> None:
        self._database = sqlite3.connect("", isolation_level=None, check_same_thread=False)
        for statement in _MADE:
            self._database.execute(statement)

    def put(self, about: str, key: Key, said: Said) -> None:
        """Keep what is told of a row, in place of what was told before."""
        self._database.execute(_PUT, (about, _as_text(key), _as_text(said)))

    def get(self, about: str, key: Key) -> Said | None:
        """Return what is told of a row."""
        return self._one(_GET, about, key)

    def add(self, about: str, key: Key, said: Said) -> None:
        """Keep more of a row beside what was told before."""
        self.put(about, key, {**(self.get(about, key) or {}), **said})

    def take(self, about: str, key: Key) -> Said | None:
        """Return what is told of a row, and keep it no longer."""
        return self._one(_TAKE, about, key)

    def rest(self, about: str) -> Iterator[Key]:
        """Return the keys of a table that were not taken."""
        for (key,) in self._database.execute(_REST, (about,)):
            yield tuple(json.loads(key))

    def _one(self, statement: str, about: str, key: Key) -> Said | None:
        found = self._database.execute(statement, (about, _as_text(key))).fetchall()
        return json.loads(found[0][0]) if found else None

    def close(self) -> None:
        """Let go of it."""
        self._database.close()


_as_text = json.JSONEncoder(ensure_ascii=False, separators=(",", ":")).encode
