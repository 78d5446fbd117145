"""A transaction in somebody's name, which writes down every change it makes."""

import json
import secrets
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from sqlalchemy import Connection, insert, select

from scoring.contract.quantities import METRIC
from scoring.store.chain import begin_of_chain, key_of_person, people_in, seals
from scoring.store.new_rows import add_rows
from scoring.store.schema import CHAIN_BEGINS, HISTORY, PEOPLE
from scoring.store.store_errors import StoreError
from scoring.store.whole_text import LONGEST_NAME, not_whole


@dataclass(frozen=True)
class Change:
    """One line of the history.

    Attributes
    ----------
    about, key : str
        The table and the key of what changed.
    change : str
        What was done, in a word or two.
    before, after : mapping, optional
        What changed, before and after.
    unit_id : str, optional
        The unit it belongs to.
    version : int, optional
        Version of the record after the change.
    reason : str, optional
        Why, in the words of who did it.
    """

    about: str
    key: str
    change: str
    before: Mapping[str, object] | None = None
    after: Mapping[str, object] | None = None
    unit_id: str | None = None
    version: int | None = None
    reason: str | None = None


@dataclass(frozen=True)
class Writing:
    """A transaction that writes.

    Attributes
    ----------
    connection : Connection
        In a transaction.
    actor : str
        Who does it.
    at : str
        When it began, in UTC, ISO 8601.
    """

    connection: Connection
    actor: str
    at: str

    @classmethod
    def begin(cls, connection: Connection, actor: str) -> "Writing":
        """Begin to write in somebody's name.

        Raises
        ------
        StoreError
            If no name is given, a very long one, or one that cannot be written.
        """
        name = " ".join(actor.split())
        if not name or not_whole(name, LONGEST_NAME):
            raise StoreError(
                f"every change needs the name of who makes it, 1 to {LONGEST_NAME} characters"
            )
        writing = cls(connection, name, now())
        writing.know(name)
        return writing

    def know(self, name: str) -> None:
        """Make a person known to the store."""
        if self.connection.scalar(select(PEOPLE.c.name).where(PEOPLE.c.name == name)) is None:
            person = {"name": name, "since": self.at, "measures": METRIC}
            salt = secrets.token_hex(16)
            key = key_of_person(name, salt)
            self.connection.execute(insert(PEOPLE).values(**person, person_key=key, salt=salt))
            self.note([Change("people", name, "added", after=person)])

    def note(self, changes: Sequence[Change]) -> None:
        """Write changes into the history."""
        if not changes:
            return
        rows = [
            {
                "at": self.at,
                "actor": self.actor,
                "about": change.about,
                "key": change.key,
                "unit_id": change.unit_id,
                "change": change.change,
                "version": change.version,
                "reason": change.reason,
                "before": as_json(change.before),
                "after": as_json(change.after),
            }
            for change in changes
        ]
        keys = keys_of(self.connection, people_in(rows))
        sealed = seals(last_seal(self.connection), rows, keys)
        add_rows(
            self.connection,
            HISTORY,
            [{**row, "seal": seal} for row, seal in zip(rows, sealed, strict=True)],
        )


def last_seal(connection: Connection) -> str:
    """Return the seal of the last line of the history, or the one before the first."""
    newest = select(HISTORY.c.seal).order_by(HISTORY.c.history_id.desc()).limit(1)
    seal = connection.scalar(newest)
    if seal is not None:
        return str(seal)
    begin = connection.execute(select(CHAIN_BEGINS)).one()
    return begin_of_chain(begin.store_id, begin.earlier_seal)


def keys_of(connection: Connection, names: Collection[str]) -> dict[str, str]:
    """Return the keys of some persons, by name."""
    people = select(PEOPLE.c.name, PEOPLE.c.person_key).where(PEOPLE.c.name.in_(names))
    return {row.name: row.person_key for row in connection.execute(people)}


def as_json(content: Mapping[str, object] | None) -> str | None:
    """Return content as text, in the order given.

    Examples
    --------
    >>> as_json({"gap": 1.5}), as_json(None)
    ('{"gap":1.5}', None)
    """
    return (
        None if content is None else json.dumps(content, ensure_ascii=False, separators=(",", ":"))
    )


def now() -> str:
    """Return this moment in UTC, to the millisecond."""
    return datetime.now(UTC).isoformat(timespec="milliseconds")
