"""Write records to files from which reading gives them back, value for value."""

from collections.abc import Mapping
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
import pandas as pd
import pyarrow as pa
import pyarrow.compute as pc

from scoring.contract import FLEET_TABLES, TABLE_BY_NAME
from scoring.errors import FixableError
from scoring.files.exported_folder import write_csv_folder
from scoring.files.read_fleet import read_place
from scoring.files.whole_file import whole_file, whole_folder
from scoring.files.write_table import write_table, write_workbook
from scoring.intake import RawTable

FORMATS = ("csv", "parquet", "xlsx")
WORKBOOK = ".xlsx"
WORKBOOK_IN_FOLDER = "fleet.xlsx"
LARGEST_EXACT = 1e15
"""Spreadsheets keep no more digits of a number; larger ones are written as text."""

LONGEST_SHEET = 1_048_575
"""Rows that a sheet takes below its headings."""


def write_records(
    tables: Mapping[str, RawTable],
    out: Path,
    kind: str = "csv",
    beside: Mapping[str, pd.DataFrame] | None = None,
) -> list[Path]:
    """Write records, and read them back to be sure.

    Parameters
    ----------
    tables : mapping of str to RawTable
        Every table of a fleet, under the headings of the contract.
    out : Path
        A new or empty folder, or an ``.xlsx`` file that is not there yet.
    kind : str
        How a folder's files are written: ``csv``, ``parquet``, or ``xlsx`` for one workbook there.
    beside : mapping of str to DataFrame, optional
        What is written beside the records, such as a ranking: a file or sheet each.

    Returns
    -------
    list of Path
        What was written.

    Raises
    ------
    FixableError
        If something lies there already, it cannot be written, or the format cannot hold a text.
    """
    require_free(out)
    more = beside or {}
    try:
        if out.suffix == WORKBOOK:
            return [_write_one_file(tables, out, more)]
        with whole_folder(out) as place:
            written = _write(tables, place, kind, more)
            found = written[0] if written[0].suffix == WORKBOOK else place
            _require_the_same(tables, read_place(str(found)).tables, out)
    except OSError as error:
        raise FixableError(
            f"{out} cannot be written ({error.strerror or error}); give another place: --out"
        ) from None
    return [out / path.name for path in written]


def _write_one_file(
    tables: Mapping[str, RawTable], out: Path, beside: Mapping[str, pd.DataFrame]
) -> Path:
    out.parent.mkdir(parents=True, exist_ok=True)
    with TemporaryDirectory(prefix=".", suffix=".part", dir=out.parent) as folder:
        path = Path(folder) / out.name  # reading goes by how its name ends
        _write_workbook(tables, path, beside)
        _require_the_same(tables, read_place(str(path)).tables, out)
        with whole_file(out) as place:
            path.replace(place)
    return out


def require_free(out: Path) -> None:
    """Refuse a place where something lies already.

    Raises
    ------
    FixableError
        If it is a file, or a folder that is not empty.
    """
    if out.is_dir() and out.suffix != WORKBOOK:
        if any(out.iterdir()):
            raise FixableError(f"{out} is not empty; give a new folder, so that nothing is lost")
    elif out.exists():
        raise FixableError(f"{out} is there already; give a new one, so that nothing is lost")


def _write_workbook(
    tables: Mapping[str, RawTable], path: Path, beside: Mapping[str, pd.DataFrame]
) -> list[Path]:
    longest = max(*(len(table.rows) for table in tables.values()), *map(len, beside.values()), 0)
    if longest > LONGEST_SHEET:
        raise FixableError(f"a sheet cannot hold {longest} rows; give a folder: --out FOLDER")
    write_workbook({name: _as_frame(table) for name, table in tables.items()} | {**beside}, path)
    return [path]


def _write(
    tables: Mapping[str, RawTable], out: Path, kind: str, beside: Mapping[str, pd.DataFrame]
) -> list[Path]:
    if kind == "xlsx":
        return _write_workbook(tables, out / WORKBOOK_IN_FOLDER, beside)
    if kind == "csv":
        paths = write_csv_folder(tables, out)
    else:
        paths = [out / f"{table.name}.parquet" for table in FLEET_TABLES]
        for table, path in zip(FLEET_TABLES, paths, strict=True):
            _as_frame(tables[table.name]).to_parquet(path, index=False)
    for name, frame in beside.items():
        path = out / f"{name}.{kind}"
        write_table(frame, path)
        paths.append(path)
    return paths


def _as_frame(table: RawTable) -> pd.DataFrame:
    """Return text as text, and numbers as numbers as far as a spreadsheet keeps their digits."""
    columns = TABLE_BY_NAME[table.name].column_by_name
    return pd.DataFrame(
        {
            heading: _numbers(cells) if columns[heading].is_numeric else _texts(cells)
            for heading, cells in zip(table.headings, table.cells, strict=True)
        }
    )


def _texts(cells: pa.Array) -> "pd.Series[str]":
    return pd.Series(pc.if_else(pc.equal(cells, ""), None, cells).to_pylist(), dtype=object)


def _numbers(cells: pa.Array) -> "pd.Series[float] | pd.Series[str]":
    numbers = _as_numbers(cells).to_numpy(zero_copy_only=False)
    if bool((np.abs(numbers) >= LARGEST_EXACT).any()):
        return _texts(cells)
    return pd.Series(numbers)


def _require_the_same(
    tables: Mapping[str, RawTable], found: Mapping[str, RawTable], out: Path
) -> None:
    """Refuse what does not read back as it was; a workbook cannot hold every text."""
    for name, table in tables.items():
        contract = TABLE_BY_NAME[name]
        for heading, cells in zip(table.headings, table.cells, strict=True):
            there = pa.array(found[name].column(heading), pa.string())
            held = cells
            if contract[heading].is_numeric:
                held, there = _as_numbers(cells), _as_numbers(there)
            same = pc.or_kleene(pc.equal(held, there), pc.and_(held.is_null(), there.is_null()))
            if pc.all(same, min_count=0).as_py():
                continue
            place = pc.index(same, pa.scalar(value=False)).as_py()
            key = table.cells[table.headings.index(contract.key)][place]
            raise FixableError(
                f"{out} does not hold {heading} of {key} in {name} as "
                "the records do, and is not to be used: a workbook cannot hold every character, "
                "nor very long texts. Export to another folder, as CSV or Parquet"
            )


def _as_numbers(cells: pa.Array) -> pa.Array:
    return pc.cast(pc.if_else(pc.equal(cells, ""), None, cells), pa.float64())
