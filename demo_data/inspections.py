"""What an inspector sees of the truth: not all of it, and not all of it right."""

from dataclasses import dataclass

import numpy as np

from demo_data.arrays import Codes, Flags, Floats, Whole
from demo_data.chance import Draws
from demo_data.fault_arrays import (
    EXISTS,
    FAULT_CUT,
    IS_FAULT,
    IS_NUMBER,
    LEVEL_BY_MOUNTING,
    OUTCOMES,
    SAME,
)
from demo_data.fault_table import APPLIES, CHECK_NAMES, FAULTS
from demo_data.fleet_state import FleetState
from demo_data.habits_of_a_plant import Habits
from demo_data.known_actions import ACTION_NAMES
from demo_data.measured_values import Yardsticks, values_of
from scoring.contract.declaration import Kind, Seen
from scoring.contract.walkdown_kinds import ONCE_STARTED
from scoring.contract.walkdowns import CHECK_BY_NAME

_CHECKS = tuple(CHECK_BY_NAME[name] for name in CHECK_NAMES)
HANGING_ONLY: Flags = np.array([check.seen is Seen.HANGING for check in _CHECKS])
RUNNING_ONLY: Flags = np.array([check.seen is Seen.RUNNING for check in _CHECKS])
ONCE_RUN: Flags = np.array([check.asked_on == ONCE_STARTED for check in _CHECKS])
"""Whether a check is asked only once the unit has run."""
BEHIND_GUARD: Flags = np.array([m.behind_guard for m in FAULTS])
NEEDS_INSTRUMENT: Flags = np.array([m.needs_instrument for m in FAULTS])
SHOWY: Flags = np.array([m.showy for m in FAULTS])
HIDES_OTHERS: Flags = np.array([m.hides_others for m in FAULTS])
SEEN_DURING: Flags = np.array([[name in m.seen_during for m in FAULTS] for name in ACTION_NAMES])
"""Whether an action lets a check be seen, shape (actions, checks)."""
SEEN_LOG_ODDS = np.log(np.array([m.seen / (1 - m.seen) for m in FAULTS]))
READING_ERROR = np.array([m.reading_error for m in FAULTS])
DECIMALS = np.array([m.decimals for m in FAULTS])
_COUNT = np.array([check.kind is Kind.COUNT for check in _CHECKS])
MEASURED: Flags = IS_NUMBER & ~_COUNT
_MEASURED_NAMES = tuple(np.array(CHECK_NAMES)[MEASURED].tolist())
_MOST = np.array([c.maximum if c.maximum is not None else np.inf for c in _CHECKS])
_TWO_GOODS: Flags = (EXISTS & ~IS_FAULT).sum(axis=1) > 1
_TWO_FAULTS: Flags = IS_FAULT.sum(axis=1) > 1

SHOWY_LOG_ODDS = 0.9
THROUGH_A_GUARD = 0.5


@dataclass(frozen=True)
class Visits:
    """A round of visits, each to another unit.

    Attributes
    ----------
    rows, mounting : int array, shape (visits,)
        The units, and their mounting.
    in_reach : float array, shape (visits, checks)
        Factor on the chance of seeing each check on this visit, 0 to 1.
    attention : float array, shape (visits,)
        Shift of the inspector's log odds.
    ways : Habits
        How well people look.
    """

    rows: Whole
    mounting: Whole
    in_reach: Floats
    attention: Floats
    ways: Habits


@dataclass(frozen=True)
class Seeing:
    """What a round of visits brought home.

    Attributes
    ----------
    values : float array, shape (visits, checks)
        Numbers, or places of words in the contract's lists; not a number where unseen.
    seen : bool array, shape (visits, checks)
        Whether a check was seen.
    level : int8 array, shape (visits, checks)
        Level of what was written down.
    wrong : bool array, shape (visits, checks)
        Whether what was written down is not what was there.
    """

    values: Floats
    seen: Flags
    level: Codes
    wrong: Flags


def _mistaken(draws: Draws, truth: Codes, ways: Habits) -> Codes:
    at = np.arange(truth.shape[1])[None, :]
    faulty = IS_FAULT[at, truth]
    slip = draws.of("slip").shares(CHECK_NAMES)
    a_fault = truth.copy()
    row, check = np.nonzero((slip < ways.false_alarm) | (slip > 1 - ways.other_fault))
    place = draws.of("taken for").shares(CHECK_NAMES)[row, check]
    drawn = (place[:, None] >= np.minimum(FAULT_CUT[check], 1.0)).sum(axis=1)
    drawn = np.minimum(drawn, OUTCOMES - 1)
    a_fault[row, check] = np.where(EXISTS[check, drawn], drawn, truth[row, check])
    to_good = faulty & (slip < ways.missed)
    to_other = faulty & _TWO_FAULTS & (slip > 1 - ways.other_fault)
    alarm = ~faulty & (slip < ways.false_alarm)
    another = ~faulty & _TWO_GOODS & (slip > 1 - ways.other_good)
    read = np.where(to_good, 0, np.where(to_other | alarm, a_fault, truth))
    return np.where(another, np.where(truth == 0, 1, 0), read).astype(np.int8)


def look(draws: Draws, state: FleetState, yardsticks: Yardsticks, visits: Visits) -> Seeing:
    """Look at some units.

    Parameters
    ----------
    draws : Draws
        Chance for these visits; each check is drawn by its name.
    state : FleetState
        The truth.
    yardsticks : Yardsticks
        Of all units.
    visits : Visits
        Where to look.

    Returns
    -------
    Seeing
        What was written down.
    """
    rows, mounting = visits.rows, visits.mounting
    truth = state.outcome[rows]
    position = state.position[rows].astype(np.float64)
    at = np.arange(truth.shape[1])[None, :]
    catches_the_eye = SHOWY & IS_FAULT[at, truth]
    odds = SEEN_LOG_ODDS + visits.attention[:, None] + SHOWY_LOG_ODDS * catches_the_eye
    seen = draws.of("seen").shares(CHECK_NAMES) < visits.in_reach / (1 + np.exp(-odds))
    seen &= APPLIES[mounting]

    read = _mistaken(draws, truth, visits.ways)
    for shows, has in SAME:
        both = seen[:, shows] & seen[:, has]
        read[both, shows] = read[both, has]

    elsewhere = np.where(read == truth, position, draws.of("misread as").shares(CHECK_NAMES))
    true_value = values_of(truth, position, mounting, yardsticks, rows)
    value = values_of(read, elsewhere, mounting, yardsticks, rows)
    poor = draws.of("poor reading").shares(_MEASURED_NAMES) < visits.ways.poor_reading
    off = READING_ERROR[MEASURED] * draws.of("reading error").normals(_MEASURED_NAMES)
    value[:, MEASURED] = np.clip(value[:, MEASURED] + poor * off, 0.0, _MOST[MEASURED])
    power = 10.0**DECIMALS
    written = np.round(value * power) / power
    wrong = seen & (written != np.round(true_value * power) / power)
    return Seeing(
        values=np.where(seen, written, np.nan),
        seen=seen,
        level=LEVEL_BY_MOUNTING[mounting[:, None], at, read],
        wrong=wrong,
    )


def put_on_record(state: FleetState, rows: Whole, seeing: Seeing) -> None:
    """Let what was seen stand as the newest record; what was not seen stays as it was."""
    state.recorded[rows] = np.where(seeing.seen, seeing.level, state.recorded[rows])
    state.seen[rows] |= seeing.seen
