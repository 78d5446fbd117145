"""What the sheets of all templates share: headings, lists of words, explanations."""

import pandas as pd
from openpyxl import Workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.styles import Alignment, Font
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation

from scoring.contract import Column, Kind
from scoring.files.workbook_reading import EXPLANATIONS

LAST_ROW = 5000
"""How far down a sheet offers its lists of words."""

LONGEST_LIST = 250
"""The format holds no longer list of words. [characters]"""

_WIDTHS = (11, 28, 10, 60, 60, 34, 26, 34, 40, 70)


def lay_out_columns(sheet: object, columns: tuple[Column, ...], last_row: int = LAST_ROW) -> None:
    """Make columns as wide as their headings, and offer the words of each that has a list."""
    for place, column in enumerate(columns, 1):
        letter = get_column_letter(place)
        width = max(12, len(column.name) + 2)
        sheet.column_dimensions[letter].width = width  # type: ignore[attr-defined]
        words = ",".join(column.allowed)
        if column.kind is Kind.CHOICE and len(words) <= LONGEST_LIST:
            offer = DataValidation(type="list", formula1=f'"{words}"', allow_blank=True)
            offer.add(f"{letter}2:{letter}{last_row}")
            sheet.data_validations.append(offer)  # type: ignore[attr-defined]


def heading(sheet: object, name: str) -> object:
    """Return a bold cell."""
    cell = WriteOnlyCell(sheet, value=name)  # type: ignore[arg-type]
    cell.font = Font(bold=True)
    cell.alignment = Alignment(wrap_text=False)
    return cell


def add_explanations(book: Workbook, explained: pd.DataFrame) -> None:
    """Add the sheet that explains every column."""
    sheet = book.create_sheet(EXPLANATIONS)
    sheet.freeze_panes = "A2"
    for place, width in enumerate(_WIDTHS, 1):
        sheet.column_dimensions[get_column_letter(place)].width = width
    sheet.append([heading(sheet, name) for name in explained.columns])
    for row in explained.itertuples(index=False):
        sheet.append(list(row))
