"""What a fleet's own failures say, kept for later."""

from dataclasses import dataclass
from pathlib import Path

import pandas as pd

from scoring.asking.checked_records import Records
from scoring.asking.days import Day, day_of
from scoring.assessment import FleetAssessor, FleetLearning
from scoring.explanation.what_the_fleet_says import what_the_fleet_says
from scoring.files.learned_folder import write_learned
from scoring.files.learned_from import LearnedFrom
from scoring.files.prior_folder import read_prior
from scoring.learning.other_plants import OtherPlants


@dataclass(frozen=True)
class Learned:
    """What a fleet's own failures say of the handbook.

    Attributes
    ----------
    learning : FleetLearning
        What was learned, as ranking uses it.
    learned_from : LearnedFrom
        From how many units, for how many years, from how many failures.
    effects : DataFrame
        By effect, finding, site and crew: the handbook's multiplier and the fleet's own, each with
        its 90 % interval, and on how many failures it rests; as ``mount-risk effects`` writes it.
    """

    learning: FleetLearning
    learned_from: LearnedFrom
    effects: pd.DataFrame

    def save(self, folder: str | Path) -> None:
        """Keep it in a folder, as plain JSON, for ``assess(learned=folder)`` and commands.

        Raises
        ------
        FixableError
            If the folder holds something else or cannot be written.
        """
        today = pd.Timestamp.today().normalize()
        write_learned(self.learning, self.learned_from, Path(folder), today)


def learn(
    records: Records,
    *,
    as_of: Day | None = None,
    prior: str | Path | None = None,
    keep_good: bool = False,
) -> Learned:
    """Learn from the failures of a fleet.

    Parameters
    ----------
    records : Records
        From ``read`` or ``take``.
    as_of : str or date, optional
        Use what was recorded by the end of this day; by default today.
    prior : str or Path, optional
        Begin where other plants left off: what ``mount-risk learn`` kept there of them.
    keep_good : bool
        Go on without the rows that have a fault.

    Returns
    -------
    Learned

    Raises
    ------
    FaultyRecordsError
        If there are faults and ``keep_good`` is not set.

    Examples
    --------
    >>> import scoring
    >>> learned = scoring.learn(scoring.read("demo:small_quarry"), as_of="2026-06-30")
    >>> learned.learned_from.units
    60
    """
    day = day_of(as_of, "as_of")
    assessor = FleetAssessor(records.fleet(keep_good=keep_good), others_of(prior, day))
    learning, learned_from = learn_of(assessor, day)
    said = what_the_fleet_says(assessor, assessor.failure_rows(day), learning)
    return Learned(learning, learned_from, said.as_one_table)


def learn_of(assessor: FleetAssessor, day: pd.Timestamp) -> tuple[FleetLearning, LearnedFrom]:
    """Learn, and tell what was learned from.

    Parameters
    ----------
    assessor : FleetAssessor
        The fleet.
    day : Timestamp
        What was recorded by its end.

    Returns
    -------
    tuple of FleetLearning and LearnedFrom
    """
    rows = assessor.failure_rows(day)
    learning = assessor.learn(day, rows)
    return learning, LearnedFrom.of(assessor.fleet, rows, learning)


def others_of(prior: str | Path | None, day: pd.Timestamp) -> OtherPlants | None:
    """Return what other plants say; None where it is not asked for."""
    return None if prior is None else read_prior(Path(prior), day).others
