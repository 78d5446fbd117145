"""``mount-risk sheet label``: labels for machines."""

from pathlib import Path

import click

from scoring.cli.loading import (
    fleet_argument,
    fleet_options,
    keep_good_options,
    keep_good_or_stop,
    load_checked,
)
from scoring.cli.route_options import chosen_units, route_options
from scoring.cli.sheet_options import SheetAsked, asks_for_a_sheet
from scoring.sheets.machine_label import LEADS_TO, machine_labels


@click.command("label")
@fleet_argument
@route_options
@click.option(
    "--opens",
    type=click.Choice(tuple(LEADS_TO)),
    default="unit",
    show_default=True,
    help="What the code opens: the unit's page, or a new walkdown of it.",
)
@asks_for_a_sheet
@fleet_options
@keep_good_options
def command(  # noqa: PLR0913, PLR0917 - a command has the options it has
    asked: SheetAsked,
    fleet: str,
    sites: tuple[str, ...],
    lines: tuple[str, ...],
    unit_ids: tuple[str, ...],
    opens: str,
    add: tuple[str, ...],
    headings: Path | None,
    rejected: Path,
    *,
    keep_good: bool,
) -> None:
    """Make a label with a code for each unit, to cut out and fix to the machine."""
    checked = load_checked(fleet, add, headings)
    keep_good_or_stop(checked, keep_good=keep_good, rejected=rejected)
    units = checked.fleet.units
    chosen = chosen_units(units, sites=sites, lines=lines, unit_ids=unit_ids)
    asked.write(machine_labels(units, chosen, asked.host, opens))
