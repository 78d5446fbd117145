"""How hazard runs with the age of a part, and how much of it faults do while the part is young."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from demo_data.arrays import Floats, Whole

DAYS_A_YEAR = 365.25

RUN_IN_EXTRA = np.array([0.5, 0.6, 0.8])
RUN_IN_YEARS = np.array([0.30, 0.25, 0.4])
WEAR_YEARS = np.array([8.0, 6.5, 60.0])
WEAR_POWER = 2.0

MIDDLE_AGE = 4.0
"""Age up to which a part that wears out has, on average, the hazard of a middle-aged one. [a]"""


def cumulative_age_factor(mode: int, years: Floats) -> Floats:
    """Integral of the age factor from new: a little run-in, then slow wear.

    Parameters
    ----------
    mode : int
        Place of the failure mode.
    years : float array
        Age of the part. [a]

    Returns
    -------
    float array
        Years of the hazard of a middle-aged part. [a]

    Examples
    --------
    >>> float(cumulative_age_factor(0, np.array(0.0)))
    0.0
    """
    run_in = RUN_IN_EXTRA[mode] * RUN_IN_YEARS[mode] * (1 - np.exp(-years / RUN_IN_YEARS[mode]))
    wear = years * (years / WEAR_YEARS[mode]) ** WEAR_POWER / (WEAR_POWER + 1)
    return np.asarray(years + run_in + wear)


@dataclass(frozen=True)
class Weibull:
    """Wear-out by a power of age, alike for all parts of a kind.

    Attributes
    ----------
    slope : float array, shape (modes,)
        Slope of each failure mode; 1 is no wear at all.
    """

    slope: Floats

    def __call__(self, mode: int, years: Floats) -> Floats:
        """Return the integral [a] of the age factor from new.

        Examples
        --------
        >>> Weibull(np.array([2.0]))(0, np.array([MIDDLE_AGE, 2 * MIDDLE_AGE]))
        array([ 4., 16.])
        """
        return np.asarray(MIDDLE_AGE * (years / MIDDLE_AGE) ** self.slope[mode])


@dataclass(frozen=True)
class Ageing:
    """How hazard runs with age in one plant.

    Attributes
    ----------
    cumulative : callable
        Integral of the age factor from new, by mode and years. [a]
    ends : tuple of float
        Age at which each stage of a part's life ends; the last never does. [a]
    faults : float array, shape (modes, stages)
        Factor on the log multipliers of faults in each stage.
    """

    cumulative: Callable[[int, Floats], Floats]
    ends: tuple[float, ...]
    faults: Floats


PLAIN_AGEING = Ageing(cumulative_age_factor, (np.inf,), np.ones((3, 1)))
"""Run-in and wear; faults do the same in a part's whole life."""


def chance_within(
    mode: int,
    log_hazard: Floats,
    age_days: Floats | Whole,
    days: float,
    ageing: Ageing = PLAIN_AGEING,
) -> Floats:
    """Chance of a first failure within some days, faults staying as they are.

    Parameters
    ----------
    mode : int
        Place of the failure mode.
    log_hazard : float array, shape (units,) or (stages, units)
        Log of the hazard of a middle-aged part, in each stage of its life. [log 1/a]
    age_days : float array
        Age of the part now. [d]
    days : float
        Length of the time ahead. [d]
    ageing : Ageing
        How hazard runs with age.

    Returns
    -------
    float array, shape (units,)
        From 0 to 1.
    """
    now = np.asarray(age_days, dtype=np.float64) / DAYS_A_YEAR
    then = now + days / DAYS_A_YEAR
    total, start = np.zeros(np.shape(log_hazard)[-1:]), 0.0
    for stage, end in enumerate(ageing.ends):
        first, last = np.clip(now, start, end), np.clip(then, start, end)
        ahead = ageing.cumulative(mode, last) - ageing.cumulative(mode, first)
        total = total + np.exp(log_hazard if log_hazard.ndim == 1 else log_hazard[stage]) * ahead
        start = end
    return np.asarray(-np.expm1(-total))
