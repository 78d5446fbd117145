"""``mount-risk look``: where to look next, in the hours there are."""

from pathlib import Path

import click
import pandas as pd

from scoring.asking.looks_and_route import STATES, hours_of_sites, weigh_looks
from scoring.cli.fleet_question import FleetQuestion, asks_of_a_fleet
from scoring.cli.reading_settings import actions_option, efforts_from
from scoring.cli.screen import counted, err, say
from scoring.files.csv_reading import read_csv
from scoring.files.write_table import check_suffix, write_table
from scoring.looking.assessed_fleet import AssessedFleet
from scoring.looking.look_minutes import LookMinutes, read_look_settings
from scoring.looking.look_plan import LookPlan
from scoring.what_if.rework_success import learn_rework_success

VISITS_SHOWN = 12
"""Visits shown on the screen; the file has all. Ours."""


@click.command()
@click.option(
    "--hours",
    type=click.FloatRange(0, 10_000, min_open=True),
    required=True,
    help="Hours that an inspector has at each site.",
)
@click.option("--site", "sites", multiple=True, help="Only this site; repeatable.")
@click.option(
    "--state",
    type=click.Choice(list(STATES)),
    default="stopped",
    show_default=True,
    help="State of the machines in which they can be looked at.",
)
@click.option(
    "--minutes",
    "settings_of_looks",
    type=click.Path(path_type=Path, exists=True, dir_okay=False),
    default=None,
    metavar="FILE",
    help="CSV of how long looking takes at your sites: site, what, minutes; what is not in it "
    "keeps our planning values.",
)
@actions_option
@click.option(
    "--out",
    type=click.Path(path_type=Path, dir_okay=False),
    required=True,
    help="Where to write the route: .csv, .parquet or .xlsx; `offline` and `template` take a CSV.",
)
@click.option(
    "--looks",
    "looks_out",
    type=click.Path(path_type=Path, dir_okay=False),
    default=None,
    help="Where to write what every look is worth.",
)
@asks_of_a_fleet
def look(  # noqa: PLR0913, PLR0917 - a command has the options it has
    question: FleetQuestion,
    hours: float,
    sites: tuple[str, ...],
    state: str,
    settings_of_looks: Path | None,
    settings: Path | None,
    out: Path,
    looks_out: Path | None,
) -> None:
    """Choose where to look next in FLEET: the checks and units where seeing is worth most."""
    for path in filter(None, (out, looks_out)):
        check_suffix(path)
    checked = question.read()
    units = checked.fleet.units
    efforts, minutes = efforts_from(settings, units), _minutes_from(settings_of_looks, units)
    assessor, assessment = question.judge(checked)
    of_sites = hours_of_sites(hours, sites, assessment.known.units["site"])
    with err.status("weighing every look"):
        success = learn_rework_success(assessor.timeline, question.day)
        stands = AssessedFleet(assessor, assessment, success, efforts)
        weighed = weigh_looks(stands, of_sites, minutes, state)
    write_table(weighed.route.visits, out, sheet="route")
    if looks_out is not None:
        write_table(weighed.looks, looks_out, sheet="looks")
    _tell(weighed.route, out)


def _minutes_from(settings: Path | None, units: pd.DataFrame) -> LookMinutes:
    """Read how long looking takes at a plant, if it says so."""
    if settings is None:
        return LookMinutes()
    return read_look_settings(read_csv(settings, "look_settings"), units["site"])


def _tell(route: LookPlan, out: Path) -> None:
    currency = route.visits["currency"].dropna()
    unit = str(currency.iloc[0]) if len(currency) else ""
    for site in route.by_site.to_dict("records"):
        most = f"; no route is worth more than {site['bound']:,.0f}" if site["value"] else ""
        say(
            f"{site['site']}: {counted(site['visits'], 'visit')}, {site['minutes'] / 60:.1f} of "
            f"{site['hours']:g} h, worth {site['value']:,.0f} {unit}".rstrip()
            + most
        )
    for visit in route.visits.head(VISITS_SHOWN).to_dict("records"):
        say(
            f"  {visit['order']}. {visit['unit_id']}: {visit['why']} "
            f"({visit['minutes']:.0f} min, worth {visit['value']:,.0f})"
        )
    more = len(route.visits) - VISITS_SHOWN
    if more > 0:
        say(f"  and {more} more")
    say(
        "worth: expected loss that is avoided by re-work chosen with what is seen, above what "
        "the best re-work chosen without looking avoids, each less its cost"
    )
    say(f"written to {out}")
