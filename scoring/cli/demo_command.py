"""``mount-risk demo``: an invented plant, ranked and shown."""

import sys
from datetime import datetime

import click
import pandas as pd

from scoring.assessment import FleetAssessor
from scoring.cli.dashboard_command import environment_of
from scoring.cli.loading import load_checked
from scoring.cli.ranking_told import tell_ranking
from scoring.cli.screen import say
from scoring.cli.serve import serve
from scoring.files.read_fleet import DEMO, demo_plants

AS_OF = datetime(2026, 6, 30)  # noqa: DTZ001 - the plant's own last day, local like all dates
"""The last day of the demo plants' records."""


@click.command()
@click.option(
    "--plant",
    type=click.Choice(demo_plants()),
    default="ore_works",
    show_default=True,
    help="Which invented plant.",
)
@click.option("--port", type=click.IntRange(0, 65535), default=0, help="0: a free one.  [0]")
@click.option("--no-open", is_flag=True, help="Only print the ranking.")
def demo(plant: str, port: int, *, no_open: bool) -> None:
    """Rank an invented plant, print the worst units, and open the pages in a browser."""
    fleet = f"{DEMO}{plant}"
    checked = load_checked(fleet, (), None)
    assessor, day = FleetAssessor(checked.fleet), pd.Timestamp(AS_OF)
    assessment = assessor.assess(day, learning=assessor.learn(day))
    tell_ranking(assessment, show=8)
    if no_open:
        say(f"\nSee it in a browser: mount-risk demo --plant {plant}")
        return
    environment = environment_of(fleet, AS_OF)
    sys.exit(serve(environment, port=port, open_browser=True))
