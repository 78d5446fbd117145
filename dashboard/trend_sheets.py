"""The manager's month and the page of a crew as files, told as the person reads who asks."""

from scoring.assessment import Assessment, FleetAssessor
from scoring.contract.quantities import INCH
from scoring.language.reading import current_reading
from scoring.printing.as_pdf import as_pdf
from scoring.printing.paper import Paper
from scoring.sheets.crew_page import crew_page
from scoring.sheets.month_page import month_page
from scoring.sheets.month_results import MonthResults
from scoring.sheets.sheet_blocks import Sheet


def pdf_of_month(results: MonthResults, fleet_name: str) -> bytes:
    """Return the manager's month."""
    return _pdf(month_page(results, fleet_name))


def pdf_of_crew(assessor: FleetAssessor, assessment: Assessment, crew: str) -> bytes:
    """Return the page of one crew."""
    return _pdf(crew_page(assessor, assessment, crew))


def _pdf(sheet: Sheet) -> bytes:
    return as_pdf(sheet, Paper.LETTER if current_reading().measures == INCH else Paper.A4)
