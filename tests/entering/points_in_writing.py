"""Points within what writes at which a process can be killed, counted as they are passed.

Only a process started for a test has them: they are put around the database's own steps and around
those of files, and the program itself knows nothing of them.
"""

import os
import signal
from pathlib import Path

from sqlalchemy import Engine, event
from sqlalchemy.dialects.postgresql.psycopg import PGDialect_psycopg
from sqlalchemy.dialects.sqlite.pysqlite import SQLiteDialect_pysqlite

STATEMENT = 2
"""Which of the arguments of a listener is the statement."""


class Points:
    """The points that were passed; at one of them the process dies.

    Parameters
    ----------
    deadly : int
        Number of the point, from 1; 0 for none.
    """

    def __init__(self, deadly=0):
        self.deadly = deadly
        self.names = []
        self.is_armed = False

    def arm(self):
        """Count from now on: what was before belongs to nothing that is written."""
        self.is_armed = True

    def passed(self, name):
        if not self.is_armed:
            return
        self.names.append(name)
        if len(self.names) == self.deadly:
            os.kill(os.getpid(), signal.SIGKILL)

    def install(self):
        event.listen(Engine, "begin", self._begun)
        event.listen(Engine, "before_cursor_execute", self._before)
        event.listen(Engine, "after_cursor_execute", self._after)
        for dialect in (SQLiteDialect_pysqlite, PGDialect_psycopg):
            dialect.do_commit = self._around(dialect.do_commit, "commit")
        for name in ("replace", "rename"):
            setattr(Path, name, self._around(getattr(Path, name), "taking its place"))
        for name in ("write_text", "write_bytes"):
            setattr(Path, name, self._around(getattr(Path, name), "writing a file"))
        os.fsync = self._around(os.fsync, "bringing to the disk")

    def _begun(self, *_):
        self.passed("begin")

    def _before(self, *given):
        self.passed(f"before {_kind(given[STATEMENT])}")

    def _after(self, *given):
        self.passed(f"after {_kind(given[STATEMENT])}")

    def _around(self, step, name):
        def stepped(*given, **more):
            self.passed(f"before {name}")
            done = step(*given, **more)
            self.passed(f"after {name}")
            return done

        return stepped


def _kind(statement):
    """Return what a statement does: reads, or the word that it begins with."""
    word = statement.split(maxsplit=1)[0].upper()
    return "reading" if word in ("SELECT", "PRAGMA", "WITH") else word
