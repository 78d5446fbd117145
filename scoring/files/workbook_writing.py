"""Write frames as the sheets of a workbook."""

from pathlib import Path

import pandas as pd
from openpyxl import Workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE
from openpyxl.styles import Font


def write_sheets(sheets: dict[str, pd.DataFrame], path: Path) -> None:
    """Write frames as the sheets of a workbook; text stays text, headings are bold."""
    with path.open("wb") as file:  # first, so that nothing is begun that cannot be written
        book = Workbook(write_only=True)
        for title, frame in sheets.items():
            sheet = book.create_sheet(title)
            sheet.freeze_panes = "A2"
            bold = []
            for name in frame.columns:
                cell = WriteOnlyCell(sheet, value=str(name))
                cell.font = Font(bold=True)
                bold.append(cell)
            sheet.append(bold)
            columns = [
                frame[name].astype(object).where(frame[name].notna(), None) for name in frame
            ]
            for values in zip(*columns, strict=True):
                sheet.append([_cell(sheet, value) for value in values])
        book.save(file)


def _cell(sheet: object, value: object) -> object:
    """Return what openpyxl stores; text that looks like a formula is kept as text."""
    if not isinstance(value, str):
        return value
    value = ILLEGAL_CHARACTERS_RE.sub("\N{REPLACEMENT CHARACTER}", value)  # as XML holds none
    if not value.startswith("="):
        return value
    cell = WriteOnlyCell(sheet, value=value)  # type: ignore[arg-type]
    cell.data_type = "s"
    return cell
