"""``mount-risk sheet month``: the manager's month on one page."""

import click

from scoring.cli.fleet_question import FleetQuestion, asks_of_a_fleet
from scoring.cli.screen import err
from scoring.cli.sheet_options import SheetAsked, asks_for_a_sheet
from scoring.sheets.month_page import MONTHS, month_page
from scoring.sheets.month_results import month_results
from scoring.trends import month_ends, state_at


@click.command("month")
@asks_for_a_sheet
@asks_of_a_fleet
def command(question: FleetQuestion, asked: SheetAsked) -> None:
    """Make the manager's month: one page that says whether it gets better, and what it costs."""
    assessor, assessment = question.judge(question.read())
    days = month_ends(assessment.known.as_of, MONTHS)
    with err.status("working out the month-ends"):
        states = [state_at(assessor, day, assessment.learning) for day in reversed(days)]
    asked.write(month_page(month_results(assessor, assessment, states), question.fleet))
