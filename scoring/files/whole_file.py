"""Files and folders that get to their place whole, or not at all."""

import os
import secrets
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from scoring.errors import FixableError


@contextmanager
def whole_file(path: Path) -> Iterator[Path]:
    """Write a file beside its place; once it is whole it takes its place.

    On any error nothing is left, and what lay there before lies there still.

    Parameters
    ----------
    path : Path
        Where it shall lie.

    Yields
    ------
    Path
        Where it is to be written.
    """
    if path.exists() and not path.is_file():  # what takes bytes and is no file, such as a pipe
        yield path
        return
    place = path.resolve()
    beside = place.with_name(_name_of_part())
    try:
        yield beside
        if place.exists():
            shutil.copymode(place, beside)
        _to_disk(beside)
        beside.replace(place)
    finally:
        beside.unlink(missing_ok=True)


@contextmanager
def whole_folder(folder: Path) -> Iterator[Path]:
    """Write files into a folder beside a new or empty one; once all are whole they get there.

    Parameters
    ----------
    folder : Path
        Where they shall lie; made if need be.

    Yields
    ------
    Path
        Where they are to be written.

    Raises
    ------
    FixableError
        If they cannot be written.
    """
    try:
        with _beside(folder.resolve()) as place:
            yield place
    except OSError as error:
        raise FixableError(
            f"{folder} cannot be written ({error.strerror or error}); give another place"
        ) from None


@contextmanager
def _beside(place: Path) -> Iterator[Path]:
    place.parent.mkdir(parents=True, exist_ok=True)
    beside = place.with_name(_name_of_part())
    beside.mkdir()
    try:
        yield beside
        paths = sorted(beside.iterdir())
        for path in paths:
            _to_disk(path)
        if not place.exists():
            beside.rename(place)
        else:
            _move(paths, place)
    finally:
        shutil.rmtree(beside, ignore_errors=True)


def _move(paths: list[Path], folder: Path) -> None:
    """Move files into a folder that is there: somebody may stand in it."""
    try:
        for path in paths:
            path.rename(folder / path.name)
    except OSError:
        for path in paths:
            (folder / path.name).unlink(missing_ok=True)
        raise


def _name_of_part() -> str:
    return f".{secrets.token_hex(6)}.part"


def _to_disk(path: Path) -> None:
    with path.open("rb+") as file:
        os.fsync(file.fileno())
