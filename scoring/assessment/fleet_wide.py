"""What is the same for all units of a fleet, be they assessed at once, in pieces, or one by one."""

from collections.abc import Sequence
from dataclasses import dataclass

import pandas as pd

from scoring.handbook.prevalence import LooksCounted, Prevalence
from scoring.risk.costs_counted import CostsCounted
from scoring.risk.loss import UsualCosts


@dataclass(frozen=True)
class PieceOfFleet:
    """What some units of a fleet add to what is the same for all of it.

    Attributes
    ----------
    units : int
        How many there are, out of service or not.
    looks : LooksCounted
        What first looks at them found.
    costs : CostsCounted
        What failures cost those in service.
    are_kept : bool
        Whether failures are written down at any of them.
    """

    units: int
    looks: LooksCounted
    costs: CostsCounted
    are_kept: bool


@dataclass(frozen=True)
class FleetWide:
    """What is the same for all units of a fleet as of a day.

    A unit is assessed by it as it would be within the whole fleet, whichever others are at hand.

    Attributes
    ----------
    as_of : Timestamp
        The day.
    units : int
        How many units the fleet ever had.
    prevalence : Prevalence
        How usual faults are where nobody has looked.
    costs : UsualCosts
        What failures cost where a unit does not say.
    are_kept : bool
        Whether failures are written down.
    """

    as_of: pd.Timestamp
    units: int
    prevalence: Prevalence
    costs: UsualCosts
    are_kept: bool

    @classmethod
    def of(cls, as_of: pd.Timestamp, pieces: Sequence[PieceOfFleet]) -> "FleetWide":
        """Put together what pieces of a fleet add, in their order.

        Raises
        ------
        FixableError
            If units name different currencies.
        """
        return cls(
            as_of.normalize(),
            sum(piece.units for piece in pieces),
            LooksCounted.together([piece.looks for piece in pieces]).prevalence,
            CostsCounted.together([piece.costs for piece in pieces]).usual,
            any(piece.are_kept for piece in pieces),
        )
