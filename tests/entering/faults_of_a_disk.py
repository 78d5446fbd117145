"""What can happen to the disk on which a store lies while pages are open over it."""

import subprocess
from contextlib import contextmanager

import pytest
from faults_of_a_file import beside

DISK_MB = 32


def require_done(*command):
    """Do something that not every machine lets us do, or skip the test and say why."""
    try:
        done = subprocess.run(command, capture_output=True, text=True, check=False)
    except FileNotFoundError:
        pytest.skip(f"{command[0]} is not installed: apt-get install mount e2fsprogs")
    if done.returncode != 0:
        pytest.skip(f"{' '.join(command[:2])} is not allowed here: {done.stderr.strip()}")


def undo(*command):
    """Undo what was done to the machine, or fail."""
    subprocess.run(command, check=True)


@contextmanager
def a_disk_of_its_own(folder):
    """Mount a small disk on a folder."""
    require_done("mount", "-t", "tmpfs", "-o", f"size={DISK_MB}m", "tmpfs", str(folder))
    try:
        yield
    finally:
        undo("umount", "--lazy", str(folder))


@contextmanager
def with_a_full_disk(place):
    """Fill what is left of the disk to the last byte."""
    filler = place.file.parent / "filler"
    with filler.open("wb", buffering=0) as file:
        for size in (1_000_000, 4096, 1):
            try:
                while file.write(b"\0" * size):
                    pass
            except OSError:
                continue
    yield
    filler.unlink()


@contextmanager
def nearly_full(place):
    """Leave room for the first pages of what is written, and no more."""
    with with_a_full_disk(place):
        filler = place.file.parent / "filler"
        with filler.open("r+b") as file:
            file.truncate(filler.stat().st_size - 12_288)
        yield


@contextmanager
def immutable(place):
    """Let nobody change the file or its log, root included.

    The index of the log stays: it is shared memory, and whoever writes there where nobody may is
    ended by the system at once.
    """
    files = [str(beside(place.file, end)) for end in ("", "-wal")]
    require_done("chattr", "+i", *files)
    try:
        yield
    finally:
        undo("chattr", "-i", *files)


@contextmanager
def behind_a_mount_that_may_only_be_read(place):
    """Mount the folder over itself so that it may only be read; what is open stays as it is."""
    folder = str(place.file.parent)
    require_done("mount", "--bind", folder, folder)
    try:
        require_done("mount", "-o", "remount,bind,ro", folder)
        yield
    finally:
        undo("umount", "--lazy", folder)


FAULTS = (with_a_full_disk, nearly_full, immutable, behind_a_mount_that_may_only_be_read)
ON_ITS_OWN = (with_a_full_disk, nearly_full)
"""These want a disk of its own."""
