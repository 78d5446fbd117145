"""``mount-risk sheet work-order``: a plan as pages for the crew."""

import click

from scoring.asking.plans import planned
from scoring.cli.fleet_question import FleetQuestion, asks_of_a_fleet
from scoring.cli.plan_options import PlanWanted, asks_for_a_plan
from scoring.cli.screen import err
from scoring.cli.sheet_options import SheetAsked, asks_for_a_sheet
from scoring.cli.weighing_re_work import weighed, without_chatter
from scoring.planning.days_of_a_shutdown import USUAL_HOURS_A_DAY
from scoring.sheets.work_order import work_order
from scoring.sheets.work_to_order import work_of_a_plan


@click.command("work-order")
@asks_for_a_plan
@click.option(
    "--hours-a-day",
    type=click.FloatRange(min=0.5, max=24),
    default=USUAL_HOURS_A_DAY,
    show_default=True,
    help="Hours that people work on a day of the shutdown.",
)
@asks_for_a_sheet
@asks_of_a_fleet
def command(
    question: FleetQuestion, asked: SheetAsked, wanted: PlanWanted, hours_a_day: float
) -> None:
    """Make the work order of a plan: who does what on which day, then the pages of each unit."""
    wanted.refuse_contradictions()
    checked = question.read()
    of_plan, efforts = wanted.asked(question, checked.fleet.units)
    assessor, assessment = question.judge(checked)
    of_plan.wishes.refuse_unknown(assessment.ranking["unit_id"])
    bundles = weighed(assessor, assessment, efforts)
    with err.status("planning"), without_chatter():
        made, _ = planned(bundles, assessment, of_plan)
    work = work_of_a_plan(made, assessment, efforts, hours_a_day)
    asked.write(work_order(work, checked.fleet, asked.host))
