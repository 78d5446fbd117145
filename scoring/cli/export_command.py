"""``mount-risk export``: records, ranking and plan as files, with what every column means."""

from contextlib import closing
from pathlib import Path

import click

from scoring.asking.export import write_everything
from scoring.asking.plans import PlanAsked, planned, shutdown_at
from scoring.assessment import Assessment, FleetAssessor
from scoring.cli.fleet_question import FleetQuestion, may_ask_of_a_fleet
from scoring.cli.screen import err, say
from scoring.cli.store_options import store_option
from scoring.cli.weighing_re_work import weighed, without_chatter
from scoring.files.write_records import FORMATS, WORKBOOK, require_free
from scoring.planning.plan import Plan
from scoring.store.export_records import export_records
from scoring.store.open_store import open_store
from scoring.what_if.site_efforts import SiteEfforts


@click.command()
@store_option
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    required=True,
    help="A new folder, or a new workbook: FILE.xlsx.",
)
@click.option(
    "--format",
    "kind",
    type=click.Choice(FORMATS),
    default=FORMATS[0],
    show_default=True,
    help="How a folder's files are written.",
)
@click.option(
    "--crew-hours",
    type=click.FloatRange(min=0, min_open=True),
    default=None,
    help="Write a plan for so many hours, too, as mount-risk plan makes it.",
)
@may_ask_of_a_fleet
def export(
    question: FleetQuestion, store: str, out: Path, kind: str, crew_hours: float | None
) -> None:
    """Write all tables of FLEET, its ranking, and what every column means, as files.

    Records are written in the units of this tool, as mount-risk check reads them again without a
    fault, value for value.

    Without FLEET only the records of a store are written; loading them again changes nothing.
    Withdrawn records are left out, and so are history, drafts, photos and sign-offs: mount-risk
    backup keeps all of that.
    """
    if question.fleet:
        written = _of_a_fleet(question, out, kind, crew_hours)
    elif crew_hours is not None:
        raise click.UsageError("--crew-hours goes with a FLEET")
    else:
        with closing(open_store(store)) as opened, err.status("writing records"):
            written = export_records(opened, out, kind)
    for path in written:
        say(str(path))
    if kind == "csv" and out.suffix != WORKBOOK:
        say(
            "Text that a spreadsheet would run as a formula has an apostrophe in front. Reading "
            "takes it away again as long as exported.json lies beside the tables."
        )


def _of_a_fleet(
    question: FleetQuestion, out: Path, kind: str, crew_hours: float | None
) -> list[Path]:
    require_free(out)
    checked = question.read()
    assessor, assessment = question.judge(checked)
    made = None if crew_hours is None else _plan(assessor, assessment, crew_hours)
    jobs = None if made is None else made.jobs
    with err.status(f"writing {out}"):
        return write_everything(checked.fleet, out, kind, ranking=assessment.ranking, plan=jobs)


def _plan(assessor: FleetAssessor, assessment: Assessment, crew_hours: float) -> Plan:
    bundles = weighed(assessor, assessment, SiteEfforts())
    shutdowns = shutdown_at(assessment.known.as_of, crew_hours, assessor.fleet.units["site"])
    with err.status("planning"), without_chatter():
        return planned(bundles, assessment, PlanAsked(shutdowns))[0]
