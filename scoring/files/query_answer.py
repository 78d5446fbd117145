"""What a database answers, as a grid: its values as texts, and how much of them is taken."""

import datetime as dt
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import count
from typing import TYPE_CHECKING, Any

from scoring.errors import FixableError
from scoring.reading_plan import Grid
from scoring.reading_plan.what_a_plan_says import Query

if TYPE_CHECKING:
    import sqlite3  # who reads files does not wait for it

MOST_ROWS = 10_000_000
MOST_EXACT = 1e15
AT_ONCE = 10_000
"""So many rows are fetched at once."""

STEPS_AT_ONCE = 100_000
"""So many steps of SQLite are counted at once."""

_READS = re.compile(r"\s*(--[^\n]*\n\s*)*(select|with)\b", re.IGNORECASE)


@dataclass(frozen=True)
class Bounds:
    """How much one query of a page may ask for; planning values of ours.

    Attributes
    ----------
    steps : int
        How many steps SQLite may take: a minute or so of work, however busy the machine is.
    seconds : float
        How long the server of another database may take, which counts no steps. [s]
    letters : int
        How many letters its answer may have.
    """

    steps: int = 6_000_000_000
    seconds: float = 60.0
    letters: int = 60_000_000

    def end_after_steps(self, base: "sqlite3.Connection") -> None:
        """Let a database of SQLite leave off once it has taken so many steps."""
        taken = count(STEPS_AT_ONCE, STEPS_AT_ONCE)
        base.set_progress_handler(lambda: int(next(taken) > self.steps), STEPS_AT_ONCE)


def require_reading(query: Query) -> None:
    """Refuse what is not one statement that reads.

    Raises
    ------
    FixableError
        If it is none.

    Examples
    --------
    >>> require_reading(Query("units", "", "DELETE FROM units"))
    Traceback (most recent call last):
    ...
    scoring.errors.FixableError: units: the query must be one statement that begins with SELECT \
or WITH; nothing of your database is changed
    """
    if not _READS.match(query.query) or ";" in query.query.rstrip().rstrip(";"):
        raise FixableError(
            f"{query.name}: the query must be one statement that begins with SELECT or WITH; "
            "nothing of your database is changed"
        )


def grid_of_answer(
    name: str,
    headings: Sequence[object],
    fetch: Callable[[int], Sequence[Sequence[Any]]],
    bounds: Bounds | None = None,
) -> Grid:
    """Take what a query answers.

    Parameters
    ----------
    name : str
        What messages call the answer.
    headings : sequence
        As the database names them.
    fetch : callable
        Returns the next rows, at most so many; none at the end.
    bounds : Bounds, optional
        How much is taken.

    Raises
    ------
    FixableError
        If there is more of it.
    """
    rows: list[list[str]] = [[str(one) for one in headings]]
    letters = 0
    while len(rows) <= MOST_ROWS:
        more = fetch(AT_ONCE)
        if not more:
            break
        texts = [[_text(value) for value in row] for row in more]
        rows += texts
        letters += sum(len(text) for row in texts for text in row)
        if bounds and letters > bounds.letters:
            raise FixableError(
                f"{name}: the answer holds more than {bounds.letters / 1e6:.0f} million letters, "
                "the most that is taken here; ask for fewer columns or rows"
            )
    return Grid.from_rows(name, "", rows, typed=True, folder=name)


def _text(value: Any) -> str:  # noqa: ANN401, PLR0911 - one for each kind of value
    if value is None:
        return ""
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    if isinstance(value, dt.datetime):
        midnight = value.time() == dt.time()
        return value.date().isoformat() if midnight else value.isoformat(timespec="seconds")
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, float) and value.is_integer() and abs(value) < MOST_EXACT:
        return str(int(value))
    if isinstance(value, Decimal):
        return f"{value.normalize():f}"
    return str(value)
