"""Shutdowns as a page asks for them, checked as those of a file are."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory

import pandas as pd

from scoring.contract.windows import WINDOWS
from scoring.files.csv_reading import read_csv
from scoring.intake import RawTable
from scoring.planning.shutdowns import Shutdowns, read_windows

COLUMNS = [column.name for column in WINDOWS.columns]
MEANINGS = {column.name: column.meaning for column in WINDOWS.columns}


def one_row(  # noqa: PLR0913 - a shutdown has these
    *,
    crew_hours: float,
    sites: Sequence[str] = (),
    people: int | None = None,
    starts_on: date | None = None,
    crane: bool = True,
    name: str = "shutdown",
) -> pd.DataFrame:
    """Return a table with one shutdown.

    Examples
    --------
    >>> one_row(crew_hours=24, sites=["Upper pit", "Rail shed"])["sites"].tolist()
    ['Upper pit;Rail shed']
    """
    row = {
        "window": name,
        "sites": ";".join(sites) or None,
        "starts_on": pd.Timestamp(starts_on) if starts_on else pd.NaT,
        "crew_hours": float(crew_hours),
        "people": people,
        "crane": "yes" if crane else "no",
    }
    return _typed(pd.DataFrame([row]))


def _typed(table: pd.DataFrame) -> pd.DataFrame:
    """Give columns the kinds that a table to be filled in wants, blank ones too."""
    return table[COLUMNS].astype(
        {
            **dict.fromkeys(("window", "sites", "crane"), object),
            "starts_on": "datetime64[s]",
            "crew_hours": "Float64",
            "people": "Int64",
        }
    )


def shutdowns_of(rows: pd.DataFrame, sites: "pd.Series[str]", as_of: pd.Timestamp) -> Shutdowns:
    """Check shutdowns that a person filled in.

    Parameters
    ----------
    rows : DataFrame, shape (n_windows, 6)
        The columns of the contract's table ``windows``; rows all blank are left out.
    sites : Series of str
        Sites of the fleet.
    as_of : Timestamp
        The day from which parts take their time to come.

    Returns
    -------
    Shutdowns

    Raises
    ------
    FixableError
        If a cell is wrong, named by row and column, or there is no row.
    """
    filled = rows[COLUMNS].dropna(how="all")
    cells = [[_written(cell) for cell in row] for row in filled.itertuples(index=False)]
    raw = RawTable.from_rows(WINDOWS.name, "shutdowns", COLUMNS, cells, first_row=1)
    return read_windows(raw, sites, as_of)


def _written(cell: object) -> str:
    if cell is None or pd.isna(cell):  # type: ignore[call-overload]  # one cell
        return ""
    if isinstance(cell, pd.Timestamp | date):
        return f"{cell:%Y-%m-%d}"
    return f"{cell:.10g}" if isinstance(cell, float) else str(cell)


def windows_in_file(
    name: str, found: bytes, sites: "pd.Series[str]", as_of: pd.Timestamp
) -> pd.DataFrame:
    """Read shutdowns from a CSV file that was handed to a page.

    Parameters
    ----------
    name : str
        Name of the file.
    found : bytes
        What is in it.
    sites : Series of str
        Sites of the fleet.
    as_of : Timestamp
        The day from which parts take their time to come.

    Returns
    -------
    DataFrame, shape (n_windows, 6)
        As ``shutdowns_of`` takes them.

    Raises
    ------
    FixableError
        If it cannot be read, or a cell is wrong.
    """
    with TemporaryDirectory() as folder:
        path = Path(folder) / (Path(name).name or "windows.csv")
        path.write_bytes(found)
        return _typed(read_windows(read_csv(path, WINDOWS.name), sites, as_of).table)
