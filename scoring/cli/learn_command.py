"""``mount-risk learn``: keep what the failures of one fleet, or of several, say of the handbook."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import click
import pandas as pd

from scoring.asking.learn_of_a_fleet import learn_of
from scoring.cli.loading import (
    as_of_option,
    fleet_options,
    keep_good_options,
    keep_good_or_stop,
    load_checked,
)
from scoring.cli.prior_option import assessor_of, other_plants, prior_option
from scoring.cli.ranking_told import tell_basis, words_of
from scoring.cli.screen import counted, err, say
from scoring.errors import FixableError
from scoring.files.learned_folder import LEARNED, MANIFEST, write_learned
from scoring.files.plants_folder import PLANTS, write_plants
from scoring.learning.other_plants import KnownPlant, OtherPlants
from scoring.records import Fleet


@click.command()
@click.argument("fleets", metavar="FLEET [FLEET ...]", nargs=-1, required=True)
@fleet_options
@as_of_option
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    required=True,
    help="Folder to write to: new, empty, or one that holds what was learned earlier.",
)
@prior_option
@keep_good_options
def learn(  # noqa: PLR0913, PLR0917 - a command has the options it has
    fleets: tuple[str, ...],
    add: tuple[str, ...],
    headings: Path | None,
    as_of: datetime | None,
    out: Path,
    prior: Path | None,
    rejected: Path,
    *,
    keep_good: bool,
) -> None:
    """Learn from the failures of FLEET and keep it, for mount-risk rank --learned FOLDER.

    Of several fleets what they have in common is kept, for mount-risk rank --prior FOLDER: numbers
    alone, no name of a plant, site, crew or unit.
    """
    today = pd.Timestamp.today().normalize()
    asked = _Asked(add, headings, pd.Timestamp(as_of) if as_of else today, rejected, keep_good)
    if len(fleets) == 1:
        _learn_of_one(fleets[0], asked, prior, out, today)
        return
    if add or prior:
        raise click.UsageError("--add and --prior go with one FLEET")
    _learn_of_several(fleets, asked, out, today)


@dataclass(frozen=True)
class _Asked:
    """How a fleet is to be read, and up to which day."""

    add: tuple[str, ...]
    headings: Path | None
    day: pd.Timestamp
    rejected: Path
    keep_good: bool

    def read(self, fleet: str, rejected: Path) -> Fleet:
        checked = load_checked(fleet, self.add, self.headings)
        keep_good_or_stop(checked, keep_good=self.keep_good, rejected=rejected)
        return checked.fleet


def _learn_of_one(
    name: str, asked: _Asked, prior: Path | None, out: Path, today: pd.Timestamp
) -> None:
    others = other_plants(prior, asked.day)
    fleet = asked.read(name, asked.rejected)
    with err.status("learning from failures"):
        assessor = assessor_of(fleet, others)
        learning, records = learn_of(assessor, asked.day)
    with err.status(f"writing {out}"):
        replaced = write_learned(learning, records, out, today)
    observed = f"{records.units} units, observed for {records.unit_years:,.0f} unit-years"
    say(f"learned as of {asked.day.date()} from {observed}")
    tell_basis(learning)
    say(f"written to {out}: {LEARNED}, {MANIFEST}{_instead(replaced=replaced)}")
    say(f"Use it: mount-risk rank FLEET --learned {out}")


def _learn_of_several(
    names: tuple[str, ...], asked: _Asked, out: Path, today: pd.Timestamp
) -> None:
    plants: list[KnownPlant] = []
    for number, name in enumerate(names, start=1):
        fleet = asked.read(name, asked.rejected / str(number))
        with err.status(f"learning from failures of fleet {number}"):
            rows = assessor_of(fleet, None).failure_rows(asked.day)
            plant = KnownPlant.of(fleet, rows)
        if any(before.is_of(plant.sha256, plant.marks) for before in plants):
            raise FixableError(f"{name} is the same plant as a fleet before it; give each once")
        plants.append(plant)
        say(f"{name}: {counted(plant.units, 'unit')}, {_failures(plant)}")
    with err.status(f"writing {out}"):
        replaced = write_plants(plants, asked.day, out, today)
    together = words_of(OtherPlants(tuple(plants)), "plant")
    say(f"learned as of {asked.day.date()} from {together}")
    say(f"written to {out}: {PLANTS}{_instead(replaced=replaced)}")
    say(f"Use it: mount-risk rank FLEET --prior {out}")


def _failures(plant: KnownPlant) -> str:
    if not plant.shares:
        return "whose failures are not kept"
    return counted(sum(plant.failures.values()), "failure")


def _instead(*, replaced: bool) -> str:
    return ", in place of what was learned earlier" if replaced else ""
