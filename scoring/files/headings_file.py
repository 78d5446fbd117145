"""A plant's own headings: propose what they stand for, and read what a person decided."""

from difflib import SequenceMatcher
from pathlib import Path

import pandas as pd

from scoring.contract import TABLE_BY_NAME, Table
from scoring.contract.quantities import ambiguous_names
from scoring.errors import FixableError
from scoring.files.csv_reading import read_csv
from scoring.files.write_table import as_found
from scoring.intake import RawTable
from scoring.intake.headings import known_names

COLUMNS = ("table", "heading", "column", "meaning")
LEAST_SIMILARITY = 0.6
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
        (name, *row)
        for name, raw in tables.items()
        for row in _propose(list(dict.fromkeys(h for h in raw.headings if h)), TABLE_BY_NAME[name])
    ]
    return pd.DataFrame(rows, columns=list(COLUMNS))


def _propose(headings: list[str], table: Table) -> list[tuple[str, str, str]]:
    """Give each heading the column most like it; no two headings the same column."""
    names = known_names(table)
    open_units = {n: advice for c in table.columns for n, advice in ambiguous_names(c.name).items()}
    tidy_names = {_tidy(name): name for name in open_units} | {_tidy(name): name for name in names}
    pairs = sorted(
        (
            (_similarity(heading, tidy), heading, name)
            for heading in headings
            for tidy, name in tidy_names.items()
        ),
        key=lambda pair: (pair[1] != pair[2], -pair[0]),  # the very name first
    )
    chosen: dict[str, str] = {}
    for similarity, heading, name in pairs:
        if similarity >= LEAST_SIMILARITY and heading not in chosen and name not in chosen.values():
            chosen[heading] = name
    return [
        (heading, "", f"leaves its unit open: {open_units[name]}")
        if (name := chosen.get(heading, "")) in open_units
        else (heading, name, names.get(name, ""))
        for heading in headings
    ]


def _similarity(heading: str, tidy_name: str) -> float:
    return SequenceMatcher(None, _tidy(heading), tidy_name).ratio()


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
    cells = [[text.strip() for text in raw.column(name)] for name in COLUMNS[:3]]
    if raw.ragged:
        raise FixableError(
            f"{path.name}, row {raw.ragged[0].row}: has {len(raw.ragged[0].cells)} cells where the "
            f"headings are {len(raw.headings)}; put text that has a comma in double quotes"
        )
    for row, table, found, column in zip(raw.rows, *cells, strict=True):
        if not (table or found or column):
            continue
        where = f"{path.name}, row {row}"
        heading = as_found(found)
        if table not in TABLE_BY_NAME:
            raise FixableError(f"{where}: no table {table!r}; one of {', '.join(TABLE_BY_NAME)}")
        if column and column not in known_names(TABLE_BY_NAME[table]):
            raise FixableError(
                f"{where}: {table} has no column {column!r}; mount-risk columns lists them"
            )
        if mapping.setdefault(table, {}).setdefault(heading, column) != column:
            raise FixableError(
                f"{where}: {heading!r} of {table} stands for {mapping[table][heading]!r} and for "
                f"{column!r}; keep one of the two rows"
            )
    return mapping
