"""Files that were handed over as bytes: bounded, read as grids, and left nowhere on the disk."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path, PurePosixPath
from tempfile import TemporaryDirectory

from scoring.errors import FixableError
from scoring.files.database_file import DATABASE_ENDINGS
from scoring.files.grids import ENDINGS, read_grids
from scoring.files.planned_records import read_plan
from scoring.reading_plan import Grid, Plan

PLAN_ENDING = ".toml"

KINDS = (*ENDINGS, *DATABASE_ENDINGS, PLAN_ENDING)
"""Files that are taken end so."""

MOST_FILES = 60
"""So many files are taken at once. Ours."""

MOST_BYTES = 60_000_000
"""So much they may hold together; larger records go through the command line. Ours. [bytes]"""


def grids_of_files(files: Mapping[str, bytes], plan: Plan | None = None) -> list[Grid]:
    r"""Read the grids of some files; a reading plan holds none, a database is asked for them.

    Parameters
    ----------
    files : mapping of str to bytes
        By name.
    plan : Plan, optional
        Says how text files are written.

    Returns
    -------
    list of Grid

    Raises
    ------
    FixableError
        If a file is of another kind, too large, or cannot be read.

    Examples
    --------
    >>> [grid] = grids_of_files({"list.csv": b"Tag;Site\nC-1;Quay\n"})
    >>> grid.name, grid.row_texts(1)
    ('list.csv', ['C-1', 'Quay'])
    """
    require_bounded([(name, len(data)) for name, data in files.items()])
    written = {
        source: (table.encoding, table.delimiter)
        for table in (plan.tables if plan else ())
        for source in table.sources
        if table.encoding or table.delimiter
    }
    grids: list[Grid] = []
    for name, data in files.items():
        if not name.lower().endswith((PLAN_ENDING, *DATABASE_ENDINGS)):
            with TemporaryDirectory() as folder:
                path = _written(name, data, folder)
                grids += [replace(grid, folder="") for grid in read_grids(path, written)]
    return grids


def plan_among(files: Mapping[str, bytes]) -> Plan:
    """Return the reading plan among some files; an empty one where there is none.

    Raises
    ------
    FixableError
        If there are several, or it cannot be read.
    """
    plans = [name for name in files if name.lower().endswith(PLAN_ENDING)]
    if not plans:
        return Plan()
    if len(plans) > 1:
        raise FixableError(f"there are several reading plans, {' and '.join(plans)}; keep one")
    with TemporaryDirectory() as folder:
        return read_plan(_written(plans[0], files[plans[0]], folder))


def names_apart(names: Sequence[str]) -> list[str]:
    """Tell apart files that bear the same name, so that none takes another's place.

    Examples
    --------
    >>> names_apart(["units.csv", "jobs.csv", "units.csv"])
    ['units.csv', 'jobs.csv', 'units (2).csv']
    """
    apart: list[str] = []
    for name in names:
        stem, dot, ending = name.rpartition(".")
        one, number = name, 1
        while one in apart:
            number += 1
            one = f"{stem} ({number}){dot}{ending}" if dot else f"{name} ({number})"
        apart.append(one)
    return apart


def require_bounded(sizes: Sequence[tuple[str, int]]) -> None:
    """Refuse too many files, too large ones together, and those of another kind.

    Parameters
    ----------
    sizes : sequence of tuple of str and int
        Of each file its name and size. [bytes]

    Raises
    ------
    FixableError
        With what is allowed.
    """
    for name, _ in sizes:
        if not name.lower().endswith(KINDS):
            raise FixableError(
                f"{name} is a file of another kind; files that can be read end in "
                f"{', '.join(KINDS)}"
            )
    if len(sizes) > MOST_FILES:
        raise FixableError(f"{len(sizes)} files; at most {MOST_FILES} are taken at once")
    total = sum(size for _, size in sizes)
    if total > MOST_BYTES:
        raise FixableError(
            f"the files hold {total / 1e6:.0f} MB; at most {MOST_BYTES / 1e6:.0f} MB are taken "
            "here. Larger records come in by the command line: mount-risk reading-plan FOLDER"
        )


def _written(name: str, data: bytes, folder: str) -> Path:
    path = Path(folder) / (PurePosixPath(name.replace("\\", "/")).name or "records.csv")
    try:
        path.write_bytes(data)
    except (OSError, ValueError):
        raise FixableError(f"the file {name!r} cannot be kept under this name; rename it") from None
    return path
