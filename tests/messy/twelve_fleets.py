"""The twelve, by name."""

from collections.abc import Callable
from pathlib import Path

import days_as_numbers
import files_by_area_and_year
import french_opendocument
import german_flat_workbook
import inches_in_a_row_below
import maintenance_database
import one_row_a_unit_in_inches
import portuguese_flat_text
import spanish_semicolons
import totals_below_and_between
import two_plants_one_numbering
import units_inside_cells
from messy_fleet import MessyFleet

MAKERS: dict[str, Callable[[Path], MessyFleet]] = {
    made.__name__: made.make
    for made in (
        german_flat_workbook,
        inches_in_a_row_below,
        spanish_semicolons,
        french_opendocument,
        portuguese_flat_text,
        totals_below_and_between,
        files_by_area_and_year,
        two_plants_one_numbering,
        maintenance_database,
        units_inside_cells,
        days_as_numbers,
        one_row_a_unit_in_inches,
    )
}
