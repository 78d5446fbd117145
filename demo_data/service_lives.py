"""When each unit was hung, started and taken out, and which reducer moved where."""

from dataclasses import dataclass

import numpy as np

from demo_data.arrays import Flags, Floats, Whole
from demo_data.chance import Chance

YEARS = 5
STEPS = 61
DAYS_A_STEP = 365.25 / 12
OLDEST_DAYS = 7 * 365
SHARE_NEW = 0.72
SHARE_MOVED = 0.04
SHARE_RETIRED = 0.05
SHARE_LATE_START = 0.06


@dataclass(frozen=True)
class ServiceLives:
    """Days are counted from the first day of the records; every array has one value a unit.

    Attributes
    ----------
    days : int
        Length of the records. [d]
    shift : int array
        Start of the unit's step 0, on or before day 0. [d]
    hung : int array
        Day on which it was hung; negative before the records. [d]
    started : int array
        Day of its first run. [d]
    last : int array
        Last day on which it stood on its shaft, or the last day of the records. [d]
    retired : bool array
        Whether it was taken out of service.
    hung_step, started_step : int array
        Step in which it was hung and started; -1 before the records.
    came_from : int array
        Unit on which the same reducer served before; -1 for none.
    """

    days: int
    shift: Whole
    hung: Whole
    started: Whole
    last: Whole
    retired: Flags
    hung_step: Whole
    started_step: Whole
    came_from: Whole

    def step_start(self, step: int | Whole) -> Whole:
        """Return the first day [d] of a step of each unit."""
        return self.shift + np.floor(np.asarray(step) * DAYS_A_STEP).astype(np.int64)

    @property
    def in_service(self) -> Flags:
        """Whether a unit is in service on the last day of the records."""
        return ~self.retired


def _pairs(source: np.random.Generator, units: int) -> tuple[Whole, Whole]:
    shuffled = source.permutation(units)
    moved = round(SHARE_MOVED * units)
    return shuffled[:moved], shuffled[moved : 2 * moved]


def draw_service_lives(chance: Chance, units: int, days: int) -> ServiceLives:
    """Draw when each unit serves.

    Parameters
    ----------
    chance : Chance
        Source of chance.
    units : int
        Number of units.
    days : int
        Length of the records. [d]

    Returns
    -------
    ServiceLives
        A reducer that moves is hung again after it was taken off.
    """
    source = chance.source()
    shift = -source.integers(1, 31, units)
    new = source.random(units) < SHARE_NEW
    before, after = _pairs(source, units)
    new[after] = True
    new[before] = False

    hung_step = np.where(new, source.integers(1, STEPS - 2, units), -1)
    hung_step[after] = source.integers(10, STEPS - 6, len(after))
    start_of_step = shift + np.floor(hung_step * DAYS_A_STEP).astype(np.int64)
    age = 40 + np.floor((OLDEST_DAYS - 40) * source.random(units) ** 1.3).astype(np.int64)
    hung = np.where(new, start_of_step, -age)

    late = new & (source.random(units) < SHARE_LATE_START)
    waits = np.where(late, np.minimum(source.integers(1, 3, units), STEPS - 3 - hung_step), 0)
    started_step = np.where(new, hung_step + waits, -1)
    delay = source.integers(0, 4, units)
    started = np.where(
        waits > 0,
        shift + np.floor(started_step * DAYS_A_STEP).astype(np.int64) + delay,
        hung + delay,
    )

    retired = (source.random(units) < SHARE_RETIRED) & (started < days - 260)
    retired[after] = False
    earliest = np.maximum(started, 0) + 200
    drawn = earliest + source.random(units) * (days - 20 - earliest)
    last = np.where(retired, np.floor(drawn).astype(np.int64), days - 1)
    retired[before] = True
    last[before] = hung[after] - source.integers(4, 60, len(after))

    came_from = np.full(units, -1)
    came_from[after] = before
    return ServiceLives(
        days=days,
        shift=shift,
        hung=hung,
        started=started,
        last=last,
        retired=retired,
        hung_step=hung_step,
        started_step=started_step,
        came_from=came_from,
    )


def months_between(first: Floats | Whole, last: Floats | Whole) -> Floats:
    """Months from one day to another, never below zero."""
    return np.maximum(np.asarray(last, dtype=np.float64) - first, 0.0) / DAYS_A_STEP
