"""Write a folder of JSON files whole, over nothing but an earlier one of its own kind."""

import json
from pathlib import Path
from tempfile import TemporaryDirectory

from scoring.errors import FixableError
from scoring.files.json_entries import read_json


def json_bytes(content: object, *, indent: int | None) -> bytes:
    """Return plain data as a JSON file.

    Raises
    ------
    FixableError
        If a number is not finite.
    """
    try:
        return (json.dumps(content, allow_nan=False, indent=indent) + "\n").encode()
    except ValueError:
        raise FixableError(
            "what was learned holds a number that is not finite, so nothing was written; the "
            "ranking by the handbook alone is sound: mount-risk rank FLEET --handbook-only"
        ) from None


def write_whole(folder: Path, files: dict[str, bytes], marked_by: str, schema: str) -> bool:
    """Write files into a folder, each first whole beside its place.

    Parameters
    ----------
    folder : Path
        A new or empty folder, or one that holds what was written earlier.
    files : dict of str to bytes
        By name, in the order in which they are moved to their places.
    marked_by : str
        The one of them that tells what kind of folder it is.
    schema : str
        What it says of that.

    Returns
    -------
    bool
        Whether what was written earlier was replaced.

    Raises
    ------
    FixableError
        If the folder holds something else or cannot be written.
    """
    try:
        replaces = _holds_earlier(folder, set(files), marked_by, schema)
        folder.mkdir(parents=True, exist_ok=True)
        with TemporaryDirectory(prefix=".being-written-", dir=folder) as beside:
            for name, data in files.items():
                (Path(beside) / name).write_bytes(data)
            for name in files:
                (Path(beside) / name).replace(folder / name)
    except OSError as error:
        raise FixableError(f"{folder} cannot be written ({error.strerror or error})") from None
    return replaces


def _holds_earlier(folder: Path, files: set[str], marked_by: str, schema: str) -> bool:
    """Tell whether a folder holds what was written earlier; refuse it if it holds anything else."""
    if not folder.exists():
        return False
    if not folder.is_dir():
        raise FixableError(f"{folder} is a file; give a folder: --out NEW_FOLDER")
    names = sorted(path.name for path in folder.iterdir() if not path.name.startswith("."))
    others = [name for name in names if name not in files]
    if not others and names and not _is_of_the_kind(folder / marked_by, schema):
        others = names
    if others:
        raise FixableError(
            f"{folder} holds something else ({', '.join(others[:3])}); nothing was written. "
            "Give a new folder: --out NEW_FOLDER"
        )
    return bool(names)


def _is_of_the_kind(path: Path, schema: str) -> bool:
    try:
        found, _ = read_json(path)
    except FixableError:
        return False
    return isinstance(found, dict) and found.get("schema") == schema
