"""Empty tables to fill in, with every column explained."""

from pathlib import Path

import pandas as pd
from openpyxl import Workbook

from scoring.contract import FLEET_TABLES, Check, Column, Table
from scoring.contract.declaration import YES
from scoring.contract.quantities import alternative_names
from scoring.files.template_sheets import add_explanations, heading, lay_out_columns
from scoring.files.whole_file import whole_folder

WORKBOOK = "fleet.xlsx"


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
        if column.only_where:
            row["mountings"] += f"; where {column.only_where} in units is {YES}"
        if column.asked_on:
            row["seen"] += f"; on a visit of kind {', '.join(column.asked_on)}"
        row["how_to_look"] = column.how_to_look
    return row


def write_template(folder: Path) -> list[Path]:
    """Write empty CSV files, a workbook of the same tables, and the explanations.

    Parameters
    ----------
    folder : Path
        A new or empty folder.

    Returns
    -------
    list of Path
        What was written.
    """
    written = []
    with whole_folder(folder) as place:
        for table in FLEET_TABLES:
            path = place / f"{table.name}.csv"
            headings = ",".join(column.name for column in table.columns)
            path.write_text(f"{headings}\n", encoding="utf-8", newline="")
            written.append(folder / path.name)
        _write_workbook(place / WORKBOOK)
    return [*written, folder / WORKBOOK]


def _write_workbook(path: Path) -> None:
    book = Workbook(write_only=True)
    for table in FLEET_TABLES:
        sheet = book.create_sheet(table.name)
        sheet.freeze_panes = "B2"
        lay_out_columns(sheet, table.columns)
        sheet.append([heading(sheet, column.name) for column in table.columns])
    add_explanations(book, explain_columns())
    book.save(path)
