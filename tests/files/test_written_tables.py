from pathlib import Path

import openpyxl
import pandas as pd
import pytest

from scoring.errors import FixableError
from scoring.files.write_table import as_found, disarmed, write_table

ARMED = ["=1+1", "+1", "-1", "@home", "\tx", "\rx", '=HYPERLINK("a")']
AS_CSV = ["'=1+1", "'+1", "'-1", "'@home", "'\tx", "'\nx", '\'=HYPERLINK("a")']
FRAME = pd.DataFrame(
    {
        "unit_id": [*ARMED, "U-1", None],
        "loss": [-1.5, 2, 0, -3, 1e-9, 1e12, 7, 8, None],
        "rank": range(1, 10),
        "day": pd.to_datetime(["2024-02-29"] * 8 + [None]).astype("datetime64[s]"),
        "verdict": pd.Categorical(["hold", "=watch"] * 4 + [None]),
    }
)


def test_in_csv_text_that_would_run_as_a_formula_gets_an_apostrophe(tmp_path: Path) -> None:
    write_table(FRAME, tmp_path / "new folder" / "ranking.csv")
    read = pd.read_csv(tmp_path / "new folder" / "ranking.csv", dtype={"unit_id": str})
    assert read["unit_id"].tolist()[:8] == [*AS_CSV, "U-1"]
    assert read["verdict"].tolist()[:2] == ["hold", "'=watch"]
    assert read["unit_id"].isna().tolist() == [False] * 8 + [True]


def test_in_csv_numbers_are_untouched(tmp_path: Path) -> None:
    write_table(FRAME, tmp_path / "ranking.csv")
    read = pd.read_csv(tmp_path / "ranking.csv")
    assert read["loss"].fillna(99).tolist() == FRAME["loss"].fillna(99).tolist()
    mixed = pd.DataFrame({"value": [-5, "-5", -2.5, None]}, dtype=object)
    assert disarmed(mixed)["value"].tolist() == [-5, "'-5", -2.5, None]


def test_an_apostrophe_put_before_text_comes_off_again() -> None:
    assert [as_found(text) for text in ["'=1+1", "'-x", "'@a", "U-1"]] == [
        "=1+1",
        "-x",
        "@a",
        "U-1",
    ]
    assert as_found("'t Hoekje") == "'t Hoekje"


def test_in_a_workbook_text_stays_text_and_numbers_numbers(tmp_path: Path) -> None:
    write_table(FRAME, tmp_path / "ranking.xlsx", sheet="worst first")
    sheet = openpyxl.load_workbook(tmp_path / "ranking.xlsx")["worst first"]
    rows = list(sheet.iter_rows(min_row=2))
    assert [row[0].data_type for row in rows[:8]] == ["s"] * 8
    values = [row[0].value for row in rows[:8]]
    assert values == [text.replace("\r", "\n") for text in [*ARMED, "U-1"]]  # as XML reads it
    assert [row[1].data_type for row in rows] == ["n"] * 9
    assert [row[1].value for row in rows[:3]] == [-1.5, 2, 0]
    assert [row[4].data_type for row in rows[:2]] == ["s", "s"]
    assert rows[0][3].is_date
    assert [cell.value for cell in rows[8]] == [None, None, 9, None, None]
    assert sheet["A1"].font.bold


def test_signs_that_a_workbook_cannot_hold_are_replaced(tmp_path: Path) -> None:
    write_table(pd.DataFrame({"notes": ["a\x0bb", "=\x01"]}), tmp_path / "x.xlsx")
    sheet = openpyxl.load_workbook(tmp_path / "x.xlsx").active
    assert [row[0].value for row in sheet.iter_rows(min_row=2)] == ["a\ufffdb", "=\ufffd"]  # type: ignore[union-attr]


def test_parquet_keeps_every_value_and_type(tmp_path: Path) -> None:
    write_table(FRAME, tmp_path / "ranking.parquet")
    read = pd.read_parquet(tmp_path / "ranking.parquet")
    read["day"] = read["day"].astype("datetime64[s]")  # the format knows no seconds
    pd.testing.assert_frame_equal(read, FRAME, check_dtype=False)
    assert read["loss"].dtype == "float64"


def test_a_table_without_a_row_keeps_its_headings(tmp_path: Path) -> None:
    for suffix in ("csv", "parquet", "xlsx"):
        write_table(FRAME.head(0), tmp_path / f"empty.{suffix}")
    assert (tmp_path / "empty.csv").read_text() == "unit_id,loss,rank,day,verdict\n"


@pytest.mark.parametrize("name", ["ranking.txt", "ranking", "ranking.CSV", "ranking.xls"])
def test_an_unknown_suffix_is_refused_and_nothing_written(tmp_path: Path, name: str) -> None:
    with pytest.raises(FixableError, match=r"write one of \.csv, \.parquet, \.xlsx"):
        write_table(FRAME, tmp_path / name)
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("suffix", ["csv", "parquet", "xlsx"])
def test_a_file_that_cannot_be_written_is_told(tmp_path: Path, suffix: str) -> None:
    (tmp_path / f"folder.{suffix}").mkdir()
    with pytest.raises(FixableError, match=r"cannot be written .*is it open in another program"):
        write_table(FRAME, tmp_path / f"folder.{suffix}")
    (tmp_path / "file").write_text("no folder")
    with pytest.raises(FixableError, match="cannot be written"):
        write_table(FRAME, tmp_path / "file" / f"ranking.{suffix}")
