"""The fleet ranked as of month-ends, with what was known then."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

import numpy as np
import pandas as pd

from scoring.assessment import Assessment, FleetAssessor, FleetLearning
from scoring.contract.events import MODES
from scoring.contract.ranking import HOLD
from scoring.risk.chance_of_failing import chance_of_failing
from scoring.risk.loss_of_the_fleet import LossOfFleet, loss_of_the_fleet
from scoring.rules.rule import Severity

YEAR_DAYS = 365

AGE_EDGES_DAYS = (30, 90)
AGE_LABELS = ("up to 30 days", "31 to 90 days", "over 90 days")
"""Ages of open holds, since they were first held; planning values of ours. [d]"""


@dataclass(frozen=True)
class StateAtMonthEnd:
    """The fleet as it was known at one month's end.

    Attributes
    ----------
    by_site : DataFrame
        ``month_end``, ``site``, ``units``, ``holds``, and for each ``failure_mode``
        ``failing_of_100_units``: how many of 100 units are expected to have it within a year. A
        unit counts once at the most, however bad it is, and a seal that leaks as if it were tight.
    held : DataFrame
        Units on hold: ``unit_id``, ``seen_on``: when the oldest of what holds it was seen; the day
        itself where it rests on a computed margin alone.
    day : Timestamp
        The month's end.
    loss : LossOfFleet
        What all units together were then expected to lose within a year.
    """

    by_site: pd.DataFrame
    held: pd.DataFrame
    day: pd.Timestamp
    loss: LossOfFleet


def at_sites(
    states: Sequence[StateAtMonthEnd], sites: Collection[str], site_of: "pd.Series[str]"
) -> list[StateAtMonthEnd]:
    """Return what is known of the units of some sites; the loss stays that of the whole fleet.

    Parameters
    ----------
    states : sequence of StateAtMonthEnd
        Of all sites.
    sites : collection of str
        Those to keep; all where none is named.
    site_of : Series of str
        By unit.
    """
    if not sites:
        return list(states)
    return [
        replace(
            state,
            by_site=state.by_site[state.by_site["site"].isin(sites)],
            held=state.held[state.held["unit_id"].map(site_of).isin(sites)],
        )
        for state in states
    ]


def month_ends(as_of: pd.Timestamp, months: int) -> list[pd.Timestamp]:
    """Return the last month-ends up to a day, and the day itself.

    Examples
    --------
    >>> [str(day.date()) for day in month_ends(pd.Timestamp("2026-03-15"), 3)]
    ['2026-01-31', '2026-02-28', '2026-03-15']
    """
    day = as_of.normalize()
    ends = pd.date_range(end=day, periods=months, freq="ME")
    days = list(ends) if len(ends) and ends[-1] == day else [*ends[1:], day]
    return days[-months:]


def state_at(
    assessor: FleetAssessor, day: pd.Timestamp, learning: FleetLearning | None = None
) -> StateAtMonthEnd:
    """Assess the fleet as of one month's end.

    Parameters
    ----------
    assessor : FleetAssessor
        The fleet.
    day : Timestamp
        The month's end.
    learning : FleetLearning, optional
        What the fleet's own failures say, the same for all months that are to be compared: one
        yardstick, so that a month differs from another by what was known of the units alone.

    Returns
    -------
    StateAtMonthEnd
    """
    assessment = assessor.assess(day, YEAR_DAYS, learning)
    corrections = assessment.yardstick.corrections(assessment.known.place)
    loss = loss_of_the_fleet(assessment.known, assessment.risk, YEAR_DAYS, corrections)
    return StateAtMonthEnd(_by_site(assessment, day), _held(assessment, day), day, loss)


def _by_site(assessment: Assessment, day: pd.Timestamp) -> pd.DataFrame:
    units = pd.DataFrame(
        {
            "site": assessment.known.units["site"].astype(object),
            "holds": np.asarray(assessment.verdicts.verdict == HOLD, dtype=np.int64),
            "units": 1,
        }
        | {mode: chance_of_failing(assessment.risk.modes[mode].expected) for mode in MODES}
    )
    sums = units.groupby("site", as_index=False).sum()
    for mode in MODES:
        sums[mode] = 100 * sums[mode] / sums["units"]
    long = sums.melt(
        id_vars=["site", "units", "holds"],
        value_vars=list(MODES),
        var_name="failure_mode",
        value_name="failing_of_100_units",
    )
    return long.assign(month_end=day)


def _held(assessment: Assessment, day: pd.Timestamp) -> pd.DataFrame:
    findings = assessment.findings.open()
    holds = findings[findings["severity"] == Severity.HOLD]
    oldest = holds.groupby("unit_id")["seen_on"].min()
    # A hold that rests on a computed margin alone was seen by nobody: it is as old as today.
    return oldest.fillna(day).reset_index()
