"""One fleet written as CSV, Parquet and XLSX, as text and as typed columns, reads the same."""

import csv
import datetime as dt
import tempfile
from collections.abc import Mapping
from pathlib import Path

import openpyxl
import pandas as pd
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from written_fleets import good_place, same_frames

from scoring.contract import TABLE_BY_NAME, Column, Kind
from scoring.contract.mountings import SHRINK_DISC_SUPPORT_BUSHINGS
from scoring.intake.look_alike_texts import looks_like, unseen_in

Rows = list[dict[str, object]]
TYPED_COLUMNS = {
    Kind.DATE: "datetime64[s]",
    Kind.NUMBER: "float64",
    Kind.COUNT: "float64",
    Kind.CHOICE: "category",
}
UNITS = [
    "unit_id", "site", "installed_on", "started_on", "mounting", "shaft_diameter_mm",
    "peak_factor", "screw_count", "bearing_kind",
]  # fmt: skip
WALKDOWNS = [
    "walkdown_id", "unit_id", "inspected_on", "kind", "inspector", "notes", "bore_condition",
    "shaft_runout_mm", "screws_low", "isolators_free", "breather",
]  # fmt: skip

words = st.text(
    st.characters(codec="utf-8", exclude_categories=("C", "Z"), include_characters=" "),
    min_size=1,
    max_size=12,
).filter(lambda text: text == text.strip() and not text.startswith("#") and not unseen_in(text))
days = st.dates(dt.date(2020, 1, 1), dt.date(2024, 12, 31))
moments = st.datetimes(
    dt.datetime.fromisoformat("2020-01-01"), dt.datetime.fromisoformat("2024-12-31")
).map(lambda moment: moment.replace(microsecond=0, second=max(moment.second, 1)))


def _values(column: Column) -> st.SearchStrategy[object]:
    if column.kind is Kind.CHOICE:
        some: st.SearchStrategy[object] = st.sampled_from(column.allowed)
    elif column.kind is Kind.DATE:
        some = st.one_of(days, moments)
    elif column.kind is Kind.COUNT:
        some = st.integers(int(column.minimum or 0), int(column.maximum or 40))
    elif column.kind is Kind.NUMBER:
        least, most = column.minimum or 0, column.maximum or 9_999
        thousandths = st.integers(int(least * 1000) + 1, int(min(most, least + 9_999) * 1000))
        some = thousandths.map(lambda number: number / 1000)
    else:
        some = words
    return some if column.required else st.one_of(st.none(), some)


def _rows(table: str, columns: list[str], fixed: Mapping[str, object]) -> st.SearchStrategy[Rows]:
    declared = TABLE_BY_NAME[table]
    row = st.fixed_dictionaries(
        {name: st.just(fixed[name]) if name in fixed else _values(declared[name])
         for name in columns}
    )  # fmt: skip
    return st.lists(
        row, min_size=1, max_size=5, unique_by=lambda r: looks_like(str(r[declared.key]))
    )


@st.composite
def fleets(draw: st.DrawFn) -> dict[str, Rows]:
    """Draw a fleet without faults."""
    fixed = {
        "mounting": SHRINK_DISC_SUPPORT_BUSHINGS,
        "installed_on": dt.date(2019, 1, 1),
        "started_on": draw(st.sampled_from([None, dt.date(2019, 6, 1)])),
    }
    units = draw(_rows("units", UNITS, fixed))
    walkdowns = draw(_rows("walkdowns", WALKDOWNS, {}))
    for row in walkdowns:
        unit = draw(st.sampled_from(units))
        row["unit_id"] = unit["unit_id"]
        if None not in (row["screws_low"], unit["screw_count"]):
            row["screws_low"] = min(row["screws_low"], unit["screw_count"])
    return {"units": units, "walkdowns": walkdowns}


def _text(value: object) -> str:
    if value is None:
        return ""
    return value.isoformat() if isinstance(value, dt.date) else str(value)


def _write_csv(folder: Path, tables: Mapping[str, Rows]) -> Path:
    folder.mkdir()
    for name, rows in tables.items():
        with (folder / f"{name}.csv").open("w", encoding="utf-8", newline="") as file:
            writer = csv.writer(file)
            writer.writerow(rows[0])
            writer.writerows([_text(row[name]) for name in rows[0]] for row in rows)
    return folder


def _write_parquet(folder: Path, tables: Mapping[str, Rows], *, typed: bool) -> Path:
    folder.mkdir()
    for name, rows in tables.items():
        frame = pd.DataFrame(rows, dtype=object)
        for column in frame:
            dtype = TYPED_COLUMNS.get(TABLE_BY_NAME[name][str(column)].kind)
            if typed and dtype:
                frame[column] = frame[column].astype(dtype)
            else:
                texts = frame[column].map(_text, na_action=None)
                frame[column] = texts.where(texts != "", None).astype("str")
        frame.to_parquet(folder / f"{name}.parquet")
    return folder


def _write_workbook(path: Path, tables: Mapping[str, Rows], *, typed: bool) -> Path:
    book = openpyxl.Workbook()
    book.remove(book.active)  # type: ignore[arg-type]
    for name, rows in tables.items():
        sheet = book.create_sheet(name)
        sheet.append(list(rows[0]))
        for row in rows:
            values = [row[name] for name in rows[0]]
            sheet.append([value if typed else (_text(value) or None) for value in values])
        for cells in sheet.iter_rows(min_row=2):
            for cell in cells:
                if cell.data_type == "f":  # a word that begins with = is a word
                    cell.data_type = "s"
    book.save(path)
    return path


@settings(max_examples=6, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(fleets())
def test_the_same_fleet_as_csv_parquet_and_xlsx_gives_identical_frames(
    tables: dict[str, Rows],
) -> None:
    with tempfile.TemporaryDirectory() as name:
        place = Path(name)
        plain = good_place(_write_csv(place / "csv", tables))
        for typed in (False, True):
            parquet = _write_parquet(place / f"parquet {typed}", tables, typed=typed)
            same_frames(good_place(parquet), plain)
            workbook = _write_workbook(place / f"{typed}.xlsx", tables, typed=typed)
            same_frames(good_place(workbook), plain)
        frame = plain.fleet.units
        given_numbers = [row["shaft_diameter_mm"] for row in tables["units"]]
        assert frame["shaft_diameter_mm"].tolist() == given_numbers
        assert frame["unit_id"].tolist() == [row["unit_id"] for row in tables["units"]]
