"""Was the clock set back, or does it run ahead? What is told of it is no fault of a store."""

from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import Connection, func, select

from scoring.store.schema import HISTORY
from scoring.store.writing import now

CLOCKS_DIFFER_S = 60.0
"""So much the clocks of machines that write to one store may differ. Ours. [s]"""

TOLD = 20
"""So many places are told one by one; the others are counted."""


def is_behind(at: str, last: str) -> bool:
    """Tell whether a moment lies well before one that was written down earlier.

    Parameters
    ----------
    at, last : str
        Moments in UTC, ISO 8601.

    Examples
    --------
    >>> is_behind("2026-03-01T08:00:00.000+00:00", "2026-03-01T09:00:00.000+00:00")
    True
    >>> is_behind("2026-03-01T08:59:59.000+00:00", "2026-03-01T09:00:00.000+00:00")
    False
    """
    if at >= last:
        return False
    try:
        return (_moment(last) - _moment(at)).total_seconds() > CLOCKS_DIFFER_S
    except ValueError:  # what is no moment was written past this program: the chain tells that
        return False


LOOKED_AT = 200
"""So many of the last lines of a history are asked for the latest moment. Ours."""


def latest_if_ahead(connection: Connection) -> str:
    """Return the latest moment among the last lines, where this machine's clock is behind it.

    Returns
    -------
    str
        In UTC, ISO 8601; empty where the clock is not behind.
    """
    last = select(HISTORY.c.at).order_by(HISTORY.c.history_id.desc()).limit(LOOKED_AT).subquery()
    latest = connection.scalar(select(func.max(last.c.at)))
    return str(latest) if latest is not None and is_behind(now(), str(latest)) else ""


class ClockFollowed:
    """The moments of the lines of a history, in their order."""

    def __init__(self) -> None:
        self._last = ""
        self._told: list[str] = []
        self._untold = 0

    def look_at(self, line: Mapping[str, Any]) -> None:
        """Go on to a line."""
        at, last = str(line["at"]), self._last
        if last and is_behind(at, last):
            if len(self._told) < TOLD:
                self._told.append(
                    f"line {line['history_id']} of the history ({line['about']} {line['key']}) is "
                    f"of {at}, and the line before it of {last}: the clock was set back between "
                    "them. Both stand in the order in which they were written"
                )
            else:
                self._untold += 1
        self._last = at

    def remarks(self) -> list[str]:
        """Return what a person should know, in words."""
        said = [*self._told]
        if self._untold:
            said.append(f"and {self._untold} more of these")
        at = now()
        if self._last and is_behind(at, self._last):
            said.append(
                f"the last line of the history is of {self._last}, and it is {at} now: the clock "
                "of this machine is behind, or that of another ran ahead"
            )
        return said


def _moment(at: str) -> datetime:
    moment = datetime.fromisoformat(at)
    return moment if moment.tzinfo else moment.replace(tzinfo=UTC)
