import datetime as dt
from pathlib import Path

import pandas as pd
import pyarrow as pa
import pyarrow.parquet as pq
import pytest
from written_fleets import UNITS, WALKDOWNS, check_place, good_place, write_fleet

from scoring.errors import UnreadableFleetError
from scoring.files.parquet_reading import read_parquet
from scoring.files.read_fleet import read_fleet


def _cells(tmp_path: Path, column: pa.Array) -> list[str]:
    path = tmp_path / "events.parquet"
    pq.write_table(pa.table({"cell": column}), path)
    return read_parquet(path, "events").column("cell")


@pytest.mark.parametrize(
    ("column", "cells"),
    [
        (pa.array(["0012", None, "a b"]), ["0012", "", "a b"]),
        (pa.array(["x", None, "x"]).dictionary_encode(), ["x", "", "x"]),
        (pa.array([1.0, 0.1, None, float("nan")]), ["1", "0.1", "", ""]),
        (pa.array([0.1, 2.5], pa.float32()), ["0.1", "2.5"]),
        (pa.array([0.5, 2], pa.float16()), ["0.5", "2"]),
        (pa.array([20240000012.0, 123456789012.0]), ["20240000012", "123456789012"]),
        (pa.array([float("inf"), -0.0]), ["inf", "0"]),
        (pa.array([12, None]), ["12", ""]),
        (pa.array([dt.date(2024, 2, 29)]), ["2024-02-29"]),
        (pa.array([dt.datetime.fromisoformat("2024-02-29T14:30")]), ["2024-02-29 14:30:00.000000"]),
        (pa.array([pd.Timestamp("2024-02-29")], pa.timestamp("ns")), ["2024-02-29"]),
        (pa.array([None, None]), ["", ""]),
        (pa.array([], pa.float64()), []),
        (pa.array([True]), ["true"]),
    ],
)  # fmt: skip
def test_typed_columns_become_the_text_a_person_would_write(
    tmp_path: Path, column: pa.Array, cells: list[str]
) -> None:
    assert _cells(tmp_path, column) == cells


def test_dates_with_a_time_zone_are_told(tmp_path: Path) -> None:
    cells = _cells(tmp_path, pa.array([pd.Timestamp("2024-02-29 14:30", tz="UTC")]))
    assert cells[0].endswith("Z")


def test_a_column_that_cannot_be_text_is_refused(tmp_path: Path) -> None:
    with pytest.raises(UnreadableFleetError, match="text, numbers and dates can be read"):
        _cells(tmp_path, pa.array([[1, 2]]))


@pytest.mark.parametrize("data", [b"", b"PAR1", b"unit_id,site\n"])
def test_a_file_that_is_no_parquet_is_refused(tmp_path: Path, data: bytes) -> None:
    write_fleet(tmp_path)
    (tmp_path / "events.parquet").write_bytes(data)
    with pytest.raises(UnreadableFleetError, match=r"events.parquet cannot be read as Parquet"):
        read_fleet(str(tmp_path))


def test_a_heading_that_stands_twice_is_told(tmp_path: Path) -> None:
    write_fleet(tmp_path, units=UNITS, walkdowns=WALKDOWNS)
    table = pa.table([["E-1"], ["12"], ["12"]], names=["event_id", "unit_id", "unit_id"])
    pq.write_table(table, tmp_path / "events.parquet")
    wrong = check_place(tmp_path).faults["wrong"].tolist()
    assert "stands 2 times among the headings" in wrong


def test_csv_and_parquet_files_may_lie_in_one_folder(tmp_path: Path) -> None:
    write_fleet(tmp_path)
    (tmp_path / "units.csv").unlink()
    rows = [line.split(",") for line in UNITS.splitlines()]
    pd.DataFrame(rows[1:], columns=rows[0]).to_parquet(tmp_path / "units.parquet")
    assert good_place(tmp_path).fleet.units["unit_id"].tolist() == ["0012", "12"]
