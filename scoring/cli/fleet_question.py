"""Which fleet is asked about, as of when and by what: options that commands share, as one thing."""

from collections.abc import Callable
from dataclasses import dataclass, fields
from datetime import datetime
from functools import cached_property, wraps
from pathlib import Path
from typing import Any

import click
import pandas as pd

from scoring.asking.judged_fleet import Asked, judged
from scoring.assessment import Assessment, FleetAssessor
from scoring.cli.loading import (
    as_of_option,
    fleet_argument,
    fleet_options,
    keep_good_options,
    keep_good_or_stop,
    load_checked,
)
from scoring.cli.prior_option import assessor_of, other_plants, others_than, prior_option
from scoring.cli.screen import err, warn
from scoring.files.learned_folder import KeptLearning, read_learned
from scoring.intake import CheckedFleet
from scoring.learning.other_plants import OtherPlants
from scoring.records import Fleet

_OPTIONS: tuple[Callable[[Any], Any], ...] = (
    fleet_options,
    as_of_option,
    click.option(
        "--horizon",
        type=click.IntRange(1, 3650),
        default=365,
        show_default=True,
        help="Days looked ahead.",
    ),
    click.option(
        "--handbook-only",
        is_flag=True,
        help="Judge by the handbook alone; by default this fleet's own failures correct it.",
    ),
    click.option(
        "--learned",
        type=click.Path(path_type=Path),
        default=None,
        metavar="FOLDER",
        help="Use what mount-risk learn kept there, instead of learning from FLEET.",
    ),
    prior_option,
    keep_good_options,
)


@dataclass(frozen=True)
class FleetQuestion:
    """A fleet to be judged, as the person who asks gave it."""

    fleet: str
    add: tuple[str, ...]
    headings: Path | None
    as_of: datetime | None
    horizon: int
    handbook_only: bool
    learned: Path | None
    prior: Path | None
    keep_good: bool
    rejected: Path

    @cached_property
    def day(self) -> pd.Timestamp:
        """The day as of which it is judged, by default today; one day, though midnight pass."""
        return pd.Timestamp(self.as_of) if self.as_of else pd.Timestamp.today().normalize()

    def read(self) -> CheckedFleet:
        """Read and check the records, and what was learned earlier if that is to be used.

        Raises
        ------
        FixableError
            If something of it cannot be used.
        """
        self.require_one_basis()
        _ = self.kept, self._others  # what cannot be used is reported before records are read
        checked = load_checked(self.fleet, self.add, self.headings)
        keep_good_or_stop(checked, keep_good=self.keep_good, rejected=self.rejected)
        return checked

    def require_one_basis(self) -> None:
        """Refuse what excludes each other."""
        given = {
            "--handbook-only": self.handbook_only,
            "--learned": self.learned is not None,
            "--prior": self.prior is not None,
        }
        if sum(given.values()) > 1:
            both = " and ".join(name for name, is_given in given.items() if is_given)
            raise click.UsageError(
                f"{both} exclude each other: give one of them, or none to learn from FLEET"
            )

    def judge(self, checked: CheckedFleet) -> tuple[FleetAssessor, Assessment]:
        """Learn and judge, showing that it is at work.

        Raises
        ------
        FixableError
            If no unit was in service.
        """
        kept = self.kept
        with err.status("learning from failures and judging units"):
            assessor = assessor_of(checked.fleet, self._others)
            asked = Asked(self.day, self.horizon, self.handbook_only, kept)
            assessment = judged(assessor, asked)
        self.tell_of_learned(checked.fleet)
        return assessor, assessment

    def others_than(self, fleet: Fleet) -> OtherPlants | None:
        """Return the other plants from which learning begins, without the one that is asked about.

        Raises
        ------
        FixableError
            If it is the only one of these plants.
        """
        return others_than(fleet, self._others)

    def tell_of_learned(self, fleet: Fleet) -> None:
        """Say what a person should know who uses for this fleet what was learned earlier."""
        for note in () if self.kept is None else self.kept.notes(fleet, self.day):
            warn(f"note: {self.learned}: {note}")

    @cached_property
    def kept(self) -> KeptLearning | None:
        """What was learned before, if that is to be used."""
        return None if self.learned is None else read_learned(self.learned, self.day)

    @cached_property
    def _others(self) -> OtherPlants | None:
        return other_plants(self.prior, self.day)


def asks_of_a_fleet(command: Callable[..., None]) -> Callable[..., None]:
    """Add FLEET and the options of judging it; the command gets them as a ``FleetQuestion``."""
    return _asks(command, fleet_argument)


def may_ask_of_a_fleet(command: Callable[..., None]) -> Callable[..., None]:
    """Do the same where FLEET may be left out; it is then empty."""
    return _asks(command, click.argument("fleet", metavar="[FLEET]", required=False, default=""))


def _asks(command: Callable[..., None], argument: Callable[[Any], Any]) -> Callable[..., None]:

    @wraps(command)
    def gathered(**given: Any) -> None:  # noqa: ANN401 - whatever click hands over
        question = FleetQuestion(
            **{part.name: given.pop(part.name) for part in fields(FleetQuestion)}
        )
        command(question, **given)

    for option in reversed((argument, *_OPTIONS)):
        gathered = option(gathered)
    return gathered
