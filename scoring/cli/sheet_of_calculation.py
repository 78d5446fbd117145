"""``mount-risk sheet calculation``: every number of one unit, to be followed on paper."""

import click

from scoring.cli.fleet_question import FleetQuestion, asks_of_a_fleet
from scoring.cli.sheet_options import SheetAsked, asks_for_a_sheet
from scoring.explanation import explain
from scoring.explanation.what_moves_it import what_moves_it
from scoring.looking.assessed_fleet import AssessedFleet
from scoring.sheets.calculation_sheet import calculation_sheet
from scoring.what_if.rework_success import learn_rework_success
from scoring.what_if.site_efforts import SiteEfforts


@click.command("calculation")
@click.option("--unit", "unit_id", required=True, help="Id of the unit.")
@asks_for_a_sheet
@asks_of_a_fleet
def command(question: FleetQuestion, asked: SheetAsked, unit_id: str) -> None:
    """Make the calculation sheet of a unit: every number with formula, inputs and source."""
    checked = question.read()
    assessor, assessment = question.judge(checked)
    explanation = explain(assessment, unit_id)
    success = learn_rework_success(assessor.timeline, question.day)
    stands = AssessedFleet(assessor, assessment, success, SiteEfforts())
    moved = what_moves_it(stands, unit_id)
    asked.write(calculation_sheet(checked.fleet, assessment, explanation, moved, asked.host))
