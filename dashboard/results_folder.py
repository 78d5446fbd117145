"""What was worked out, kept over a restart in a folder that is its user's alone.

What is kept are Python objects as ``pickle`` writes them, and reading such a file can run code. So
only a file is read that this user owns, in a folder that this user owns, and into which nobody else
may write or look. Whatever is foreign, damaged or of an older program counts as not there.
"""

import hashlib
import logging
import os
import pickle
import secrets
import stat
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

STATES_KEPT = 4
"""So many states of records, days and programs are kept; the one used longest ago goes. Ours."""

LARGEST_BYTES = 400_000_000
ALL_BYTES = 800_000_000
"""A larger state is not kept, nor more than this together. Ours."""

FORGOTTEN_S = 3600.0
"""A file that was begun so long ago and not finished is nobody's any more. Ours. [s]"""

SUFFIX, BEGUN = ".results", ".begun"
TAG = "CACHEDIR.TAG"
TAG_SAYS = b"Signature: 8a477f597d28d172789f06886806bc55\n# What mount-risk can work out anew.\n"
"""By this convention, here from memory, backups leave a folder out."""

_READ = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0)
_OTHERS = stat.S_IRWXG | stat.S_IRWXO
_log = logging.getLogger("mount_risk.pages")


def usual_folder() -> Path:
    """Return the folder below that for caches of this user: ``XDG_CACHE_HOME``, or ``~/.cache``."""
    named = os.environ.get("XDG_CACHE_HOME", "")
    above = Path(named) if named and Path(named).is_absolute() else Path.home() / ".cache"
    return above / "mount-risk" / "worked-out"


class ResultsFolder:
    """Keeps objects under a key, each in a file of its own.

    Parameters
    ----------
    folder : Path
        Made where it is not there. Where whose it is cannot be told, as on Windows, nothing is
        kept.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def read(self, key: str) -> object | None:
        """Return what is kept under a key; none where nothing is that may be trusted."""
        name = key + SUFFIX
        try:
            with self._opened() as folder:
                found = _content(folder, name)
                if found is None:
                    return None
                os.utime(name, dir_fd=folder)
        except OSError:
            return None
        digest, content = found[: hashlib.sha256().digest_size], found[32:]
        if hashlib.sha256(content).digest() != digest:
            _log.info("kept results %s are damaged; they are worked out anew", key)
            return None
        try:
            kept: object = pickle.loads(content)  # noqa: S301 - ours alone, see above
        except Exception:  # noqa: BLE001 - a pickle of another program can raise anything
            _log.info("kept results %s cannot be read; they are worked out anew", key)
            return None
        return kept

    def write(self, key: str, what: object) -> None:
        """Keep something under a key, in the place of what was there; do nothing where one cannot.

        The file gets its name once it is whole, so that servers beside each other see all or
        nothing.
        """
        content = pickle.dumps(what, protocol=5)
        if len(content) > LARGEST_BYTES:
            return
        begun = f".{key}.{secrets.token_hex(8)}{BEGUN}"
        with suppress(OSError), self._opened() as folder:
            try:
                _write(folder, begun, hashlib.sha256(content).digest() + content)
                os.rename(begun, key + SUFFIX, src_dir_fd=folder, dst_dir_fd=folder)
            except OSError:
                with suppress(OSError):
                    os.unlink(begun, dir_fd=folder)
                raise
            _tidy(folder)

    @contextmanager
    def _opened(self) -> Iterator[int]:
        """Open the folder, so that it stays the one that was looked at.

        Raises
        ------
        OSError
            If it is not this user's alone, or cannot be made.
        """
        if not hasattr(os, "geteuid"):
            raise PermissionError("whose a folder is cannot be told here")
        self._folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        folder = os.open(self._folder, _READ | os.O_DIRECTORY)
        try:
            if not _is_ours(os.fstat(folder)):
                _log.info("%s is not this user's alone; nothing is kept there", self._folder)
                raise PermissionError("not this user's alone")
            if TAG not in _names(folder):
                with suppress(FileExistsError):
                    _write(folder, TAG, TAG_SAYS)
            yield folder
        finally:
            os.close(folder)


def _is_ours(status: os.stat_result) -> bool:
    return status.st_uid == os.geteuid() and not status.st_mode & _OTHERS


def _names(folder: int) -> list[str]:
    with os.scandir(folder) as entries:
        return [entry.name for entry in entries]


def _content(folder: int, name: str) -> bytes | None:
    """Return what is in a file; none where it is not this user's alone."""
    with os.fdopen(os.open(name, _READ, dir_fd=folder), "rb") as file:
        status = os.fstat(file.fileno())
        if not stat.S_ISREG(status.st_mode) or not _is_ours(status):
            return None
        return file.read()


def _write(folder: int, name: str, content: bytes) -> None:
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL
    with os.fdopen(os.open(name, flags, 0o600, dir_fd=folder), "wb") as file:
        file.write(content)


def _tidy(folder: int) -> None:
    """Delete what was used longest ago beyond the bounds, and what was begun and never finished."""
    found = []
    for name in _names(folder):
        with suppress(FileNotFoundError):  # another server was quicker
            status = os.stat(name, dir_fd=folder, follow_symlinks=False)
            if name.endswith(SUFFIX):
                found.append((status.st_mtime_ns, status.st_size, name))
            elif name.endswith(BEGUN) and time.time() - status.st_mtime > FORGOTTEN_S:
                os.unlink(name, dir_fd=folder)
    together = 0
    for place, (_, size, name) in enumerate(sorted(found, reverse=True)):
        together += size
        if place >= STATES_KEPT or together > ALL_BYTES:
            with suppress(FileNotFoundError):
                os.unlink(name, dir_fd=folder)
