"""Text files, ODS and XLSX as grids: what was found out of a file, and where it ends."""

import zipfile

import pytest

from scoring.errors import UnreadableFleetError
from scoring.files.grids import read_grids

CONTENT = """\
<office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0"
 xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0"
 xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"><office:body><office:spreadsheet>
<table:table table:name="Units">{rows}</table:table>
</office:spreadsheet></office:body></office:document-content>"""
BLANK = '<table:table-cell table:number-columns-repeated="16380"/>'


def cell(text, more=""):
    return (
        f'<table:table-cell office:value-type="string" {more}><text:p>{text}</text:p>'
        "</table:table-cell>"
    )


def row(*cells, more=""):
    return f"<table:table-row {more}>{''.join(cells)}</table:table-row>"


def ods(folder, *rows):
    path = folder / "plant.ods"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("content.xml", CONTENT.format(rows="".join(rows)))
    return path


def test_cells_of_an_open_document_are_read_by_their_kind(tmp_path):
    kinds = (
        '<table:table-cell office:value-type="boolean" office:boolean-value="true"/>'
        '<table:table-cell office:value-type="date" office:date-value="2025-03-07T00:00:00"/>'
        '<table:table-cell office:value-type="float" office:value="80.5"/>'
    )
    formula = cell("12", 'table:formula="of:=SUM([.A1:.A2])"')
    truth = cell("TRUE", 'table:formula="of:=TRUE()"')
    far = row(BLANK, more='table:number-rows-repeated="1048000"')
    span = cell("north", 'table:number-rows-spanned="2" table:number-columns-spanned="1"')
    path = ods(tmp_path, row(cell("Tag"), BLANK), row(kinds), far, row(formula, truth, span))
    (grid,) = read_grids(path)
    assert [grid.row_texts(place) for place in range(3)] == [
        ["Tag", "", ""],
        ["TRUE", "2025-03-07", "80.5"],
        ["12", "TRUE", "north"],
    ]
    assert grid.rows.tolist() == [1, 2, 1_048_003]
    assert [(t.row, t.heading, t.wrong) for t in grid.troubles] == [
        (1_048_003, "1", "is a formula")
    ]
    assert grid.merged == ((1_048_003, 3, 1_048_004, 3),)


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        (row(cell("Tag"), more='table:number-rows-repeated="99999999"'), "repeated 99999999 times"),
        (row(cell("Tag", 'table:number-columns-repeated="99999999"')), "columns"),
        ("<table:table-row>", "cannot be read as an OpenDocument"),
    ],
)
def test_an_open_document_without_end_is_refused(rows, said, tmp_path):
    with pytest.raises(UnreadableFleetError, match=said):
        read_grids(ods(tmp_path, rows))


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "cp1252"])
@pytest.mark.parametrize("mark", [",", ";", "\t"])
def test_a_text_is_read_whatever_its_encoding_and_marks(encoding, mark, tmp_path):
    path = tmp_path / "plant.csv"
    lines = [["Getriebe", "Ölstand"], ["0012", "früh\nzu niedrig"]]
    text = "\r\n".join(mark.join(f'"{c}"' if "\n" in c else c for c in line) for line in lines)
    path.write_bytes(text.encode(encoding))
    (grid,) = read_grids(path)
    assert [grid.row_texts(place) for place in range(2)] == lines
    assert grid.delimiter == mark
    assert grid.encoding == encoding


def test_a_line_for_a_spreadsheet_program_is_no_row_of_cells(tmp_path):
    (tmp_path / "plant.csv").write_text("sep=;\nTag;Site\nC-1;1,5\n")
    (grid,) = read_grids(tmp_path)
    assert grid.delimiter == ";"
    assert grid.row_texts(1) == ["Tag", "Site"]


def test_a_folder_without_anything_to_read_is_told(tmp_path):
    with pytest.raises(UnreadableFleetError, match="no file that can be read"):
        read_grids(tmp_path)
