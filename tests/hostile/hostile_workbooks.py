"""Hostile workbooks and Parquet files: cells far out, bombs, what says the same again and again."""

import zipfile
from pathlib import Path

import numpy as np
import openpyxl
import pyarrow as pa
import pyarrow.parquet as pq
from collection import UNIT, UNITS, WALKDOWN, WALKDOWNS, Asked, fleet, hostile

TWENTY_MILLION = 20_000_000
NOTHING = b"\0" * (1 << 20)


def book(place: Path) -> Path:
    """Write a good workbook."""
    path = place / "fleet.xlsx"
    made = openpyxl.Workbook()
    made.remove(made.active)
    for name, text in (("units", UNITS + UNIT), ("walkdowns", WALKDOWNS + WALKDOWN)):
        sheet = made.create_sheet(name)
        for line in text.splitlines():
            sheet.append(line.split(","))
    made.save(path)
    return path


def changed(path: Path, old: bytes, new: bytes, part: str = "xl/worksheets/sheet1.xml") -> Asked:
    """Change the inside of a part of a workbook, as no program writes it."""
    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    assert old in parts[part]
    parts[part] = parts[part].replace(old, new, 1)
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in parts.items():
            archive.writestr(name, data)
    return ["check", str(path)]


def with_row(place: Path, row: str) -> Asked:
    return changed(book(place), b"</sheetData>", f"{row}</sheetData>".encode())


@hostile("row 1048576, has 16384 columns, where at most 2000 are read")
def one_cell_at_the_far_corner(place: Path) -> Asked:
    return with_row(place, '<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>')


@hostile("has a row below row 1048576, the last that a sheet can have")
def a_row_of_number_999999999(place: Path) -> Asked:
    return with_row(place, '<row r="999999999"><c r="A999999999"><v>1</v></c></row>')


@hostile("cannot be read as a workbook")
def a_row_of_a_negative_number(place: Path) -> Asked:
    return with_row(place, '<row r="-5"><c r="A-5"><v>1</v></c></row>')


@hostile("row 1, has 16384 columns")
def a_sheet_of_16384_headings(place: Path) -> Asked:
    path = place / "fleet.xlsx"
    made = openpyxl.Workbook(write_only=True)
    sheet = made.create_sheet("units")
    for _ in range(3):
        sheet.append([f"c{n}" for n in range(16_384)])
    made.save(path)
    return ["check", str(path)]


@hostile("is a merged cell; only its first cell holds a value")
def a_whole_sheet_merged_to_one_cell(place: Path) -> Asked:
    merged = b'</sheetData><mergeCells><mergeCell ref="A1:XFD1048576"/></mergeCells>'
    return changed(book(place), b"</sheetData>", merged)


@hostile("cannot be read as a workbook")
def a_workbook_cut_in_half(place: Path) -> Asked:
    path = book(place)
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])
    return ["check", str(path)]


@hostile("cannot be read as a workbook")
def a_text_named_as_a_workbook(place: Path) -> Asked:
    (place / "fleet.xlsx").write_text(UNITS)
    return ["check", str(place / "fleet.xlsx")]


@hostile("cannot be read as a workbook")
def a_workbook_without_sheets(place: Path) -> Asked:
    with zipfile.ZipFile(place / "fleet.xlsx", "w") as archive:
        archive.writestr("hello.txt", "hello")
    return ["check", str(place / "fleet.xlsx")]


@hostile("cannot be read as a workbook")
def words_that_stand_for_a_billion_words(place: Path) -> Asked:
    kinds = "".join(
        f'<!ENTITY a{n} "{f"&a{n - 1};" * 10 if n else "lol"}">' for n in range(10)
    ).encode()
    path = book(place)
    changed(path, b"<worksheet", b"<!DOCTYPE x [" + kinds + b"]><worksheet")
    return changed(path, b"unit_id", b"&a9;")


@hostile("is empty: its first row must hold the headings")
def a_sheet_of_blank_cells(place: Path) -> Asked:
    path = place / "fleet.xlsx"
    made = openpyxl.Workbook()
    made.active.title = "units"
    made.save(path)
    return ["check", str(path)]


@hostile("is a formula; right is its value")
def a_formula_for_an_id(place: Path) -> Asked:
    path = book(place)
    made = openpyxl.load_workbook(path)
    made["units"]["A2"] = '=HYPERLINK("http://a.example","U-1")'
    made.save(path)
    return ["check", str(path)]


@hostile("times its size, as no records do", heavy=True)
def a_small_workbook_of_900_megabytes_of_words(place: Path) -> Asked:
    return bomb(place, "xl/sharedStrings.xml")


@hostile("times its size, as no records do", heavy=True)
def a_small_workbook_of_900_megabytes_of_rows(place: Path) -> Asked:
    return bomb(place, "xl/worksheets/sheet1.xml")


def bomb(place: Path, part: str) -> Asked:
    path = book(place)
    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in parts.items():
            if name != part:
                archive.writestr(name, data)
        with archive.open(part, "w", force_zip64=True) as packed:
            packed.write(parts.get(part, b"<sst>"))
            for _ in range(900):
                packed.write(NOTHING)
    return ["check", str(path)]


def parquet(place: Path, table: pa.Table, **how: object) -> Asked:
    asked = ["check", fleet(place)]
    (place / "walkdowns.csv").unlink()
    pq.write_table(table, place / "walkdowns.parquet", **how)
    return asked


@hostile("walkdowns.parquet cannot be read as Parquet")
def a_parquet_file_of_noise(place: Path) -> Asked:
    asked = ["check", fleet(place)]
    (place / "walkdowns.csv").unlink()
    (place / "walkdowns.parquet").write_bytes(b"PAR1" + bytes(range(256)) * 40 + b"PAR1")
    return asked


@hostile("walkdowns.parquet cannot be read as Parquet")
def a_parquet_file_cut_in_half(place: Path) -> Asked:
    asked = parquet(place, pa.table({"walkdown_id": ["W-1"] * 1000}))
    path = place / "walkdowns.parquet"
    path.write_bytes(path.read_bytes()[:200])
    return asked


@hostile("is of type list")
def a_parquet_column_of_lists(place: Path) -> Asked:
    return parquet(place, pa.table({"walkdown_id": [["W-1", "W-2"]]}))


@hostile("has 3000 columns, where at most 2000 are read")
def a_parquet_file_of_three_thousand_columns(place: Path) -> Asked:
    return parquet(place, pa.table({f"c{n}": [1] for n in range(3000)}))


@hostile("stands 2 times among the headings")
def a_parquet_heading_twice(place: Path) -> Asked:
    names = ["walkdown_id", "walkdown_id", "unit_id", "inspected_on", "kind"]
    return parquet(place, pa.Table.from_arrays([pa.array(["x"])] * 5, names))


def same_again(texts: list[str]) -> pa.Array:
    """Return twenty million cells of a few texts, as numbers that stand for them."""
    codes = np.arange(TWENTY_MILLION, dtype=np.int32) % len(texts)
    return pa.DictionaryArray.from_arrays(pa.array(codes), pa.array(texts))


def twenty_million(place: Path, ids: list[str], *names: str) -> Asked:
    cells = [same_again(ids), *(same_again([text]) for text in ("U-1", "2024-02-01", "periodic"))]
    headings = names or WALKDOWNS.strip().split(",")
    table = pa.Table.from_arrays(cells, list(headings))
    return parquet(place, table, row_group_size=4_000_000)


@hostile("say again what another row says, so the rest was not read", heavy=True)
def twenty_million_rows_that_say_the_same(place: Path) -> Asked:
    return twenty_million(place, ["W-1"])


@hostile("say again what another row says, so the rest was not read", heavy=True)
def twenty_million_rows_of_a_thousand_keys(place: Path) -> Asked:
    return twenty_million(place, [f"W-{n}" for n in range(1000)])


@hostile("are faulty, so the rest was not read", heavy=True)
def twenty_million_rows_of_no_key(place: Path) -> Asked:
    return twenty_million(place, [""])


@hostile("the same again and again, as no records are", heavy=True)
def twenty_million_rows_under_strange_headings(place: Path) -> Asked:
    return twenty_million(place, ["W-1"], *"abcd")


LAST_ROW = 1_048_576
MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
STRINGS = "application/vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml"
WIDE = '<c t="inlineStr"><is><t>{}</t></is></c>'


def full_sheet(place: Path, *, shared: bool) -> Asked:
    """Write a sheet of walkdowns in which every row to the last holds junk."""
    path = book(place)
    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    sheet = "xl/worksheets/sheet2.xml"
    head, mark, tail = parts[sheet].partition(b"</sheetData>")
    rows = range(3, LAST_ROW + 1)
    if shared:  # as spreadsheet programs keep texts: once for all sheets
        texts = "".join(f"<si><t>junk {n}</t></si>" for n in range(1000))
        parts["xl/sharedStrings.xml"] = f'<sst xmlns="{MAIN}">{texts}</sst>'.encode()
        kept = f'<Override PartName="/xl/sharedStrings.xml" ContentType="{STRINGS}"/></Types>'
        kinds = "[Content_Types].xml"
        parts[kinds] = parts[kinds].replace(b"</Types>", kept.encode())
        cells = "".join(f'<c t="s"><v>{n}</v></c>' for n in ("{n}", 11, 12, 13))
        body = "".join(f'<row r="{n}">{cells.format(n=n % 1000)}</row>' for n in rows)
    else:
        cells = "".join(map(WIDE.format, ("W-{n}", "junk {n}", "yesterday", "often")))
        body = "".join(f'<row r="{n}">{cells.format(n=n)}</row>' for n in rows)
    parts[sheet] = head + body.encode() + mark + tail
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as archive:
        for name, data in parts.items():
            archive.writestr(name, data)
    return ["check", str(path)]


@hostile("are faulty, so the rest was not read", heavy=True)
def a_sheet_full_of_junk_to_its_last_row(place: Path) -> Asked:
    return full_sheet(place, shared=False)


@hostile("so the rest was not read", heavy=True)
def a_sheet_full_of_the_same_junk_kept_as_shared_strings(place: Path) -> Asked:
    return full_sheet(place, shared=True)
