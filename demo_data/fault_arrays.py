"""The table of faults as arrays, checks down and outcomes across."""

import numpy as np

from demo_data.arrays import Flags, Floats
from demo_data.fault_model import CHECK_NAMES, Level, Outcome, Scale
from demo_data.fault_table import FAULTS
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
OF_SHAFT: Flags = np.array([m.belongs_to_shaft for m in FAULTS])


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
