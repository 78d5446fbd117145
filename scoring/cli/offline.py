"""``mount-risk offline``: the walkdown form of a route as one file."""

from pathlib import Path

import click

from scoring.cli.loading import (
    fleet_options,
    keep_good_options,
    keep_good_or_stop,
    load_checked,
)
from scoring.cli.screen import counted, say
from scoring.contract.cautions import CAUTIONS
from scoring.errors import FixableError
from scoring.files.csv_reading import read_csv
from scoring.walkdown_form.units_of_route import units_of_route
from scoring.walkdown_form.without_network import route_page


@click.command()
@click.argument("route", metavar="ROUTE")
@click.option(
    "--out",
    type=click.Path(path_type=Path, dir_okay=False),
    required=True,
    help="The HTML file to write.",
)
@click.option("--fleet", metavar="FLEET", help="The records, where ROUTE is a list of units.")
@click.option("--site", "sites", multiple=True, help="Units of this site; may be repeated.")
@click.option("--line", "lines", multiple=True, help="Units of this line; may be repeated.")
@click.option("--unit", "unit_ids", multiple=True, help="This unit; may be repeated.")
@click.option("--name", help="Name of the route; answers are kept in the browser under it.")
@fleet_options
@keep_good_options
def offline(  # noqa: PLR0913, PLR0917 - a command has the options it has
    route: str,
    out: Path,
    fleet: str | None,
    sites: tuple[str, ...],
    lines: tuple[str, ...],
    unit_ids: tuple[str, ...],
    name: str | None,
    add: tuple[str, ...],
    headings: Path | None,
    rejected: Path,
    *,
    keep_good: bool,
) -> None:
    """Write the walkdown form as a file that works without a network.

    ROUTE is records (any FLEET), narrowed by --site, --line and --unit; or, with --fleet, a CSV
    file with a column unit_id in the order of the walk.
    """
    if fleet is not None:
        if unit_ids:
            raise click.UsageError("give the units either in the file or by --unit")
        unit_ids = tuple(read_route_list(Path(route)))
    checked = load_checked(fleet or route, add, headings)
    keep_good_or_stop(checked, keep_good=keep_good, rejected=rejected)
    units = checked.fleet.units
    chosen = units_of_route(units, sites=sites, lines=lines, unit_ids=unit_ids)
    named = name or _name(route, fleet, (*sites, *lines), chosen, asked=bool(unit_ids))
    text = route_page(units, chosen, named)
    try:
        out.write_text(text, encoding="utf-8")
    except OSError as error:
        raise FixableError(
            f"{out} cannot be written ({error.strerror or error}); give another file: --out"
        ) from None
    say(f"{out}: {counted(len(chosen), 'unit')}, {len(text) / 1e6:.1f} MB, route {named!r}")
    say("Open it in the browser of the phone or tablet, not in a preview; it keeps the answers")
    say("there. Save a copy at the end of the round, and load or --add that copy here.")
    say(CAUTIONS)


def read_route_list(path: Path) -> list[str]:
    """Read the units of a route from the column ``unit_id`` of a CSV file, in its order.

    Raises
    ------
    FixableError
        If there is no such column, or no unit in it.
    """
    table = read_csv(path, "route")
    if "unit_id" not in table.headings:
        raise FixableError(f"{path.name} has no column unit_id; it names the units of the walk")
    cells = table.cells[table.headings.index("unit_id")].to_pylist()
    found = [text.strip() for text in cells if text and text.strip()]
    if not found:
        raise FixableError(f"{path.name} names no unit in its column unit_id")
    return found


def _name(
    route: str, fleet: str | None, narrowed: tuple[str, ...], chosen: list[str], *, asked: bool
) -> str:
    if fleet is not None:
        return Path(route).stem
    own = route.removeprefix("demo:") if route.startswith("demo:") else Path(route).stem
    if asked and not narrowed:
        narrowed = (chosen[0],) if len(chosen) == 1 else (f"{chosen[0]} to {chosen[-1]}",)
    return ", ".join((own or "route", *narrowed))
