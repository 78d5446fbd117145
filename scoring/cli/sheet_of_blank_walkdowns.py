"""``mount-risk sheet blank``: walkdown sheets to fill in with a pen."""

from pathlib import Path

import click

from scoring.cli.loading import (
    fleet_if_there_is_one,
    fleet_options,
    keep_good_options,
    keep_good_or_stop,
    load_checked,
)
from scoring.cli.route_options import chosen_units, route_options
from scoring.cli.sheet_options import SheetAsked, asks_for_a_sheet
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.contract.walkdown_kinds import WALKDOWN_KINDS
from scoring.sheets.blank_walkdown import Visit, blank_of_mounting, blank_walkdowns
from scoring.walkdown_form.visit_questions import STATES


@click.command("blank")
@fleet_if_there_is_one
@click.option(
    "--mounting",
    type=click.Choice(EVERY_MOUNTING),
    help="Instead of FLEET: a sheet of this mounting, on which the unit is written by hand.",
)
@route_options
@click.option(
    "--visit",
    type=click.Choice(WALKDOWN_KINDS),
    help="Kind of the visit; what is asked on others alone is left out.  [ticked on the sheet]",
)
@click.option(
    "--state",
    type=click.Choice([state for state, _, _ in STATES]),
    help="State of the machine; what cannot be seen in it is left out.  [ticked on the sheet]",
)
@asks_for_a_sheet
@fleet_options
@keep_good_options
def command(  # noqa: PLR0913, PLR0917 - a command has the options it has
    asked: SheetAsked,
    fleet: str | None,
    mounting: str | None,
    sites: tuple[str, ...],
    lines: tuple[str, ...],
    unit_ids: tuple[str, ...],
    visit: str | None,
    state: str | None,
    add: tuple[str, ...],
    headings: Path | None,
    rejected: Path,
    *,
    keep_good: bool,
) -> None:
    """Make a blank walkdown sheet of each unit of a route, or of a mounting."""
    known = Visit(visit or "", state or "")
    if fleet is None:
        if mounting is None:
            raise click.UsageError("give FLEET, or --mounting for a sheet that is of no unit yet")
        narrowed = {"--site": sites, "--line": lines, "--unit": unit_ids, "--add": add}
        given = [name for name, value in narrowed.items() if value]
        if given:
            raise click.UsageError(f"{given[0]} chooses among the units of FLEET; give FLEET")
        asked.write(blank_of_mounting(mounting, measures=asked.measures, visit=known))
        return
    if mounting is not None:
        raise click.UsageError("FLEET says how each unit is mounted; give it without --mounting")
    checked = load_checked(fleet, add, headings)
    keep_good_or_stop(checked, keep_good=keep_good, rejected=rejected)
    units = checked.fleet.units
    chosen = chosen_units(units, sites=sites, lines=lines, unit_ids=unit_ids)
    asked.write(
        blank_walkdowns(units, chosen, host=asked.host, measures=asked.measures, visit=known)
    )
