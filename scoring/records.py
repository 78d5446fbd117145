"""A fleet: the checked tables that everything after intake works on."""

from dataclasses import dataclass, fields
from functools import cache
from typing import Protocol

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract import FLEET_TABLES, Column, Kind, Table
from scoring.contract.declaration import YES
from scoring.contract.mountings import EVERY_MOUNTING

DAY_COLUMN = {
    "walkdowns": "inspected_on",
    "events": "occurred_on",
    "rework": "done_on",
    "accepted": "accepted_on",
}
"""The column that says when a record's matter happened."""

ROW = "row"
"""Extra column: the row in the source, as a spreadsheet counts it."""


DAYS_PER_YEAR = 365.25
"""Ages are counted in days and given in years. [d/year]"""

SOURCE_STEP = 2**40
"""Rows of a second file of the same table are counted from here on, and so forth."""


TEXT = pd.StringDtype(na_value=np.nan)
"""How text is kept."""


def timed(column_name: str) -> str:
    """Name of the extra column that says whether a date came with a time."""
    return f"{column_name}_timed"


@dataclass(frozen=True)
class Fleet:
    """The checked tables of a fleet.

    Each frame has every column of its table: text as ``str`` with missing for blank, numbers as
    ``float64`` in the contract's unit, dates as ``datetime64[s]``, choices as ordered categories,
    ``row`` and, for every date, whether it came with a time.
    """

    units: pd.DataFrame
    walkdowns: pd.DataFrame
    events: pd.DataFrame
    rework: pd.DataFrame
    accepted: pd.DataFrame

    def table(self, name: str) -> pd.DataFrame:
        """Return the frame of that table."""
        frame: pd.DataFrame = getattr(self, name)
        return frame


def has_mounting(units: pd.DataFrame, mountings: tuple[str, ...]) -> NDArray[np.bool_]:
    """Tell which units have one of some mountings.

    Parameters
    ----------
    units : DataFrame, shape (n_units, ...)
        With the column ``mounting`` as in the table ``units``.
    mountings : tuple of str
        The mountings.

    Returns
    -------
    ndarray of bool, shape (n_units,)
    """
    wanted = np.array([mounting in mountings for mounting in EVERY_MOUNTING] + [False])
    # not by way of .cat, which makes a table's column anew: this is asked for each effect
    answer: NDArray[np.bool_] = wanted[units["mounting"].array.codes]
    return answer


class PartOfUnits(Protocol):
    """What some units have and others have not, such as what a check looks at."""

    @property
    def mountings(self) -> tuple[str, ...]:
        """The mountings that have it."""

    @property
    def only_where(self) -> str:
        """The column of ``units`` that has to say yes; may be empty."""


def units_with(part: PartOfUnits, units: pd.DataFrame) -> NDArray[np.bool_]:
    """Tell which units have something.

    Parameters
    ----------
    part : PartOfUnits
        A check, or what else says of which units it speaks.
    units : DataFrame
        With the column ``mounting`` and that of ``part.only_where`` as in the table ``units``.

    Returns
    -------
    ndarray of bool, shape (n_units,)
    """
    mounting = has_mounting(units, part.mountings)
    if not part.only_where:
        return mounting
    return mounting & (units[part.only_where] == YES).to_numpy(dtype=bool)


def unit_has(part: PartOfUnits, units: pd.DataFrame, place: int) -> bool:
    """Tell whether one unit of a table has something; as ``units_with``."""
    return bool(units_with(part, units.iloc[[place]])[0])


def dtype_of(column: Column) -> object:
    """Return the dtype in which a column of a fleet is kept."""
    if column.is_numeric:
        return np.dtype("float64")
    if column.kind is Kind.DATE:
        return np.dtype("datetime64[s]")
    if column.kind is Kind.CHOICE:
        return choice_dtype(column.allowed)
    return TEXT


@cache
def choice_dtype(allowed: tuple[str, ...]) -> pd.CategoricalDtype:
    """Return the dtype of a choice among some words; it is the same one for all columns of it."""
    return pd.CategoricalDtype(list(allowed), ordered=True)


def empty_table(table: Table) -> pd.DataFrame:
    """Return a frame of that table without rows.

    Examples
    --------
    >>> from scoring.contract import EVENTS
    >>> empty_table(EVENTS).columns[:4].tolist()
    ['event_id', 'unit_id', 'occurred_on', 'mode']
    """
    return _without_rows(table).copy()


@cache
def _without_rows(table: Table) -> pd.DataFrame:
    columns = {c.name: pd.Series([], dtype=dtype_of(c)) for c in table.columns}  # type: ignore[call-overload]
    dates = {timed(c.name): pd.Series([], dtype=bool) for c in table.columns if c.kind is Kind.DATE}
    return pd.DataFrame({**columns, **dates, ROW: pd.Series([], dtype="int64")})


if {f.name for f in fields(Fleet)} != {t.name for t in FLEET_TABLES}:
    raise AssertionError("a table of the contract has no place in Fleet")
