"""``mount-risk sheet crew``: what one crew gets wrong more often than luck explains."""

import click

from scoring.cli.fleet_question import FleetQuestion, asks_of_a_fleet
from scoring.cli.sheet_options import SheetAsked, asks_for_a_sheet
from scoring.sheets.crew_page import crew_page


@click.command("crew")
@click.option("--crew", required=True, help="Name of the crew, as in the records.")
@asks_for_a_sheet
@asks_of_a_fleet
def command(question: FleetQuestion, asked: SheetAsked, crew: str) -> None:
    """Make the page of one crew: what it gets wrong more often than luck explains."""
    assessor, assessment = question.judge(question.read())
    asked.write(crew_page(assessor, assessment, crew))
