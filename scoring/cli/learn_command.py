"""``mount-risk learn``: keep what a fleet's own failures say of the handbook."""

from datetime import datetime
from pathlib import Path

import click
import pandas as pd

from scoring.assessment import FleetAssessor
from scoring.cli.loading import (
    as_of_option,
    fleet_argument,
    fleet_options,
    keep_good_options,
    keep_good_or_stop,
    load_checked,
)
from scoring.cli.rank_command import tell_basis
from scoring.cli.screen import err, say
from scoring.files.learned_folder import LEARNED, MANIFEST, write_learned
from scoring.files.learned_from import LearnedFrom


@click.command()
@fleet_argument
@fleet_options
@as_of_option
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    required=True,
    help="Folder to write to: new, empty, or one that holds what was learned earlier.",
)
@keep_good_options
def learn(  # noqa: PLR0913, PLR0917 - a command has the options it has
    fleet: str,
    add: tuple[str, ...],
    headings: Path | None,
    as_of: datetime | None,
    out: Path,
    rejected: Path,
    *,
    keep_good: bool,
) -> None:
    """Learn from the failures of FLEET and keep it, for mount-risk rank --learned FOLDER."""
    checked = load_checked(fleet, add, headings)
    keep_good_or_stop(checked, keep_good=keep_good, rejected=rejected)
    today = pd.Timestamp.today().normalize()
    day = pd.Timestamp(as_of) if as_of else today
    with err.status("learning from failures"):
        assessor = FleetAssessor(checked.fleet)
        rows = assessor.failure_rows(day)
        learning = assessor.learn(day, rows)
        records = LearnedFrom.of(checked.fleet, rows, learning)
    with err.status(f"writing {out}"):
        replaced = write_learned(learning, records, out, today)
    observed = f"{records.units} units, observed for {records.unit_years:,.0f} unit-years"
    say(f"learned as of {day.date()} from {observed}")
    tell_basis(learning)
    instead = ", in place of what was learned earlier" if replaced else ""
    say(f"written to {out}: {LEARNED}, {MANIFEST}{instead}")
    say(f"Use it: mount-risk rank FLEET --learned {out}")
