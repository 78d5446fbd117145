"""``mount-risk offline``: the walkdown form of a route as one file."""

from pathlib import Path

import click

from scoring.cli.loading import (
    fleet_options,
    keep_good_options,
    keep_good_or_stop,
    load_checked,
)
from scoring.cli.route_options import chosen_units, route_options
from scoring.cli.screen import counted, say
from scoring.contract.cautions import CAUTIONS
from scoring.errors import FixableError
from scoring.files.whole_file import whole_file
from scoring.language.reading import ENGLISH, LANGUAGES, reading_as, reading_from
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
@route_options
@click.option("--name", help="Name of the route; answers are kept in the browser under it.")
@click.option(
    "--language",
    type=click.Choice(tuple(LANGUAGES)),
    default=ENGLISH,
    show_default=True,
    help="In which the form speaks.",
)
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
    language: str,
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
    checked = load_checked(fleet or route, add, headings)
    keep_good_or_stop(checked, keep_good=keep_good, rejected=rejected)
    units = checked.fleet.units
    file = Path(route) if fleet is not None else None
    chosen = chosen_units(units, sites=sites, lines=lines, unit_ids=unit_ids, route=file)
    named = name or _name(route, fleet, (*sites, *lines), chosen, asked=bool(unit_ids))
    with reading_as(reading_from({"language": language})):
        text = route_page(units, chosen, named)
    try:
        with whole_file(out) as place:
            place.write_text(text, encoding="utf-8")
    except OSError as error:
        raise FixableError(
            f"{out} cannot be written ({error.strerror or error}); give another file: --out"
        ) from None
    say(f"{out}: {counted(len(chosen), 'unit')}, {len(text) / 1e6:.1f} MB, route {named!r}")
    say("Open it in the browser of the phone or tablet, not in a preview; it keeps the answers")
    say("there. Save a copy at the end of the round, and load or --add that copy here.")
    say(CAUTIONS)


def _name(
    route: str, fleet: str | None, narrowed: tuple[str, ...], chosen: list[str], *, asked: bool
) -> str:
    if fleet is not None:
        return Path(route).stem
    own = route.removeprefix("demo:") if route.startswith("demo:") else Path(route).stem
    if asked and not narrowed:
        narrowed = (chosen[0],) if len(chosen) == 1 else (f"{chosen[0]} to {chosen[-1]}",)
    return ", ".join((own or "route", *narrowed))
