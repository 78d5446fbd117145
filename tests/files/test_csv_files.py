from pathlib import Path

import pytest
from written_fleets import UNITS, WALKDOWNS, check_place, good_place, same_frames, write_fleet

from scoring.errors import UnreadableFleetError
from scoring.files.csv_quotes import quotes_are_in_order
from scoring.files.csv_reading import read_csv
from scoring.files.read_fleet import read_fleet

HEAD, *ROWS = UNITS.splitlines()


def _refused(folder: Path, units: bytes | str) -> str:
    with pytest.raises(UnreadableFleetError) as refused:
        read_fleet(str(write_fleet(folder, units=units)))
    return str(refused.value)


@pytest.mark.parametrize("data", [b"", b"  \n\r\n", b"\xef\xbb\xbf", b"\xef\xbb\xbf\n\n"])
def test_an_empty_file_is_refused_with_what_it_needs(tmp_path: Path, data: bytes) -> None:
    assert _refused(tmp_path, data) == (
        "units.csv is empty; it needs a line of headings (mount-risk template FOLDER makes one)"
    )


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be"])
def test_a_utf_16_file_is_refused_with_what_to_do(tmp_path: Path, encoding: str) -> None:
    reported = _refused(tmp_path, UNITS.encode(encoding))
    assert reported.startswith("units.csv is written in UTF-16, not in UTF-8.")
    assert "'CSV UTF-8'" in reported


def test_a_utf_16_file_with_tabs_is_refused_too(tmp_path: Path) -> None:
    assert "UTF-16" in _refused(tmp_path, UNITS.replace(",", "\t").encode("utf-16"))


def test_a_byte_order_mark_is_no_part_of_the_first_heading(tmp_path: Path) -> None:
    plain = good_place(write_fleet(tmp_path / "plain"))
    marked = write_fleet(tmp_path / "marked", units=b"\xef\xbb\xbf" + UNITS.encode())
    same_frames(good_place(marked), plain)


def test_a_csv_file_as_a_german_spreadsheet_writes_it_is_refused(tmp_path: Path) -> None:
    text = UNITS.replace(",", ";").replace("412.5", "412,5").replace("\n", "\r\n")
    reported = _refused(tmp_path / "plain", text)
    assert reported.startswith(
        "units.csv has semicolons between its cells, not commas; its numbers"
    )
    assert "choose 'save as'" in reported
    reported = _refused(tmp_path / "umlaut", text.replace("North", "Süd").encode("iso-8859-1"))
    assert "line 2: byte fc is not UTF-8" in reported
    assert "choose 'save as'" in reported


def test_comma_separated_iso_8859_1_is_refused_with_the_line(tmp_path: Path) -> None:
    reported = _refused(tmp_path, UNITS.replace("South", "Süd").encode("iso-8859-1"))
    assert reported.startswith("units.csv, line 3: byte fc is not UTF-8")
    assert "ISO-8859-1 or Windows-1252" in reported


def test_tabs_between_cells_are_refused(tmp_path: Path) -> None:
    assert "has tabs between its cells" in _refused(tmp_path, UNITS.replace(",", "\t"))


def test_semicolons_are_seen_beside_a_comma_in_a_heading(tmp_path: Path) -> None:
    text = UNITS.replace(",", ";").replace("site;", "site;length, mm;")
    assert "has semicolons" in _refused(tmp_path, text)


def test_a_line_for_a_spreadsheet_program_is_refused(tmp_path: Path) -> None:
    assert "begins with 'sep=,'" in _refused(tmp_path, "sep=,\n" + UNITS)


def test_a_nul_byte_is_a_damaged_file(tmp_path: Path) -> None:
    reported = _refused(tmp_path, UNITS.replace("South", "So\x00uth"))
    assert reported.startswith("units.csv, line 3: holds a NUL byte, so the file is damaged")


@pytest.mark.parametrize(
    ("start", "kind"),
    [
        (b"PK\x03\x04\x14\x00", "a workbook or another packed file"),
        (b"PAR1\x15\x04", "a Parquet file"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1", "an old or a locked workbook"),
    ],
)
def test_another_kind_of_file_named_csv_is_told(tmp_path: Path, start: bytes, kind: str) -> None:
    assert f"is named as CSV but is {kind}" in _refused(tmp_path, start + b"\x00" * 50)


SAME = {
    "CRLF": UNITS.replace("\n", "\r\n"),
    "lone CR": UNITS.replace("\n", "\r"),
    "no end of line": UNITS.rstrip("\n"),
    "quoted cells": "\n".join(
        ",".join(f'"{cell}"' for cell in line.split(",")) for line in UNITS.splitlines()
    ),
    "spaces around cells": UNITS.replace(",", " , "),
    "trailing blank rows": UNITS + "\n,,,,,\n\n\r\n",
    "trailing blank columns": UNITS.replace("\n", ",,\n"),
}


@pytest.mark.parametrize("way", SAME)
def test_a_file_as_spreadsheets_write_it_reads_the_same(tmp_path: Path, way: str) -> None:
    plain = good_place(write_fleet(tmp_path / "plain"))
    same_frames(good_place(write_fleet(tmp_path / "other", units=SAME[way])), plain)


@pytest.mark.parametrize("empty", ["\n", "\r\n", ",,,,,\n", "  \n"])
def test_an_empty_line_in_the_middle_counts_as_a_row(tmp_path: Path, empty: str) -> None:
    text = f"{HEAD}\n{ROWS[0]}\n{empty}{ROWS[1].replace('60', '6O')}\n"
    faults = check_place(write_fleet(tmp_path, units=text)).faults
    assert faults[faults["table"] == "units"]["row"].tolist() == [4]


def test_empty_lines_before_the_headings_are_counted(tmp_path: Path) -> None:
    text = "\n\n" + UNITS.replace("60", "6O")
    faults = check_place(write_fleet(tmp_path, units=text)).faults
    assert faults[faults["table"] == "units"]["row"].tolist() == [5]


def test_quoted_cells_may_hold_newlines_commas_and_quotes(tmp_path: Path) -> None:
    note = 'first line, with a comma\nsecond line with ""marks""'
    walkdowns = WALKDOWNS.replace("all well", f'"{note}"') + "W-3,12,2024-04-01,periodic,7,,\n"
    checked = check_place(write_fleet(tmp_path, walkdowns=walkdowns))
    assert checked.fleet.walkdowns.loc[1, "notes"] == note.replace('""', '"')
    assert checked.faults["row"].tolist() == [4]  # a row with two lines is one row


def test_ragged_rows_are_told_and_the_others_kept(tmp_path: Path) -> None:
    walkdowns = WALKDOWNS.replace("all well", "all well, really") + "W-3,12\n"
    checked = check_place(write_fleet(tmp_path, walkdowns=walkdowns))
    assert checked.faults["row"].tolist() == [3, 4]
    assert checked.faults["wrong"].tolist() == [
        "has 8 cells where the headings are 7",
        "has 2 cells where the headings are 7",
    ]
    assert checked.fleet.walkdowns["walkdown_id"].tolist() == ["W-1"]


@pytest.mark.parametrize("cell", ['"never closed', '"closed" too early', 'a "quote, within'])
def test_quotes_out_of_order_never_swallow_rows(tmp_path: Path, cell: str) -> None:
    text = WALKDOWNS.replace("open,\n", f"open,{cell}\n")
    folder = write_fleet(tmp_path, walkdowns=text)
    if cell.startswith('"'):
        with pytest.raises(UnreadableFleetError, match="a quoted cell is not closed"):
            read_fleet(str(folder))
    else:
        assert check_place(folder).faults["row"].tolist() == [2]


def test_an_inch_mark_within_a_cell_is_a_sign_like_others(tmp_path: Path) -> None:
    text = WALKDOWNS.replace("all well", '3" pipe')
    assert (
        good_place(write_fleet(tmp_path, walkdowns=text)).fleet.walkdowns.loc[1, "notes"]
        == '3" pipe'
    )


@pytest.mark.parametrize(
    ("data", "order"),
    [
        (b"", True),
        (b'"a","b"\r\n"c",""\n', True),
        (b'"a""","""b"', True),
        (b'a,"""\n', False),
        (b'a,b"c"\n', False),
        (b'a,"b" \n', False),
    ],
)
def test_the_order_of_quotes_is_told(data: bytes, order: bool) -> None:
    assert quotes_are_in_order(data) is order


def test_a_cell_of_five_megabytes_is_read_and_shown_short(tmp_path: Path) -> None:
    long = "x" * 5_000_000
    walkdowns = WALKDOWNS.replace("all well", long) + "\n"
    folder = write_fleet(tmp_path, walkdowns=walkdowns)
    assert good_place(folder).fleet.walkdowns.loc[1, "notes"] == long
    ragged = write_fleet(tmp_path / "ragged", walkdowns=walkdowns + "W-3\n")
    assert check_place(ragged).faults["row"].tolist() == [5]
    as_id = write_fleet(tmp_path / "id", walkdowns=WALKDOWNS.replace("W-2", long))
    assert check_place(as_id).faults["wrong"].tolist() == ["is too long: it has 5000000 characters"]


def test_a_file_that_cannot_be_opened_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def locked(_: Path) -> bytes:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "read_bytes", locked)
    with pytest.raises(UnreadableFleetError, match=r"cannot be opened .Permission denied."):
        read_csv(tmp_path / "units.csv", "units")


def test_missing_units_or_walkdowns_are_refused_and_near_names_shown(tmp_path: Path) -> None:
    (write_fleet(tmp_path) / "walkdowns.csv").rename(tmp_path / "Walkdowns.csv")
    with pytest.raises(UnreadableFleetError) as refused:
        read_fleet(str(tmp_path))
    assert "has no table walkdowns; a fleet needs units and walkdowns" in str(refused.value)
    assert "files left alone: Walkdowns.csv" in str(refused.value)


def test_one_table_in_two_formats_is_refused(tmp_path: Path) -> None:
    (write_fleet(tmp_path) / "units.parquet").write_bytes(b"")
    with pytest.raises(UnreadableFleetError, match=r"units twice, as units.csv and units.parquet"):
        read_fleet(str(tmp_path))


@pytest.mark.parametrize("name", ["nowhere", "demo:nowhere"])
def test_a_place_that_is_not_there_is_told(name: str) -> None:
    with pytest.raises(UnreadableFleetError, match="nowhere"):
        read_fleet(name)


def test_a_single_file_is_no_fleet(tmp_path: Path) -> None:
    with pytest.raises(UnreadableFleetError, match=r"give the folder that holds units.csv"):
        read_fleet(str(write_fleet(tmp_path) / "units.csv"))


def test_other_files_of_the_folder_are_left_alone_and_named(tmp_path: Path) -> None:
    write_fleet(tmp_path, spares="a,b\n1,2\n")
    assert read_fleet(str(tmp_path)).notes == (f"{tmp_path}: files left alone: spares.csv",)


def test_an_added_file_is_named_by_its_folder_too(tmp_path: Path) -> None:
    write_fleet(tmp_path / "fleet")
    (tmp_path / "mended").mkdir()
    (tmp_path / "mended" / "units.csv").write_text(UNITS.replace("0012", "13").replace("80", "8O"))
    faults = check_place(tmp_path / "fleet", tmp_path / "mended").faults
    assert faults["source"].tolist() == [str(tmp_path / "mended" / "units.csv")]
    assert faults["row"].tolist() == [2]
