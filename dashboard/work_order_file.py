"""The work order of a plan as a file, told as the person reads who asks for it."""

import pandas as pd

from dashboard.fleet_results import OpenFleet
from scoring.contract.quantities import INCH
from scoring.language.reading import current_reading
from scoring.looking.assessed_fleet import AssessedFleet
from scoring.planning.plan import Plan
from scoring.printing.as_pdf import as_pdf
from scoring.printing.paper import Paper
from scoring.sheets.work_order import work_order
from scoring.sheets.work_to_order import WorkToOrder, work_of_a_plan, work_of_kept_jobs


def pdf_of_plan(plan: Plan, stands: AssessedFleet, fleet: OpenFleet, hours_a_day: float) -> bytes:
    """Return the work order of the plan that is shown."""
    return _pdf(work_of_a_plan(plan, stands.assessment, stands.efforts, hours_a_day), fleet)


def pdf_of_kept_jobs(
    jobs: pd.DataFrame, stands: AssessedFleet, fleet: OpenFleet, hours_a_day: float
) -> bytes:
    """Return the work order of a plan that was kept."""
    return _pdf(work_of_kept_jobs(jobs, stands.assessment, stands.efforts, hours_a_day), fleet)


def _pdf(work: WorkToOrder, fleet: OpenFleet) -> bytes:
    paper = Paper.LETTER if current_reading().measures == INCH else Paper.A4
    return as_pdf(work_order(work, fleet.assessor.fleet), paper)
