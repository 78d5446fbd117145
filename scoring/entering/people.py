"""Who is known to the store, and in which units of measure each reads and writes."""

from sqlalchemy import Connection, select, update

from scoring.access.acts import Act
from scoring.access.allowed import require_written
from scoring.access.who_asks import who_asks
from scoring.contract.quantities import INCH, METRIC
from scoring.errors import FixableError
from scoring.store.schema import PEOPLE
from scoring.store.writing import Change, Writing

MEASURES = (METRIC, INCH)


def measures_of(connection: Connection, name: str) -> str:
    """Return the units of measure of a person; metric for one who is not known yet."""
    found = connection.scalar(select(PEOPLE.c.measures).where(PEOPLE.c.name == name))
    return found or METRIC


def set_measures(writing: Writing, measures: str) -> None:
    """Keep the units of measure that the actor chose.

    Raises
    ------
    FixableError
        If there are none of that name.
    """
    if measures not in MEASURES:
        raise FixableError(f"units of measure are {' or '.join(MEASURES)}, not {measures!r}")
    require_written(writing, Act.SEE)
    before = measures_of(writing.connection, writing.actor)
    if before == measures:
        return
    writing.connection.execute(
        update(PEOPLE).where(PEOPLE.c.name == writing.actor).values(measures=measures)
    )
    writing.note(
        [
            Change(
                "people",
                writing.actor,
                "changed",
                before={"measures": before},
                after={"measures": measures},
            )
        ]
    )


def known_people(connection: Connection) -> list[str]:
    """Return all names, sorted; none to who is signed in, for they sign in their own alone."""
    if who_asks().is_signed_in:
        return []
    return list(connection.scalars(select(PEOPLE.c.name).order_by(PEOPLE.c.name)))
