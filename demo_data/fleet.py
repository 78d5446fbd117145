"""An invented fleet: records as a plant would have them, and the truth beside."""

from dataclasses import dataclass

import pandas as pd


@dataclass(frozen=True)
class Truth:
    """What no plant knows.

    Attributes
    ----------
    units, actions, checks, effects : pandas.DataFrame
        True chances of a failure in the 365 days after the records end: as the units stand,
        after each re-work, and with each check seen or not; and the effects that were drawn.
    """

    units: pd.DataFrame
    actions: pd.DataFrame
    checks: pd.DataFrame
    effects: pd.DataFrame


@dataclass(frozen=True)
class Counts:
    """What the run counted.

    Attributes
    ----------
    looks : int
        Checks written down, symptoms apart.
    wrong_looks : int
        Those that are not what was there.
    unit_years : float
        Time in service during the records. [a]
    failures : dict of str to int
        Failures that truly happened during the records, found or not.
    """

    looks: int
    wrong_looks: int
    unit_years: float
    failures: dict[str, int]


@dataclass(frozen=True)
class Fleet:
    """An invented fleet.

    Attributes
    ----------
    units, walkdowns, events, rework, accepted : pandas.DataFrame
        The contract's tables, columns in its order: numbers as numbers, words and dates as
        text, a blank as a missing value.
    truth : Truth
        For tests only.
    counts : Counts
        What the run counted, for tests only.
    """

    units: pd.DataFrame
    walkdowns: pd.DataFrame
    events: pd.DataFrame
    rework: pd.DataFrame
    accepted: pd.DataFrame
    truth: Truth
    counts: Counts
