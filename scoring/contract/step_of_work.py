"""What one step of re-work is, and when in a job it is done."""

from dataclasses import dataclass
from enum import IntEnum

from scoring.contract.mountings import EVERY_MOUNTING

ORIGIN_OF_STEPS = "common practice, no source"
"""Where every step that is declared comes from; the unit's own manual comes first."""


class When(IntEnum):
    """The stages of a job at one unit, in their order."""

    STOP = 1
    OPEN = 2
    TAKE_THE_WEIGHT = 3
    TAKE_OFF = 4
    BARE = 5
    HANG = 6
    JOINT = 7
    TIGHTEN = 8
    ALIGN = 9
    ARM = 10
    LET_GO = 11
    HOUSING = 12
    LAST_LOOK = 13
    CLOSE = 14
    START = 15


@dataclass(frozen=True)
class Step:
    """One thing to do, short enough to be read beside a box that is ticked.

    Attributes
    ----------
    when : When
        The stage of the job.
    words : str
        What is done, as an instruction.
    mountings : tuple of str
        The mountings on which it is done so.
    in_place : bool
        Whether it is done only where the unit stays on its shaft; where it is hung anew, the steps
        of hanging do the same.
    """

    when: When
    words: str
    mountings: tuple[str, ...] = EVERY_MOUNTING
    in_place: bool = False
