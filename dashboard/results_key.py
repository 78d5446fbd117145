"""What results rest on, as one short word: records, day, horizon, and programs."""

import json
import platform
from functools import cache
from hashlib import sha256
from importlib.metadata import version
from pathlib import Path

import pandas as pd

from scoring.contract import FLEET_TABLES
from scoring.learning.fleet_fingerprint import fleet_fingerprint
from scoring.records import ROW, Fleet

PROGRAMS = ("numpy", "pandas", "scipy", "scikit-learn", "pyarrow")
"""Beside ours: what makes numbers, and the objects that they are kept in."""


def results_key(fleet: Fleet, as_of: pd.Timestamp, horizon_days: int) -> str:
    """Return a key that is another one as soon as results may be others.

    Parameters
    ----------
    fleet : Fleet
        Checked tables; their order counts, for results count units by their place.
    as_of : Timestamp
        The day.
    horizon_days : int
        So far ahead chances and losses reach. [d]

    Returns
    -------
    str
        64 hexadecimal digits.
    """
    order = sha256()
    for table in FLEET_TABLES:
        frame = fleet.table(table.name)
        order.update(frame[ROW].to_numpy("int64").tobytes())
        order.update(json.dumps(frame[table.key].astype(str).tolist()).encode())
    said = [
        fleet_fingerprint(fleet),
        order.hexdigest(),
        str(as_of),
        horizon_days,
        programs(),
    ]
    return sha256(json.dumps(said).encode()).hexdigest()


@cache
def programs() -> list[str]:
    """Return which programs work results out: ours by its text, others by their version."""
    root = Path(__file__).parent.parent
    ours = sha256()
    for folder in ("scoring", "dashboard"):
        for path in sorted((root / folder).rglob("*.py")):
            ours.update(str(path.relative_to(root)).encode() + b"\0" + path.read_bytes() + b"\0")
    others = [f"{name} {version(name)}" for name in PROGRAMS]
    return [ours.hexdigest(), platform.python_version(), platform.machine(), *others]
