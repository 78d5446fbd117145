"""``mount-risk dashboard``: the pages over a fleet."""

import os
import sys
from datetime import datetime
from pathlib import Path

import click

from scoring.cli.loading import (
    as_of_option,
    fleet_argument,
    fleet_options,
    keep_good_or_stop,
    load_checked,
)
from scoring.cli.serve import serve


def environment_of(
    fleet: str,
    as_of: datetime | None,
    *,
    add: tuple[str, ...] = (),
    headings: Path | None = None,
    keep_good: bool = False,
) -> dict[str, str]:
    """Return the variables that tell the pages what to show."""
    return {
        "MOUNT_RISK_FLEET": fleet,
        "MOUNT_RISK_AS_OF": as_of.date().isoformat() if as_of else "",
        "MOUNT_RISK_ADD": os.pathsep.join(add),
        "MOUNT_RISK_HEADINGS": str(headings or ""),
        "MOUNT_RISK_KEEP_GOOD": "yes" if keep_good else "",
    }


@click.command()
@fleet_argument
@fleet_options
@as_of_option
@click.option("--port", type=click.IntRange(0, 65535), default=0, help="0: a free one.  [0]")
@click.option("--no-open", is_flag=True, help="Do not open a browser.")
@click.option("--keep-good", is_flag=True, help="Go on without the rows that are faulty.")
def dashboard(  # noqa: PLR0913 - a command has the options it has
    fleet: str,
    add: tuple[str, ...],
    headings: Path | None,
    as_of: datetime | None,
    port: int,
    *,
    no_open: bool,
    keep_good: bool,
) -> None:
    """Show FLEET in a browser on this machine: what to fix first, one unit, the trend."""
    checked = load_checked(fleet, add, headings)
    keep_good_or_stop(checked, keep_good=keep_good, rejected=None)
    environment = environment_of(fleet, as_of, add=add, headings=headings, keep_good=keep_good)
    sys.exit(serve(environment, port=port, open_browser=not no_open))
