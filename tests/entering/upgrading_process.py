"""An upgrade of a store in a process of its own, which waits before its commit to be told on."""

import subprocess
import sys
from contextlib import contextmanager

TO_THIS_VERSION = """
import sys
from scoring.store import migrate_store as upgrading

def upgrade_and_wait(connection, upgrade=upgrading.upgrade):
    upgrade(connection)
    print("at work", flush=True)
    if sys.stdin.readline().strip() != "go on":
        sys.exit(3)

upgrading.upgrade = upgrade_and_wait
upgrading.migrate_store(sys.argv[1])
"""
"""What ``mount-risk migrate`` does; all but its commit is done when it says that it is at work."""

TO_A_NEWER_VERSION = """
import sys
from contextlib import closing
from sqlalchemy import text
from scoring.store.address import store_url
from scoring.store.open_store import Store

with closing(Store(store_url(sys.argv[1]), make=False)) as store, store.changing_layout() as there:
    there.execute(text("ALTER TABLE drafts ADD COLUMN of_a_newer_version TEXT"))
    there.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    print("at work", flush=True)
    if sys.stdin.readline().strip() != "go on":
        sys.exit(3)
"""
"""What a program of the next version may do to a store over which pages of this one are open."""


class Upgrade:
    """An upgrade that is at work."""

    def __init__(self, script, url):
        self._process = subprocess.Popen(
            [sys.executable, "-W", "ignore", "-c", script, url],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        assert self._process.stdout.readline().strip() == "at work"

    def end(self, *, well):
        """Let it commit, or end without."""
        if self._process.poll() is None:
            self._process.communicate("go on\n" if well else "stop\n")
            assert self._process.returncode == (0 if well else 3)


@contextmanager
def at_work(script, url):
    """Begin an upgrade; it ends without a commit where nobody let it end otherwise."""
    upgrade = Upgrade(script, url)
    try:
        yield upgrade
    finally:
        upgrade.end(well=False)
