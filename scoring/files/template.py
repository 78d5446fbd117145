"""Empty tables to fill in, with every column explained."""

from pathlib import Path

import pandas as pd
from openpyxl import Workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.styles import Alignment, Font
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation

from scoring.contract import FLEET_TABLES, Check, Column, Kind, Table
from scoring.contract.quantities import alternative_names
from scoring.files.workbook_reading import EXPLANATIONS

WORKBOOK = "fleet.xlsx"
LAST_ROW = 5000
"""How far down a sheet offers its lists of words."""


def explain_columns() -> pd.DataFrame:
    """Return one row for each column of every table: what it means and what is allowed.

    Returns
    -------
    DataFrame
        Columns ``table``, ``column``, ``required``, ``meaning``, ``allowed``, ``also_as``,
        ``seen``, ``worse``, ``mountings``, ``how_to_look``.
    """
    return pd.DataFrame(
        [_explain(table, column) for table in FLEET_TABLES for column in table.columns]
    )


def _explain(table: Table, column: Column) -> dict[str, str]:
    row = {
        "table": table.name,
        "column": column.name,
        "required": "required" if column.required else "",
        "meaning": column.meaning,
        "allowed": column.allowed_words,
        "also_as": ", ".join(alternative_names(column.name)),
        "seen": "",
        "worse": "",
        "mountings": "",
        "how_to_look": "",
    }
    if isinstance(column, Check):
        row["meaning"] = f"{column.label}; good: {column.good}"
        row["seen"] = column.seen.words
        row["worse"] = column.worse.value
        row["mountings"] = ", ".join(column.mountings)
        row["how_to_look"] = column.how_to_look
    return row


def write_template(folder: Path) -> list[Path]:
    """Write empty CSV files, a workbook of the same tables, and the explanations.

    Returns
    -------
    list of Path
        What was written.
    """
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    for table in FLEET_TABLES:
        path = folder / f"{table.name}.csv"
        headings = ",".join(column.name for column in table.columns)
        path.write_text(f"{headings}\n", encoding="utf-8", newline="")
        written.append(path)
    path = folder / WORKBOOK
    _write_workbook(path)
    return [*written, path]


def _write_workbook(path: Path) -> None:
    book = Workbook(write_only=True)
    for table in FLEET_TABLES:
        sheet = book.create_sheet(table.name)
        sheet.freeze_panes = "B2"
        for place, column in enumerate(table.columns, 1):
            letter = get_column_letter(place)
            sheet.column_dimensions[letter].width = max(12, len(column.name) + 2)
            if column.kind is Kind.CHOICE:
                _offer_words(sheet, letter, column)
        sheet.append([_heading(sheet, column.name) for column in table.columns])
    sheet = book.create_sheet(EXPLANATIONS)
    sheet.freeze_panes = "A2"
    explained = explain_columns()
    for place, width in enumerate((11, 28, 10, 60, 60, 34, 26, 34, 40, 70), 1):
        sheet.column_dimensions[get_column_letter(place)].width = width
    sheet.append([_heading(sheet, name) for name in explained.columns])
    for row in explained.itertuples(index=False):
        sheet.append(list(row))
    book.save(path)


def _offer_words(sheet: object, letter: str, column: Column) -> None:
    words = ",".join(column.allowed)
    if len(words) > 250:  # the format holds no longer list
        return
    offer = DataValidation(type="list", formula1=f'"{words}"', allow_blank=True)
    offer.add(f"{letter}2:{letter}{LAST_ROW}")
    sheet.data_validations.append(offer)  # type: ignore[attr-defined]


def _heading(sheet: object, name: str) -> object:
    cell = WriteOnlyCell(sheet, value=name)  # type: ignore[arg-type]
    cell.font = Font(bold=True)
    cell.alignment = Alignment(wrap_text=False)
    return cell
