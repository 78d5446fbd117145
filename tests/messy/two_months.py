"""Put the files of two months beside what they truly say."""

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

import pandas as pd
from flat_records import flat_as_of_first, flat_records, split
from kept_records import FIRST, SECOND, as_of_first
from messy_fleet import Answer, MessyFleet, Month, Source, Tables
from own_writing import Own

Columns = Mapping[str, Sequence[Own]]
"""By table of the contract: the columns that this plant keeps."""


def two_months(
    folder: Path,
    tables: Tables,
    columns: Columns,
    write: Callable[[Path, Tables], tuple[Source, ...]],
    answers: tuple[Answer, ...],
) -> MessyFleet:
    """Write both months with the same hand, each into a folder of its own."""
    second = {name: tables[name][[one.column for one in kept]] for name, kept in columns.items()}
    first = as_of_first(second)
    return MessyFleet(
        Month(FIRST, write(folder / "first", first), first),
        Month(SECOND, write(folder / "second", second), second),
        answers,
    )


def two_flat_months(  # noqa: PLR0913 - a plant's two months, and which columns are about what
    folder: Path,
    tables: Tables,
    write: Callable[[Path, pd.DataFrame, str], Source],
    answers: tuple[Answer, ...],
    *,
    of_units: Sequence[Own],
    of_walkdowns: Sequence[Own],
    of_work: Sequence[Own],
    dated: bool,
) -> MessyFleet:
    """Write both months as one flat table; ``of_units`` begins with the id.

    ``write`` is given a folder, the rows and the day as of which they are.
    """
    actions = [one.column for one in of_work]
    second = flat_records(tables, actions, dated=dated)
    months = [
        Month(
            as_of,
            (write(folder / as_of, rows, as_of),),
            split(
                rows,
                of_units=[one.column for one in of_units[1:]],
                of_walkdowns=[one.column for one in of_walkdowns],
                actions=actions,
            ),
        )
        for as_of, rows in ((FIRST, flat_as_of_first(second, actions)), (SECOND, second))
    ]
    return MessyFleet(months[0], months[1], answers)
