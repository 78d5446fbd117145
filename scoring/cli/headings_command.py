"""``mount-risk headings``: propose what a plant's own headings stand for."""

from pathlib import Path

import click

from scoring.cli.loading import fleet_argument
from scoring.cli.screen import say, warn
from scoring.files.headings_file import propose_headings
from scoring.files.write_table import write_table
from scoring.store.find_fleet import find_fleet


@click.command()
@fleet_argument
@click.option(
    "--out",
    type=click.Path(path_type=Path, dir_okay=False),
    default="headings.csv",
    show_default=True,
    help="Where the proposal is written.",
)
def headings(fleet: str, out: Path) -> None:
    """Propose for each heading of FLEET the column it may stand for; edit, then --headings.

    Only for tables under our own names; mount-risk reading-plan does this and all else.
    """
    found = find_fleet(fleet)
    proposal = propose_headings(found.tables)
    write_table(proposal, out, sheet="headings")
    open_ones = int((proposal["column"] == "").sum())
    say(f"{len(proposal)} headings, {open_ones} without a proposal, written to {out}")
    warn(
        "These are guesses by similarity of words. Check each line and its unit, empty the column "
        "to leave a heading aside, then give the file to a command as --headings."
    )
