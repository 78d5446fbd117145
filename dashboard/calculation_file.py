"""The calculation sheet of a unit as a file, told as the person reads who asks for it."""

from scoring.contract.quantities import INCH
from scoring.explanation import Explanation
from scoring.explanation.what_moves_it import what_moves_it
from scoring.language.reading import current_reading
from scoring.looking.assessed_fleet import AssessedFleet
from scoring.printing.as_pdf import as_pdf
from scoring.printing.paper import Paper
from scoring.sheets.calculation_sheet import calculation_sheet


def pdf_of_unit(explanation: Explanation, stands: AssessedFleet) -> bytes:
    """Return the calculation sheet of the unit that is shown."""
    moved = what_moves_it(stands, str(explanation.ranked["unit_id"]))
    sheet = calculation_sheet(stands.assessor.fleet, stands.assessment, explanation, moved)
    paper = Paper.LETTER if current_reading().measures == INCH else Paper.A4
    return as_pdf(sheet, paper)
