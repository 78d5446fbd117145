"""A plant's own headings: propose what they stand for, and read what a person decided."""

from difflib import SequenceMatcher
from pathlib import Path

import pandas as pd

from scoring.contract import TABLE_BY_NAME, Table
from scoring.errors import FixableError
from scoring.files.csv_reading import read_csv
from scoring.intake import RawTable
from scoring.intake.headings import known_names

COLUMNS = ("table", "heading", "column", "meaning")
LEAST_LIKENESS = 0.6
"""Less alike is not proposed; planning value of ours."""


def propose_headings(tables: dict[str, RawTable]) -> pd.DataFrame:
    """Propose for every heading of a fleet the column it may stand for.

    Returns
    -------
    DataFrame
        Columns ``table``, ``heading``, ``column`` (empty: leave aside), ``meaning``; for a
        person to check and edit.
    """
    rows = [
        (name, heading, *_nearest(heading, TABLE_BY_NAME[name]))
        for name, raw in tables.items()
        for heading in raw.headings
        if heading
    ]
    return pd.DataFrame(rows, columns=list(COLUMNS))


def _nearest(heading: str, table: Table) -> tuple[str, str]:
    names = known_names(table)
    if heading in names:
        return heading, names[heading]
    tidy = _tidy(heading)
    likeness = {name: SequenceMatcher(None, tidy, _tidy(name)).ratio() for name in names}
    best = max(likeness, key=likeness.__getitem__)
    return (best, names[best]) if likeness[best] >= LEAST_LIKENESS else ("", "")


def _tidy(heading: str) -> str:
    words = "".join(c if c.isalnum() else " " for c in heading.lower()).split()
    return " ".join(words)


def read_headings_file(path: Path) -> dict[str, dict[str, str]]:
    """Read a file of headings.

    Returns
    -------
    dict of str to dict
        For each table, a plant's own heading and the column it stands for, or an empty string
        for a heading to leave aside.

    Raises
    ------
    FixableError
        If a row names a table or column that does not exist.
    """
    raw = read_csv(path, "headings")
    missing = [name for name in COLUMNS[:3] if name not in raw.headings]
    if missing:
        raise FixableError(
            f"{path.name} lacks the column {', '.join(missing)}; "
            "mount-risk headings FLEET writes such a file"
        )
    mapping: dict[str, dict[str, str]] = {}
    cells = [raw.column(name) for name in COLUMNS[:3]]
    for row, table, heading, column in zip(raw.rows, *cells, strict=True):
        where = f"{path.name}, row {row}"
        if table not in TABLE_BY_NAME:
            raise FixableError(f"{where}: no table {table!r}; one of {', '.join(TABLE_BY_NAME)}")
        if column and column not in known_names(TABLE_BY_NAME[table]):
            raise FixableError(
                f"{where}: {table} has no column {column!r}; mount-risk columns lists them"
            )
        mapping.setdefault(table, {})[heading.strip()] = column
    return mapping
