"""What is kept of each piece between the steps: whole files, for a step may be begun twice.

They are Python objects, as ``pickle`` writes them, in a folder that this run made for itself.
"""

import os
import pickle
import secrets
from pathlib import Path
from typing import Any

import numpy as np
import pyarrow as pa
from numpy.typing import NDArray


def keep_object(kept: object, path: Path) -> None:
    """Keep an object; who worked for it before and was cut off leaves nothing in its place."""
    begun = _begun(path)
    with begun.open("wb") as file:
        pickle.dump(kept, file, protocol=5)
    begun.replace(path)


def kept_object(path: Path) -> Any:  # noqa: ANN401 - whatever was kept
    """Return what was kept."""
    with path.open("rb") as file:
        return pickle.load(file)  # noqa: S301 - this run wrote it


def keep_numbers(numbers: NDArray[np.uint64], path: Path) -> None:
    """Keep numbers, to be looked at in part."""
    begun = _begun(path)
    with begun.open("wb") as file:
        np.save(file, numbers)
    begun.replace(path)


def room_for_numbers(folder: Path, shape: tuple[int, ...], kind: np.dtype[Any]) -> NDArray[Any]:
    """Return zeros that lie in a file of their own: what is not in use may leave memory.

    Raises
    ------
    OSError
        If there is no room for them on that disk.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     room_for_numbers(Path(folder), (2,), np.dtype(float)).tolist()
    [0.0, 0.0]
    """
    if 0 in shape:
        return np.zeros(shape, kind)
    place = _begun(folder / "room")
    numbers = np.memmap(place, kind, "w+", shape=shape)
    if hasattr(os, "posix_fallocate"):  # else a full disk would end the program in mid-write
        with place.open("r+b") as file:
            os.posix_fallocate(file.fileno(), 0, numbers.nbytes)
    return np.asarray(numbers)


ROWS_OF_A_BATCH = 500
"""Rows of a table that are read in one go, where few of many tables are wanted. Ours."""


def keep_table(table: pa.Table, path: Path) -> None:
    """Keep a table, to be read in part."""
    begun = _begun(path)
    with pa.ipc.new_file(str(begun), table.schema) as writer:
        writer.write_table(table, max_chunksize=ROWS_OF_A_BATCH)
    begun.replace(path)


def rows_kept(path: Path, start: int, stop: int) -> pa.Table:
    """Return some rows of a table that was kept, and read no more of it than they need.

    Not by a map of the file into memory: rows that are held would hold the whole map.
    """
    first, end = start // ROWS_OF_A_BATCH, -(-stop // ROWS_OF_A_BATCH)
    with pa.OSFile(str(path)) as source:
        file = pa.ipc.open_file(source)
        batches = [file.get_batch(number) for number in range(first, end)]
        table = pa.Table.from_batches(batches, file.schema)
    return table.slice(start - first * ROWS_OF_A_BATCH, stop - start)


def _begun(path: Path) -> Path:
    return path.with_name(f".{path.name}.{secrets.token_hex(4)}")
