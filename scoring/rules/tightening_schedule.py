"""Torque of each pass and order of the screws, from the final torque that a person enters.

The final torque always comes from the unit's own manual; this project supplies none.
"""

import pandas as pd

from scoring.contract.mountings import CLAMPED, TAPERED_BUSHING
from scoring.errors import FixableError, OutOfRangeError

LEAST_PASSES = 3
"""Rising passes, common practice, no source."""

FIRST_SHARE = 0.25
"""Share of the final torque in the first pass, common practice, no source."""


def torque_shares(passes: int = LEAST_PASSES) -> list[float]:
    """Return the share of the final torque in each pass.

    Each pass brings the same factor: 25, 50, 100 % with three.

    Parameters
    ----------
    passes : int
        Rising passes, 3 to 9.

    Returns
    -------
    list of float
        Rising shares; the last is 1. [-]

    Raises
    ------
    OutOfRangeError
        If ``passes`` is not 3 to 9.

    Examples
    --------
    >>> torque_shares()
    [0.25, 0.5, 1.0]
    """
    if not LEAST_PASSES <= passes <= 9:
        raise OutOfRangeError("passes", passes, "", "3 to 9 rising passes")
    return [FIRST_SHARE ** (1 - i / (passes - 1)) for i in range(passes)]


def screw_order(screws: int, mounting: str) -> list[int]:
    """Return the order in which the screws are tightened in one pass.

    Parameters
    ----------
    screws : int
        Screws on the circle, numbered around it from 1; 2 to 48.
    mounting : str
        A clamped mounting: a star for a tapered bushing, a circle for a shrink disc.

    Returns
    -------
    list of int

    Raises
    ------
    FixableError
        If the mounting has no clamp screws.
    OutOfRangeError
        If the number of screws is not 2 to 48.

    Notes
    -----
    Common practice, no source. The order alone does not even out the preload; repeating the
    last pass all round does.

    Examples
    --------
    >>> screw_order(8, "tapered_bushing")
    [1, 5, 3, 7, 2, 6, 4, 8]
    >>> screw_order(6, "shrink_disc")
    [1, 2, 3, 4, 5, 6]
    """
    if mounting not in CLAMPED:
        raise FixableError(f"{mounting} has no clamp screws; one of {', '.join(CLAMPED)}")
    if not 2 <= screws <= 48:
        raise OutOfRangeError("screws", screws, "", "2 to 48 screws on the circle")
    if mounting != TAPERED_BUSHING:
        return list(range(1, screws + 1))
    return [place + 1 for place in _star(screws)]


def _star(screws: int) -> list[int]:
    """Go each time to the screw that lies farthest from all tightened so far.

    Distance counts first to the nearest tightened screw, then straight across from the last.
    """
    order = [0]
    while len(order) < screws:
        rest = [place for place in range(screws) if place not in order]

        def apart(one: int, other: int) -> int:
            around = abs(one - other)
            return min(around, screws - around)

        # of places as far, the first round the circle
        order.append(
            max(rest, key=lambda p: (min(apart(p, q) for q in order), apart(p, order[-1])))
        )
    return order


def tightening_table(
    final_torque: float, screws: int, mounting: str, passes: int = LEAST_PASSES
) -> pd.DataFrame:
    """Return what is done in each pass, the check pass last.

    Parameters
    ----------
    final_torque : float
        From the unit's own manual, above 0. [N·m]
    screws : int
        Screws on the circle. [-]
    mounting : str
        A clamped mounting.
    passes : int
        Rising passes. [-]

    Returns
    -------
    DataFrame
        ``pass``, ``torque_nm``, ``share``, ``order``.

    Raises
    ------
    OutOfRangeError
        If a number is outside its range.

    Examples
    --------
    >>> tightening_table(120, 4, "shrink_disc")["torque_nm"].tolist()
    [30.0, 60.0, 120.0, 120.0]
    """
    if not final_torque > 0:
        raise OutOfRangeError("final_torque", final_torque, "N·m", "values above 0")
    shares = torque_shares(passes)
    order = " ".join(str(screw) for screw in screw_order(screws, mounting))
    around = " ".join(str(screw) for screw in range(1, screws + 1))
    rows = [
        {
            "pass": str(n),
            "torque_nm": round(share * final_torque, 3),
            "share": share,
            "order": order,
        }
        for n, share in enumerate(shares, 1)
    ]
    check = {"pass": "check, until no screw turns", "torque_nm": float(final_torque), "share": 1.0}
    return pd.DataFrame([*rows, {**check, "order": around}])
