"""Options that questions about re-work share: what re-work takes at a plant."""

from pathlib import Path

import click
import pandas as pd

from scoring.assessment import Assessment, FleetAssessor
from scoring.cli.loading import Command
from scoring.cli.screen import err
from scoring.errors import FixableError
from scoring.files.csv_reading import read_csv
from scoring.intake import CheckedFleet
from scoring.what_if.site_efforts import SiteEfforts, read_settings

actions_option = click.option(
    "--actions",
    "settings",
    type=click.Path(path_type=Path, exists=True, dir_okay=False),
    default=None,
    metavar="FILE",
    help="CSV of what re-work takes at your sites: site, action, hours, people, crane, lead_days, "
    "parts_cost, labour_cost_per_h, line_stops; blank cells keep our planning values.",
)


def horizon_options(command: Command) -> Command:
    """Add how far to look ahead, and whether by the handbook alone."""
    for option in (
        click.option(
            "--handbook-only",
            is_flag=True,
            help="By the handbook alone; by default this fleet's own failures correct it.",
        ),
        click.option("--horizon", type=click.IntRange(1, 3650), default=365, show_default=True),
    ):
        command = option(command)
    return command


def efforts_from(settings: Path | None, units: pd.DataFrame) -> SiteEfforts:
    """Read what re-work takes at a plant, if it says so."""
    if settings is None:
        return SiteEfforts()
    return read_settings(read_csv(settings, "rework_settings"), units["site"])


def assess_fleet(
    checked: CheckedFleet, day: pd.Timestamp, horizon: int, *, handbook_only: bool
) -> tuple[FleetAssessor, Assessment]:
    """Learn and judge, showing that it is at work.

    Raises
    ------
    FixableError
        If no unit was in service.
    """
    with err.status("learning from failures and judging units"):
        assessor = FleetAssessor(checked.fleet)
        learning = None if handbook_only else assessor.learn(day)
        assessment = assessor.assess(day, horizon, learning)
    if assessment.ranking.empty:
        raise FixableError(f"no unit was in service on {day.date()}; give another --as-of")
    return assessor, assessment
