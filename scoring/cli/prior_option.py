"""Where learning begins: ``--prior``, and the one place where commands prepare to learn."""

from pathlib import Path

import click
import pandas as pd

from scoring.asking.judged_fleet import left_out
from scoring.assessment import FleetAssessor
from scoring.cli.screen import warn
from scoring.files.prior_folder import read_prior
from scoring.learning.other_plants import OtherPlants
from scoring.records import Fleet

prior_option = click.option(
    "--prior",
    type=click.Path(path_type=Path),
    default=None,
    metavar="FOLDER",
    help="Begin to learn where other plants left off: what mount-risk learn kept there of them.",
)


def other_plants(prior: Path | None, day: pd.Timestamp) -> OtherPlants | None:
    """Read what other plants say, before the records are read; None where it was not asked for.

    Raises
    ------
    FixableError
        If it cannot be used.
    """
    if prior is None:
        return None
    kept = read_prior(prior, day)
    for note in kept.notes:
        warn(f"note: {prior}: {note}")
    return kept.others


def assessor_of(fleet: Fleet, others: OtherPlants | None) -> FleetAssessor:
    """Return what learns from a fleet and judges it, from where other plants left off.

    Raises
    ------
    FixableError
        If the fleet is the only one of these plants.
    """
    assessor = FleetAssessor(fleet, others)
    _tell_who_was_left_out(assessor.others, others)
    return assessor


def others_than(fleet: Fleet, others: OtherPlants | None) -> OtherPlants | None:
    """Return the plants from which a fleet is learned about, where no assessor leaves it out.

    Raises
    ------
    FixableError
        If the fleet is the only one of these plants.
    """
    left = None if others is None else others.without(fleet)
    _tell_who_was_left_out(left, others)
    return left


def _tell_who_was_left_out(left: OtherPlants | None, others: OtherPlants | None) -> None:
    for note in left_out(left, others):
        warn(f"note: {note}")
