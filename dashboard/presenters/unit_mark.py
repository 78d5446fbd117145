"""The mark beside a unit in every list: joint, housing and torque arm, and how each stands."""

from collections.abc import Hashable, Mapping
from html import escape
from typing import Any

from scoring.rules.state_of_parts import FOUND, GOOD, UNSEEN

DRAWN = ("joint", "housing", "arm")
"""As they follow one another along the unit."""

PART_WORDS = {"joint": "joint", "housing": "housing", "arm": "torque arm"}
STATE_WORDS = {FOUND: "finding", UNSEEN: "not seen", GOOD: "nothing found"}
_CLASS = {FOUND: "found", UNSEEN: "unseen", GOOD: "good"}

KEY = (
    "The mark beside a unit: joint, housing, torque arm. Filled: a finding; dotted: something "
    "critical was never seen; thin: seen, and nothing found."
)


def unit_mark(row: Mapping[Hashable, Any]) -> str:
    """Draw the mark of a unit as HTML.

    Parameters
    ----------
    row : mapping
        ``mounting``, and the states ``joint``, ``arm``, ``housing``.

    Examples
    --------
    >>> mark = unit_mark({"mounting": "keyed_bore", "joint": "finding", "arm": "not seen",
    ...     "housing": "good"})
    >>> 'aria-label="joint: finding; housing: nothing found; torque arm: not seen"' in mark
    True
    """
    said = "; ".join(f"{PART_WORDS[part]}: {STATE_WORDS[row[part]]}" for part in DRAWN)
    drawn = "".join(f'<i class="{part} {_CLASS[row[part]]}"></i>' for part in DRAWN)
    return (
        f'<span class="unit-mark {escape(str(row["mounting"]))}" role="img" '
        f'aria-label="{said}" title="{said}">{drawn}</span>'
    )
