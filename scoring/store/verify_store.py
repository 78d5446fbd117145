"""Was anything changed past this program? Chain, triggers, and all that the history tells."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, func, select

from scoring.store.chain import Line, begin_of_chain, key_of_person, key_of_subject, seals
from scoring.store.only_added_to import faults_of_triggers
from scoring.store.schema import CHAIN_BEGINS, GRANTS, HISTORY, PEOPLE

LINES_AT_ONCE = 2000
"""Lines of the history held in memory at once."""

ERASED = "erased "
"""How a person is called whose name was erased; the begin of the key follows."""


@dataclass(frozen=True)
class Head:
    """How far the chain of a store reaches; kept elsewhere, it shows a cut or a new-made chain.

    Attributes
    ----------
    store_id : str
        The store.
    lines : int
        How many lines its history has.
    seal : str
        The seal of the last one.
    """

    store_id: str
    lines: int
    seal: str


def head_of(connection: Connection) -> Head:
    """Return the head of a store's chain."""
    begin = connection.execute(select(CHAIN_BEGINS)).first()
    lines = connection.scalar(select(func.count()).select_from(HISTORY)) or 0
    seal = connection.scalar(select(HISTORY.c.seal).order_by(HISTORY.c.history_id.desc()).limit(1))
    if begin is None:
        return Head("", lines, str(seal))
    return Head(
        begin.store_id, lines, str(seal or begin_of_chain(begin.store_id, begin.earlier_seal))
    )


def faults_beside_lines(connection: Connection) -> list[str]:
    """Tell which triggers are missing, and which persons are not those whom the chain knows."""
    return [
        *faults_of_triggers(connection),
        *_faults_of_people(connection),
        *_faults_of_subjects(connection),
    ]


def _faults_of_people(connection: Connection) -> Iterator[str]:
    for row in connection.execute(select(PEOPLE)):
        if row.salt is None:
            wrong = row.name != erased_name(row.person_key)
        else:
            wrong = key_of_person(row.name, row.salt) != row.person_key
        if wrong:
            yield f"people {row.name}: is not the name that the chain knows by its key"


def _faults_of_subjects(connection: Connection) -> Iterator[str]:
    people = select(GRANTS, PEOPLE.c.person_key, PEOPLE.c.salt).join(
        PEOPLE, PEOPLE.c.name == GRANTS.c.granted_to
    )
    for row in connection.execute(people.order_by(GRANTS.c.grant_id)):
        if row.salt is None:
            wrong = row.subject != erased_name(row.person_key)
        else:
            wrong = key_of_subject(row.issuer, row.subject, row.salt) != row.subject_key
        if wrong:
            yield f"grants {row.grant_id}: is of another subject than the chain knows by its key"


def erased_name(key: str) -> str:
    """Return how a person is called whose name was erased."""
    return f"{ERASED}{key[:8]}"


def lines_of(connection: Connection) -> Iterator[dict[str, Any]]:
    """Return the lines of the history in their order, few of them in memory."""
    query = select(HISTORY).order_by(HISTORY.c.history_id)
    for row in connection.execution_options(yield_per=LINES_AT_ONCE).execute(query):
        yield row._asdict()


class ChainFollowed:
    """The chain, followed line by line.

    After a line whose seal is another one, it goes on from the seal that is there: so each place
    of a change is found, and once.

    Parameters
    ----------
    connection : Connection
        In a transaction that reads.
    kept : Head, optional
        A head that was kept elsewhere. Without it, lines cut off at the end together with what
        they tell, and a chain made wholly anew, cannot be found.
    """

    def __init__(self, connection: Connection, kept: Head | None = None) -> None:
        self._keys = {row.name: row.person_key for row in connection.execute(select(PEOPLE))}
        self._begins = connection.execute(select(CHAIN_BEGINS)).all()
        self._kept, self._at_kept = kept, ""
        self._number = 0
        if len(self._begins) == 1:
            (self._begin,) = self._begins
            self._after_earlier = begin_of_chain(self._begin.store_id, self._begin.earlier_seal)
            self._seal = "" if self._begin.earlier_lines else self._after_earlier

    def faults_at(self, line: Line) -> Iterator[str]:
        """Go on to a line, and tell what is wrong there."""
        if len(self._begins) != 1:
            return
        self._number += 1
        number, earlier = self._number, self._begin.earlier_lines
        sealed = self._sealed(line)
        if number == earlier and sealed != self._begin.earlier_seal:
            yield "lines of the history from before the chain were changed, removed or added"
        if line["seal"] != (None if number <= earlier else sealed):
            what = f"line {line['history_id']} of the history ({line['about']} {line['key']})"
            yield f"{what}: it, or a line before it, was changed, removed, added or moved"
        if self._kept is not None and number == self._kept.lines:
            self._at_kept = str(line["seal"])
        self._seal = sealed if number < earlier else str(line["seal"])
        if number == earlier:
            self._seal = self._after_earlier

    def _sealed(self, line: Line) -> str:
        """Return what the seal of a line must be; no seal is right where it cannot be read."""
        try:
            return next(seals(self._seal, [line], self._keys))
        except (ValueError, AttributeError):
            return "cannot be read"

    def faults_at_the_end(self) -> Iterator[str]:
        """Tell what is wrong with the chain as a whole."""
        if len(self._begins) != 1:
            yield (
                f"the chain of the history has {len(self._begins)} beginnings where it must have "
                "one"
            )
            return
        earlier = self._begin.earlier_lines
        if self._number < earlier:
            yield (
                f"the history has {self._number} lines; {earlier} were there before the chain "
                "began: the others were removed"
            )
        if self._kept is not None:
            at_kept = self._at_kept if self._kept.lines > earlier else self._after_earlier
            yield from _beside(self._kept, self._begin.store_id, self._number, at_kept)


def _beside(kept: Head, store_id: str, lines: int, at_kept: str) -> Iterator[str]:
    if kept.store_id != store_id:
        yield "this is another store than the one whose head was kept"
    elif lines < kept.lines:
        yield (
            f"the history has {lines} lines, and had {kept.lines} when the head was kept: "
            "lines at its end were removed"
        )
    elif at_kept != kept.seal:
        yield (
            f"the first {kept.lines} lines of the history are not those of which the head was "
            "kept: the chain was made anew"
        )
