"""What every page shares: the fleet and what was worked out from it. The only cache."""

import gc
import os
import threading
from dataclasses import dataclass
from pathlib import Path

import pandas as pd
import streamlit as st

from scoring.assessment import Assessment, FleetAssessor, FleetLearning
from scoring.errors import FixableError
from scoring.explanation.of_what_was_learned import WhatWasLearned, what_the_fleet_says
from scoring.files.headings_file import read_headings_file
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet
from scoring.learning.failure_rows import FailureRows
from scoring.trends import month_ends, state_at
from scoring.trends.month_ends import StateAtMonthEnd
from scoring.validation.validate import Validation, validate

FLEET = "MOUNT_RISK_FLEET"
AS_OF = "MOUNT_RISK_AS_OF"
ADD = "MOUNT_RISK_ADD"
HEADINGS = "MOUNT_RISK_HEADINGS"
KEEP_GOOD = "MOUNT_RISK_KEEP_GOOD"
"""Environment variables by which the command line tells the pages what to show."""

HORIZON_DAYS = 365
TREND_MONTHS = 24


@dataclass(frozen=True)
class OpenFleet:
    """A fleet that the pages show.

    Attributes
    ----------
    name : str
        As given on the command line.
    assessor : FleetAssessor
        Assesses it as of any day.
    as_of : Timestamp
        The day the pages speak of.
    notes : tuple of str
        What a person should know of the records.
    """

    name: str
    assessor: FleetAssessor
    as_of: pd.Timestamp
    notes: tuple[str, ...]


@st.cache_resource(show_spinner="Reading and checking the records …")
def open_fleet() -> OpenFleet:
    """Read and check the fleet that the command line named.

    Raises
    ------
    FixableError
        If no fleet was named, or its records are faulty.
    """
    where = os.environ.get(FLEET, "")
    if not where:
        raise FixableError("no fleet was named; start these pages with: mount-risk dashboard FLEET")
    given = os.environ.get(AS_OF, "")
    as_of = pd.Timestamp(given) if given else pd.Timestamp.today().normalize()
    added = tuple(place for place in os.environ.get(ADD, "").split(os.pathsep) if place)
    headings = os.environ.get(HEADINGS, "")
    mapping = read_headings_file(Path(headings)) if headings else None
    found = read_fleet(where, add=added)
    checked = check_fleet(found.tables, pd.Timestamp.today(), mapping)
    count = len(checked.faults)
    if count and (checked.unusable or not os.environ.get(KEEP_GOOD)):
        raise FixableError(
            f"the records of {where} have {count} faults; see them with: mount-risk check FLEET"
        )
    notes = (*found.notes, *checked.notes)
    if count:
        notes += (f"{count} faults in the records; their rows are left out",)
    opened = OpenFleet(where, FleetAssessor(checked.fleet), as_of, notes)
    # What was imported and read stays: taking it out of the collector's sight makes every
    # rerun of a page many times cheaper.
    gc.collect()
    gc.freeze()
    return opened


@st.cache_resource(show_spinner="Laying out what failed …", max_entries=4)
def failure_rows() -> FailureRows:
    """Lay failures beside what may explain them, once for all that learn from them."""
    fleet = open_fleet()
    return fleet.assessor.failure_rows(fleet.as_of)


@st.cache_resource(show_spinner="Learning from the fleet's own failures …", max_entries=4)
def learning() -> FleetLearning:
    """Learn from the failures recorded by the day the pages speak of."""
    fleet = open_fleet()
    learned = fleet.assessor.learn(fleet.as_of, failure_rows())
    threading.Thread(target=_Trend.of(fleet).work, args=(learned,), daemon=True).start()
    return learned


@st.cache_resource(show_spinner="Judging the fleet …", max_entries=4)
def assessment() -> Assessment:
    """Assess the fleet as of the day the pages speak of."""
    fleet = open_fleet()
    return fleet.assessor.assess(fleet.as_of, HORIZON_DAYS, learning())


@st.cache_resource(show_spinner="Trying what would have been foretold …", max_entries=4)
def validation() -> Validation:
    """Learn up to earlier days, and score what that foretold."""
    units = open_fleet().assessor.fleet.units
    return validate(failure_rows(), unit_ids=units["unit_id"].to_numpy())


@st.cache_resource(show_spinner="Laying out what was learned …", max_entries=4)
def what_was_learned() -> WhatWasLearned:
    """Lay out what the fleet's own failures say."""
    return what_the_fleet_says(open_fleet().assessor, failure_rows(), learning())


class _Trend:
    """The fleet as of its last month-ends, worked out once, newest first, beside the pages."""

    _made: "dict[int, _Trend]" = {}  # noqa: RUF012 - shared on purpose: one trend for one fleet

    def __init__(self, fleet: OpenFleet) -> None:
        self.fleet = fleet
        self.days = month_ends(fleet.as_of, TREND_MONTHS)
        self.states: list[StateAtMonthEnd] = []

    @classmethod
    def of(cls, fleet: OpenFleet) -> "_Trend":
        return cls._made.setdefault(id(fleet), cls(fleet))

    def work(self, learned: FleetLearning) -> None:
        for day in reversed(self.days):
            self.states.append(state_at(self.fleet.assessor, day, learned))


@dataclass(frozen=True)
class TrendSoFar:
    """The month-ends that are worked out.

    Attributes
    ----------
    states : tuple of StateAtMonthEnd
        Newest first.
    wanted : int
        How many there will be.
    """

    states: tuple[StateAtMonthEnd, ...]
    wanted: int


def trend_so_far() -> TrendSoFar:
    """Return what is worked out of the trend."""
    trend = _Trend.of(open_fleet())
    return TrendSoFar(tuple(trend.states), len(trend.days))
