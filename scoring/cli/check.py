"""``mount-risk check``: every fault of a fleet's records."""

from pathlib import Path

import click

from scoring.cli.loading import fleet_argument, fleet_options, load_checked, write_rejected
from scoring.cli.screen import say, show_faults
from scoring.errors import FaultyRecordsError


@click.command()
@fleet_argument
@fleet_options
@click.option(
    "--rejected",
    type=click.Path(path_type=Path, file_okay=False),
    default=None,
    help="Also write the rejected rows to this folder.",
)
def check(fleet: str, add: tuple[str, ...], headings: Path | None, rejected: Path | None) -> None:
    """Print every fault of FLEET: where, what was given, what is wrong, what would be right."""
    checked = load_checked(fleet, add, headings)
    if checked.faults.empty:
        rows = {name: len(checked.fleet.table(name)) for name in ("units", "walkdowns")}
        say(f"no faults: {rows['units']} units, {rows['walkdowns']} walkdowns")
        return
    show_faults(checked.faults)
    if rejected is not None:
        for path in write_rejected(checked, rejected):
            say(f"rejected rows written to {path}")
    raise FaultyRecordsError(f"{len(checked.faults)} faults")
