"""A template for one walk: a walkdown for each of its units, begun and ready to be filled in."""

from pathlib import Path
from secrets import choice
from string import ascii_uppercase, digits

import pandas as pd
from openpyxl import Workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE
from openpyxl.styles import PatternFill
from openpyxl.utils import get_column_letter

from scoring.contract import WALKDOWNS, Check, Column
from scoring.files.exported_folder import write_csv_folder
from scoring.files.template import explain_columns
from scoring.files.template_sheets import add_explanations, heading, lay_out_columns
from scoring.files.whole_file import whole_folder
from scoring.files.workbook_reading import ROUTE
from scoring.intake import RawTable

ROUTE_CSV = "walkdowns.csv"
ROUTE_WORKBOOK = "walkdowns.xlsx"

NOT_OF_THIS_MOUNTING = PatternFill("solid", start_color="FFBFBFBF", end_color="FFBFBFBF")
"""How a cell looks that is not to be filled, as the unit has no such part."""

_LETTERS = ascii_uppercase + digits
_SHOWN = ("unit_id", "site", "line", "driven_equipment", "mounting")


def new_walkdown_id() -> str:
    """Return a key that nobody has used: ``W-`` and 20 letters and digits drawn at random."""
    return "W-" + "".join(choice(_LETTERS) for _ in range(20))


def columns_to_fill(mountings: set[str]) -> tuple[Column, ...]:
    """Return the columns of the walkdowns that units of some mountings have.

    Examples
    --------
    >>> "clamp_seat_condition" in {column.name for column in columns_to_fill({"keyed_bore"})}
    False
    """
    return tuple(column for column in WALKDOWNS.columns if has_column(column, mountings))


def has_column(column: Column, mountings: set[str]) -> bool:
    """Tell whether a unit of any of some mountings has a column of the walkdowns."""
    return not isinstance(column, Check) or not mountings.isdisjoint(column.mountings)


def write_route_template(folder: Path, units: pd.DataFrame) -> list[Path]:
    """Write a CSV file and a workbook with one begun walkdown for each unit.

    Parameters
    ----------
    folder : Path
        A new or empty folder.
    units : DataFrame, shape (n_units, ...)
        Rows of the table ``units``, in the order of the walk.

    Returns
    -------
    list of Path
        What was written. Both bear the same keys: fill in one of them.
    """
    shown = units[list(_SHOWN)].astype(object).where(units[list(_SHOWN)].notna(), None)
    columns = columns_to_fill(set(shown["mounting"]))
    begun = [(new_walkdown_id(), unit_id) for unit_id in shown["unit_id"]]
    blank = [""] * (len(columns) - 2)
    table = RawTable.from_rows(
        WALKDOWNS.name,
        ROUTE_CSV,
        [column.name for column in columns],
        [[*keys, *blank] for keys in begun],
    )
    with whole_folder(folder) as place:
        (path,) = write_csv_folder({WALKDOWNS.name: table}, place)
        _write_workbook(place / ROUTE_WORKBOOK, columns, begun, shown)
    return [folder / path.name, folder / ROUTE_WORKBOOK]


def _write_workbook(
    path: Path, columns: tuple[Column, ...], begun: list[tuple[str, str]], shown: pd.DataFrame
) -> None:
    book = Workbook(write_only=True)
    sheet = book.create_sheet(WALKDOWNS.name)
    sheet.freeze_panes = "C2"
    sheet.page_setup.orientation = "landscape"
    sheet.print_title_rows, sheet.print_title_cols = "1:1", "A:B"
    lay_out_columns(sheet, columns, last_row=len(begun) + 1)
    sheet.column_dimensions["A"].width = 26
    sheet.append([heading(sheet, column.name) for column in columns])
    for keys, mounting in zip(begun, shown["mounting"], strict=True):
        sheet.append(
            [
                *(_as_text(sheet, key) for key in keys),
                *(_cell_to_fill(sheet, column, mounting) for column in columns[2:]),
            ]
        )
    _add_route(book, shown)
    explained = explain_columns()
    named = explained["column"].isin([column.name for column in columns])
    add_explanations(book, explained[named & (explained["table"] == WALKDOWNS.name)])
    book.save(path)


def _as_text(sheet: object, text: str | None) -> object:
    """Return a cell that stays text, whatever a spreadsheet would make of it."""
    plain = ILLEGAL_CHARACTERS_RE.sub("\N{REPLACEMENT CHARACTER}", text or "") or None
    cell = WriteOnlyCell(sheet, value=plain)  # type: ignore[arg-type]
    if plain is not None:
        cell.data_type = "s"
    cell.number_format = "@"
    return cell


def _cell_to_fill(sheet: object, column: Column, mounting: str) -> object:
    """Return an empty cell; grey where the unit has no such part."""
    if has_column(column, {mounting}):
        return None
    cell = WriteOnlyCell(sheet)  # type: ignore[arg-type]
    cell.fill = NOT_OF_THIS_MOUNTING
    return cell


def _add_route(book: Workbook, shown: pd.DataFrame) -> None:
    """Add the sheet that says where the units stand."""
    sheet = book.create_sheet(ROUTE)
    sheet.freeze_panes = "A2"
    for place in range(1, len(_SHOWN) + 1):
        sheet.column_dimensions[get_column_letter(place)].width = 24
    sheet.append([heading(sheet, name.replace("_", " ")) for name in _SHOWN])
    for row in shown.itertuples(index=False):
        *where, mounting = row
        sheet.append([_as_text(sheet, cell) for cell in (*where, str(mounting).replace("_", " "))])
