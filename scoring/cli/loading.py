"""Read and check a fleet for a command; stop, or go on with the good rows if asked to."""

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

import click

from scoring.asking.checked_records import read
from scoring.cli.screen import counted, err, show_faults, warn
from scoring.errors import FaultyRecordsError
from scoring.files.write_rejected_rows import write_rejected
from scoring.intake import CheckedFleet
from scoring.reading_plan.several_plants import plant_and_place
from scoring.store.find_fleet import BETWEEN_PLANTS

Command = TypeVar("Command", bound=Callable[..., object])

SHOWN_FAULTS = 20
"""Faults printed by commands other than ``check``."""


def _as_one(
    context: click.Context, parameter: click.Parameter, given: tuple[str, ...]
) -> str | None:
    """Put the places of several plants into one text; each needs its plant's name then."""
    del context, parameter
    if len(given) > 1:
        bare = [place for place in given if not plant_and_place(place)[0]]
        if bare:
            raise click.UsageError(
                f"several fleets in one call need a name each, as NORTH={bare[0]}: it is put "
                "before their ids"
            )
    return BETWEEN_PLANTS.join(given) if given else None


fleet_argument = click.argument(
    "fleet", metavar="FLEET [PLANT=FLEET ...]", nargs=-1, required=True, callback=_as_one
)
"""One fleet, or several plants, each with its name."""

fleet_if_there_is_one = click.argument(
    "fleet", metavar="[FLEET] [PLANT=FLEET ...]", nargs=-1, required=False, callback=_as_one
)
"""The same, of a command that can begin without any."""


def fleet_options(command: Command) -> Command:
    """Add the options of every command that reads a fleet."""
    for option in (
        click.option(
            "--add",
            multiple=True,
            metavar="FLEET",
            help="Further records whose rows come below, such as mended rejected rows.",
        ),
        click.option(
            "--plan",
            "--headings",
            "headings",
            type=click.Path(path_type=Path, exists=True, dir_okay=False),
            metavar="FILE",
            help="Reading plan of your own files (mount-risk reading-plan); by default the "
            "reading-plan.toml that lies beside the records. A file of mount-risk headings (.csv) "
            "is read as a plan that only maps columns.",
        ),
    ):
        command = option(command)
    return command


as_of_option = click.option(
    "--as-of",
    type=click.DateTime(formats=["%Y-%m-%d"]),
    help="Use what was known by the end of this day.  [today]",
)


def keep_good_options(command: Command) -> Command:
    """Add the options of every command that can go on without faulty rows."""
    for option in (
        click.option("--keep-good", is_flag=True, help="Go on without the rows that are faulty."),
        click.option(
            "--rejected",
            type=click.Path(path_type=Path, file_okay=False),
            default="rejected",
            show_default=True,
            help="Folder for the rejected rows.",
        ),
    ):
        command = option(command)
    return command


def load_checked(fleet: str, add: tuple[str, ...], headings: Path | None) -> CheckedFleet:
    """Read and check a fleet, showing that it is at work."""
    with err.status("reading and checking records"):
        records = read(fleet, add=add, headings=headings)
    for note in records.notes:
        warn(f"note: {note}")
    for assumption in records.assumptions:
        warn(f"assumed: {assumption}")
    return records.checked


def keep_good_or_stop(
    checked: CheckedFleet, *, keep_good: bool, rejected: Path | None, needs_units: bool = True
) -> None:
    """Stop where rows are faulty, unless the person asked to go on with the good ones.

    Raises
    ------
    FaultyRecordsError
        If there are faults and ``keep_good`` is not set, a table cannot be used at all, or no unit
        is left where some are needed.
    """
    if checked.faults.empty:
        return
    show_faults(checked.faults, most=SHOWN_FAULTS)
    count = counted(checked.how_many_faults, "fault")
    if checked.unusable:
        raise FaultyRecordsError(
            f"the table {' and '.join(checked.unusable)} cannot be used; nothing was done"
        )
    if not keep_good:
        raise FaultyRecordsError(
            f"{count}; nothing was done. Mend the rows, or go on with the good ones: --keep-good"
        )
    if needs_units and checked.fleet.units.empty:
        raise FaultyRecordsError(
            f"{count}; no row of units is without a fault, so there is nothing to go on "
            "with. Mend the rows of units first"
        )
    if rejected is None:
        warn(f"{count}; went on with the good rows")
        return
    paths = write_rejected(checked.rejected, rejected)
    warn(
        f"{count}; went on with the good rows. The rejected rows are in "
        f"{', '.join(str(p) for p in paths)}: mend them there and give --add {rejected}"
    )
