"""Which plan is wanted: options that the plan and its work order share, as one thing."""

from collections.abc import Callable
from dataclasses import dataclass, fields
from datetime import datetime
from functools import wraps
from pathlib import Path
from typing import Any

import click
import pandas as pd

from scoring.asking.plans import PlanAsked, shutdown_at
from scoring.cli.fleet_question import FleetQuestion
from scoring.cli.reading_settings import actions_option, efforts_from
from scoring.files.csv_reading import read_csv
from scoring.planning.shutdowns import read_windows
from scoring.planning.wishes import Wishes
from scoring.what_if.site_efforts import SiteEfforts

_OPTIONS: tuple[Callable[[Any], Any], ...] = (
    click.option(
        "--crew-hours",
        type=click.FloatRange(min=0, min_open=True),
        default=None,
        help="Hours that all people of the shutdown have together.",
    ),
    click.option("--site", default=None, help="The site that is shut down.  [all]"),
    click.option("--people", type=click.IntRange(1), default=None, help="People there at once."),
    click.option(
        "--starts-on",
        type=click.DateTime(formats=["%Y-%m-%d"]),
        default=None,
        help="When it begins; work whose parts come later is left out.  [parts are there in time]",
    ),
    click.option(
        "--windows",
        "windows_file",
        type=click.Path(path_type=Path, exists=True, dir_okay=False),
        default=None,
        metavar="FILE",
        help="CSV of shutdowns, in place of the four options above: window, sites (; between "
        "them), starts_on, crew_hours, people, crane (yes, no).",
    ),
    actions_option,
    click.option(
        "--by-loss-alone",
        is_flag=True,
        help="Let holds wait: loss avoided alone decides what is done.",
    ),
    click.option(
        "--lift",
        type=click.IntRange(min=0),
        default=None,
        help="Lift at least so many holds; of such plans take the one that avoids most loss.",
    ),
    click.option(
        "--must-in", multiple=True, metavar="UNIT", help="A unit that must be in the plan."
    ),
    click.option(
        "--must-out", multiple=True, metavar="UNIT", help="A unit that is left out of it."
    ),
)


@dataclass(frozen=True)
class PlanWanted:
    """A plan, as the person who asks for it gave it."""

    crew_hours: float | None
    site: str | None
    people: int | None
    starts_on: datetime | None
    windows_file: Path | None
    settings: Path | None
    must_in: tuple[str, ...]
    must_out: tuple[str, ...]
    lift: int | None
    by_loss_alone: bool

    def refuse_contradictions(self) -> None:
        """Refuse what cannot be asked, before anything is worked out.

        Raises
        ------
        UsageError
            If options exclude each other, or none says how many hours there are.
        FixableError
            If a unit must be in and out.
        """
        if (self.windows_file is None) == (self.crew_hours is None):
            raise click.UsageError("give --crew-hours HOURS or --windows FILE")
        of_one = self.site is not None or self.people is not None or self.starts_on
        if self.windows_file is not None and of_one:
            raise click.UsageError("--windows holds sites, people and days; leave the options out")
        if self.by_loss_alone and self.lift is not None:
            raise click.UsageError("give --by-loss-alone or --lift HOLDS, not both")
        self._wishes()

    def _wishes(self) -> Wishes:
        return Wishes(frozenset(self.must_in), frozenset(self.must_out))

    def asked(self, question: FleetQuestion, units: pd.DataFrame) -> tuple[PlanAsked, SiteEfforts]:
        """Return what is asked of the plan, and what re-work takes.

        Raises
        ------
        FixableError
            If shutdowns or settings cannot be used.
        """
        sites = units["site"]
        efforts = efforts_from(self.settings, units)
        if self.windows_file is not None:
            shutdowns = read_windows(read_csv(self.windows_file, "windows"), sites, question.day)
        else:
            shutdowns = shutdown_at(
                question.day,
                float(self.crew_hours or 0),
                sites,
                site=self.site,
                people=self.people,
                starts_on=pd.Timestamp(self.starts_on) if self.starts_on else None,
            )
        return PlanAsked(shutdowns, self._wishes(), self.lift, not self.by_loss_alone), efforts


def asks_for_a_plan(command: Callable[..., None]) -> Callable[..., None]:
    """Add the options of a plan; the command gets them as a ``PlanWanted``."""

    @wraps(command)
    def gathered(**given: Any) -> None:  # noqa: ANN401 - whatever click hands over
        wanted = PlanWanted(**{part.name: given.pop(part.name) for part in fields(PlanWanted)})
        command(wanted=wanted, **given)

    for option in reversed(_OPTIONS):
        gathered = option(gathered)
    return gathered
