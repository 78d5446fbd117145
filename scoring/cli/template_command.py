"""``mount-risk template``: tables to fill in, empty or begun for the units of one walk."""

from pathlib import Path

import click

from scoring.cli.loading import load_checked
from scoring.cli.route_options import chosen_units, route_options
from scoring.cli.screen import counted, say
from scoring.errors import FaultyRecordsError, FixableError
from scoring.files.route_template import ROUTE_CSV, ROUTE_WORKBOOK, write_route_template
from scoring.files.template import WORKBOOK, write_template


@click.command()
@click.argument("folder", type=click.Path(path_type=Path, file_okay=False))
@click.option(
    "--for",
    "fleet",
    metavar="FLEET",
    help="Records of the units to walk to: writes one begun walkdown for each of them.",
)
@route_options
@click.option(
    "--route",
    type=click.Path(path_type=Path, dir_okay=False),
    help="CSV file with a column unit_id, in the order of the walk.",
)
def template(  # noqa: PLR0913, PLR0917 - a command has the options it has
    folder: Path,
    fleet: str | None,
    sites: tuple[str, ...],
    lines: tuple[str, ...],
    unit_ids: tuple[str, ...],
    route: Path | None,
) -> None:
    """Write empty CSV files and a workbook with explanations to FOLDER.

    With --for, write instead one walkdown for each unit of a walk, begun and ready to be filled
    in: what a unit has no place for is grey in the workbook.
    """
    if folder.exists() and any(folder.iterdir()):
        raise FixableError(f"{folder} is not empty; give a new folder, so that nothing is lost")
    if fleet is None:
        if sites or lines or unit_ids or route:
            raise FixableError("say whose units these are: --for FLEET")
        for path in write_template(folder):
            say(str(path))
        say(f"Fill in either the CSV files or {WORKBOOK}, then: mount-risk check")
        return
    checked = load_checked(fleet, (), None)
    if "units" in checked.unusable:
        raise FaultyRecordsError("the table units cannot be used; nothing was done")
    units = checked.fleet.units
    chosen = chosen_units(units, sites=sites, lines=lines, unit_ids=unit_ids, route=route)
    places = units.set_index("unit_id", drop=False).loc[chosen]
    for path in write_route_template(folder, places):
        say(str(path))
    say(
        f"{counted(len(chosen), 'walkdown')} begun. Fill in one of the two and delete the rows of "
        "units that you did not get to. Then: "
        f"mount-risk check {fleet} --add {folder / ROUTE_WORKBOOK}, or --add {folder} "
        f"for {ROUTE_CSV}"
    )
