"""What can happen to the file of a store while pages are open over it, and how it ends."""

import os
import random
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path

ENDS = ("", "-wal", "-shm")


def beside(file, end):
    return file.with_name(file.name + end)


def copy_of(file, to):
    """Copy a store with all that was ever kept in it, as a process of its own."""
    script = (
        "import sqlite3, sys\n"
        "a, b = sqlite3.connect(sys.argv[1]), sqlite3.connect(sys.argv[2])\n"
        "a.backup(b); b.close(); a.close()\n"
    )
    subprocess.run([sys.executable, "-S", "-c", script, str(file), str(to)], check=True)


def held_by(file, query, *values):
    """Ask what lies at an address, as a process that knows of nothing else does."""
    if not file.exists():
        return None
    script = (
        "import sqlite3, sys\n"
        "a = sqlite3.connect(f'file:{sys.argv[1]}?mode=ro', uri=True)\n"
        "print(a.execute(sys.argv[2], sys.argv[3:]).fetchone()[0])\n"
    )
    done = subprocess.run(
        [sys.executable, "-S", "-c", script, str(file), query, *map(str, values)],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    return done.stdout.strip() if done.returncode == 0 else None


@dataclass
class Place:
    """A store in a folder, and what it can be replaced with."""

    file: Path
    aside: Path
    earlier: Path
    another: Path

    def remove(self):
        for end in ENDS:
            beside(self.file, end).unlink(missing_ok=True)

    def put(self, file):
        self.remove()
        shutil.copy(file, beside(self.file, ".new"))
        beside(self.file, ".new").replace(self.file)


@contextmanager
def deleted(place):
    copy_of(place.file, place.aside)
    place.remove()
    yield
    place.put(place.aside)


@contextmanager
def deleted_alone(place):
    """Its notes stay."""
    copy_of(place.file, place.aside)
    place.file.unlink()
    yield
    place.put(place.aside)


@contextmanager
def replaced_by_another(place):
    copy_of(place.file, place.aside)
    place.put(place.another)
    yield
    place.put(place.aside)


@contextmanager
def replaced_by_an_older(place):
    copy_of(place.file, place.aside)
    place.put(place.earlier)
    yield
    place.put(place.aside)


@contextmanager
def moved(place):
    elsewhere = place.file.with_name("elsewhere.db")
    for end in ENDS:
        beside(place.file, end).rename(beside(elsewhere, end))
    yield
    for end in ENDS:
        if beside(elsewhere, end).exists():
            beside(elsewhere, end).rename(beside(place.file, end))


@contextmanager
def moved_alone(place):
    """Its notes stay where they were."""
    elsewhere = place.file.with_name("elsewhere.db")
    place.file.rename(elsewhere)
    yield
    elsewhere.rename(place.file)


@contextmanager
def without_its_folder(place):
    copy_of(place.file, place.aside)
    shutil.rmtree(place.file.parent)
    yield
    place.file.parent.mkdir()
    place.put(place.aside)


@contextmanager
def without_notes(place):
    for end in ENDS[1:]:
        beside(place.file, end).unlink()
    yield


@contextmanager
def without_log(place):
    beside(place.file, "-wal").unlink()
    yield


@contextmanager
def without_index(place):
    beside(place.file, "-shm").unlink()
    yield


@contextmanager
def with_notes_of_another(place):
    """Somebody copies the notes of another store over its own."""
    beside(place.file, "-wal").unlink()
    beside(place.file, "-wal").write_bytes(os.urandom(8192))
    yield
    beside(place.file, "-wal").unlink(missing_ok=True)


@contextmanager
def with_bytes_flipped(place):
    copy_of(place.file, place.aside)
    chance = random.Random(7)  # noqa: S311 - for tests
    size = place.file.stat().st_size
    with place.file.open("r+b") as file:
        for _ in range(400):
            file.seek(chance.randrange(4096, size - 64))
            file.write(chance.randbytes(64))
    yield
    place.put(place.aside)


@contextmanager
def overwritten_with_nothing(place):
    copy_of(place.file, place.aside)
    with place.file.open("r+b") as file:
        file.truncate(0)
    yield
    place.put(place.aside)


@contextmanager
def locked_by_another(place):
    with closing(sqlite3.connect(place.file, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        yield
        other.execute("ROLLBACK")


@contextmanager
def of_a_newer_schema(place):
    _say_schema(place.file, "9999")
    yield
    _say_schema(place.file, None)


def _say_schema(file, schema, was=[]):  # noqa: B006 - between the two calls
    with closing(sqlite3.connect(file, isolation_level=None)) as other:
        if schema is not None:
            was.append(other.execute("SELECT version_num FROM alembic_version").fetchone()[0])
        other.execute("UPDATE alembic_version SET version_num = ?", (schema or was.pop(),))


@contextmanager
def too_large_for_its_disk(place):
    """Let no file grow, as on a full disk."""
    import resource  # noqa: PLC0415 - not on every system

    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    sizes = [
        beside(place.file, end).stat().st_size for end in ENDS if beside(place.file, end).exists()
    ]
    resource.setrlimit(resource.RLIMIT_FSIZE, (min(sizes), before[1]))
    yield
    resource.setrlimit(resource.RLIMIT_FSIZE, before)


FAULTS = (
    deleted, deleted_alone, replaced_by_another, replaced_by_an_older, moved, moved_alone,
    without_its_folder, without_notes, without_log, without_index, with_notes_of_another,
    with_bytes_flipped, overwritten_with_nothing, locked_by_another, of_a_newer_schema,
    too_large_for_its_disk,
)  # fmt: skip
