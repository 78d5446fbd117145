"""The table of faults as arrays, checks down and outcomes across."""

from dataclasses import dataclass

import numpy as np

from demo_data.arrays import Codes, Flags, Floats
from demo_data.fault_model import Level, MeanEffect, Outcome, Scale
from demo_data.fault_table import CHECK_AT, CHECK_NAMES, FAULTS
from scoring.contract.mountings import CLAMPED, EVERY_MOUNTING, TAPERED_BUSHING
from scoring.contract.walkdowns import CHECK_BY_NAME

OUTCOMES = max(len(model.outcomes) for model in FAULTS)
_EMPTY = Outcome("", 0.0)


def _across(pick: str) -> Floats:
    rows = [
        [float(getattr(o, pick)) for o in (*m.outcomes, *[_EMPTY] * (OUTCOMES - len(m.outcomes)))]
        for m in FAULTS
    ]
    return np.array(rows)


SHARE = _across("share")
SEVERITY = _across("severity")
LOW = _across("low")
HIGH = _across("high")
LEVEL = _across("level").astype(np.int8)
"""Level of each outcome, shape (checks, outcomes)."""

EXISTS: Flags = SHARE > 0
IS_FAULT: Flags = LEVEL > Level.GOOD

GOOD_SHARE = np.where(EXISTS & ~IS_FAULT, SHARE, 0.0)
FAULT_SHARE = np.where(IS_FAULT, SHARE, 0.0)
GOOD_CUT = np.cumsum(GOOD_SHARE, axis=1)
FAULT_CUT = np.cumsum(FAULT_SHARE, axis=1)

SCALES = tuple(Scale)
SCALE_AT = np.array(
    [
        [SCALES.index(o.scale) for o in (*m.outcomes, *[_EMPTY] * (OUTCOMES - len(m.outcomes)))]
        for m in FAULTS
    ],
    dtype=np.int8,
)

IS_NUMBER: Flags = np.array([CHECK_BY_NAME[name].is_numeric for name in CHECK_NAMES])
HANG_RATE = np.array([m.hang_rate for m in FAULTS])
SERVICE_RATE = np.array([m.service_rate for m in FAULTS])
SERVICE_OUTCOME = np.array([m.service_outcome for m in FAULTS], dtype=np.int8)
IS_DAMAGE: Flags = np.array(
    [[m.damaged_from is not None and c >= m.damaged_from for c in range(OUTCOMES)] for m in FAULTS]
)
"""Whether an outcome is damage that only its part cures, shape (checks, outcomes)."""
OUTLASTS_HANGING: Flags = np.array([m.outlasts_hanging for m in FAULTS])
COMES_OF: tuple[tuple[int, int], ...] = tuple(
    (CHECK_AT[m.check], CHECK_AT[m.comes_of]) for m in FAULTS if m.comes_of in CHECK_AT
)
"""Two checks: a fault of the first may come of one of the second."""
IS_CURED: Flags = np.array([m.cure is not None for m in FAULTS])
"""Whether people do anything about a check's fault."""


@dataclass(frozen=True)
class Link:
    """One fault that tends to bring another; checks and outcomes by their places."""

    cause: int
    outcome: int
    effect: int
    effect_outcome: int
    chance: float


LINKS: tuple[Link, ...] = tuple(
    Link(CHECK_AT[m.check], b.outcome, CHECK_AT[b.other], b.other_outcome, b.chance)
    for m in FAULTS
    for b in m.brings
    if b.other in CHECK_AT
)

SAME: tuple[tuple[int, int], ...] = tuple(
    (CHECK_AT[m.check], CHECK_AT[m.shows]) for m in FAULTS if m.shows in CHECK_AT
)
"""Two checks that show one fault: the one that carries its effect, and the one that has it."""


def show_alike(outcome: Codes) -> None:
    """Let both checks of each pair in ``SAME`` show the fault, in place, shape (units, checks)."""
    for shows, has in SAME:
        outcome[:, shows] = outcome[:, has]


@dataclass(frozen=True)
class Pair:
    """Two checks, by their places, whose faults do more together; and how much more."""

    one: int
    two: int
    effect: MeanEffect

    def other(self, check: int) -> int | None:
        """Return the partner of a check; none if it is not of this pair."""
        return {self.one: self.two, self.two: self.one}.get(check)


PAIRS: tuple[Pair, ...] = tuple(
    Pair(CHECK_AT[m.check], CHECK_AT[m.together.other], m.together.effect)
    for m in FAULTS
    if m.together is not None and m.together.other in CHECK_AT
)


def _level_by_mounting() -> np.ndarray[tuple[int, ...], np.dtype[np.int8]]:
    clamped = np.array([m in CLAMPED for m in EVERY_MOUNTING])[:, None, None]
    hold = np.where(clamped, np.int8(Level.HOLD), np.int8(Level.CORRECT))
    return np.where(LEVEL[None] == Level.HOLD_IF_CLAMPED, hold, LEVEL[None]).astype(np.int8)


LEVEL_BY_MOUNTING = _level_by_mounting()
"""Good, correct or hold, shape (mountings, checks, outcomes)."""


def _word_codes() -> Floats:
    codes = np.zeros((len(EVERY_MOUNTING), len(FAULTS), OUTCOMES))
    for k, model in enumerate(FAULTS):
        if IS_NUMBER[k]:
            continue
        allowed = CHECK_BY_NAME[model.check].allowed
        for m, mounting in enumerate(EVERY_MOUNTING):
            star = mounting == TAPERED_BUSHING
            names = {
                "right": "star" if star else "circular",
                "wrong": "circular" if star else "star",
            }
            for c, outcome in enumerate(model.outcomes):
                word = outcome.word if outcome.word in allowed else names[outcome.word]
                codes[m, k, c] = allowed.index(word)
    return codes


WORD_CODE = _word_codes()
"""Place of an outcome's word in the contract's list, shape (mountings, checks, outcomes)."""


def stands_by_itself(outcome: Codes) -> Flags:
    """Tell which faults come of no other one, though they might, shape (units, checks)."""
    faulty = IS_FAULT[np.arange(outcome.shape[1])[None, :], outcome]
    by_itself = np.zeros_like(faulty)
    for check, cause in COMES_OF:
        by_itself[:, check] = faulty[:, check] & ~faulty[:, cause]
    return by_itself


def hung_anew(outcome: Codes) -> Flags:
    """Tell what is as the next crew leaves it once a unit is hung anew, shape (units, checks)."""
    return ~OUTLASTS_HANGING & ~stands_by_itself(outcome)
