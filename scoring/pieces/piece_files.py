"""What is kept of each piece between the steps: whole files, for a step may be begun twice.

They are Python objects, as ``pickle`` writes them, in a folder that this run made for itself.
"""

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


def keep_table(table: pa.Table, path: Path) -> None:
    """Keep a table, to be read in part."""
    begun = _begun(path)
    with pa.ipc.new_file(str(begun), table.schema) as writer:
        writer.write_table(table)
    begun.replace(path)


def _begun(path: Path) -> Path:
    return path.with_name(f".{path.name}.{secrets.token_hex(4)}")
