"""The records as they are written down during a run, before they get their keys."""

from dataclasses import dataclass, field

import numpy as np

from demo_data.arrays import Flags, Floats, Whole, Words
from demo_data.chance import Draws, to_whole

NOBODY = -1
LATE_SHARE = 0.06
LATEST_DAYS = 40


def recorded_late(draws: Draws, day: Whole, last_day: int) -> Whole:
    """Day on which each record was written down, or -1 where it was the same day."""
    late, delay = draws.shares(("late", "how late")).T
    written = day + to_whole(delay, 2, LATEST_DAYS)
    return np.where((late < LATE_SHARE) & (written <= last_day), written, -1)


@dataclass
class Ledger:
    """Rows of one table, gathered step by step as columns."""

    parts: dict[str, list[Floats | Whole | Words | Flags]] = field(default_factory=dict)
    rows: int = 0

    def add(self, **columns: Floats | Whole | Words | Flags) -> Whole:
        """Add rows; return their running numbers."""
        length = len(next(iter(columns.values())))
        for name, values in columns.items():
            self.parts.setdefault(name, []).append(values)
        numbers = np.arange(self.rows, self.rows + length)
        self.rows += length
        return numbers

    def column(self, name: str) -> np.ndarray:
        """Return all rows of one column."""
        return np.concatenate(self.parts[name])


@dataclass
class RecordBook:
    """The three ledgers, and what the run itself counted.

    Attributes
    ----------
    walkdowns, events, rework : Ledger
        One row a record.
    looks, wrong : int
        Checks written down, symptoms apart; and how many of them wrongly.
    unit_years : float
        Time in service during the records. [a]
    failures : int array, shape (4,)
        Failures that truly happened, by the contract's order of modes, found or not.
    """

    walkdowns: Ledger = field(default_factory=Ledger)
    events: Ledger = field(default_factory=Ledger)
    rework: Ledger = field(default_factory=Ledger)
    looks: int = 0
    wrong: int = 0
    unit_years: float = 0.0
    failures: Whole = field(default_factory=lambda: np.zeros(4, np.int64))
