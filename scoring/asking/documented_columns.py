"""The data dictionary: every column of the records and of the answers, from the contract."""

import pandas as pd

from scoring.asking.tables_of_answers import ANSWERS
from scoring.contract import FLEET_TABLES, RANKING, Check, Column, Table
from scoring.contract.windows import PLAN
from scoring.errors import FixableError

ENTERED, WORKED_OUT = "recorded by the plant", "worked out by mount-risk"
"""Where the values of a column come from."""

_TABLES: tuple[Table, ...] = (*FLEET_TABLES, RANKING, PLAN, *ANSWERS)


def columns(*tables: str) -> pd.DataFrame:
    """Return what every column means: of the records, and of every table of answers.

    Parameters
    ----------
    *tables : str
        Only these tables; by default all: ``units``, ``walkdowns``, ``events``, ``rework``,
        ``accepted``, then ``ranking``, ``plan``, ``what_if``, ``route``, ``looks``, ``faults``.

    Returns
    -------
    DataFrame
        One row a column, in the order of the tables: ``table``, ``column``, ``meaning``, ``unit``
        (empty for words and counts), ``allowed``, ``source`` (where its values come from).

    Raises
    ------
    FixableError
        If there is no table of a name.

    Examples
    --------
    >>> import scoring
    >>> scoring.columns("units")[["column", "source"]].head(1).values.tolist()
    [['unit_id', 'recorded by the plant']]
    """
    names = [table.name for table in _TABLES]
    for name in tables:
        if name not in names:
            raise FixableError(f"there is no table {name!r}; right is one of {', '.join(names)}")
    return pd.DataFrame(
        [
            _described(table, column)
            for table in _TABLES
            if not tables or table.name in tables
            for column in table.columns
        ]
    )


def _described(table: Table, column: Column) -> dict[str, str]:
    meaning, source = column.meaning, WORKED_OUT
    if isinstance(column, Check):
        meaning = f"{column.label}; good: {column.good}"
        source = f"seen at the unit, {column.seen.words}"
    elif table in FLEET_TABLES:
        source = ENTERED
    return {
        "table": table.name,
        "column": column.name,
        "meaning": meaning,
        "unit": column.unit,
        "allowed": column.allowed_words + (", required" if column.required else ""),
        "source": source,
    }
