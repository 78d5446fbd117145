"""What is questioned at once: a value so far out that it is sooner mistyped than measured.

A questioned value is allowed; it only has to be confirmed. Every limit that a check declares here
is a planning value of ours: it says nothing of what is good, and the unit's own manual comes first.
"""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Bound:
    """One end of a plausible range: fixed, or by a column of the table ``units``.

    Attributes
    ----------
    fixed : float or None
        Where ``of`` is empty, or blank at a unit, in the unit of the check; None: no bound.
    of : str
        The column of ``units`` that it goes by; empty: none.
    times, plus : float
        ``times`` its value ``plus`` so much.
    """

    fixed: float | None = None
    of: str = ""
    times: float = 1.0
    plus: float = 0.0


@dataclass(frozen=True, kw_only=True)
class Plausible:
    """The range of a measured check within which nothing is asked.

    Attributes
    ----------
    low, high : Bound
        Its ends, in the contract's unit; what lies at an end is within.

    Notes
    -----
    No torque is plausible or not until the unit's own record states one: we supply none.
    """

    low: Bound = Bound()
    high: Bound = Bound()


NEVER_QUESTIONED = Plausible()
"""Of a check that says nothing: every value that is allowed."""
