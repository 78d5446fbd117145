"""Was anything changed past this program? Chain, triggers, and all that the history tells."""

from collections.abc import Iterator
from dataclasses import dataclass

from sqlalchemy import Connection, func, select

from scoring.store.chain import Line, begin_of_chain, key_of_person, key_of_subject, seals
from scoring.store.only_added_to import faults_of_triggers
from scoring.store.schema import CHAIN_BEGINS, GRANTS, HISTORY, PEOPLE
from scoring.store.told_by_history import faults_of_what_is_told

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


def faults_of_chain(connection: Connection, kept: Head | None = None) -> list[str]:
    """Tell what was changed past this program.

    Parameters
    ----------
    connection : Connection
        In a transaction that reads.
    kept : Head, optional
        A head that was kept elsewhere.

    Returns
    -------
    list of str
        In words; empty where nothing was found. Without a kept head, lines cut off at the end
        together with what they tell, and a chain made wholly anew, cannot be found.
    """
    return [
        *faults_of_triggers(connection),
        *_faults_of_people(connection),
        *_faults_of_subjects(connection),
        *_faults_of_lines(connection, kept),
        *faults_of_what_is_told(connection),
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


def _faults_of_lines(connection: Connection, kept: Head | None) -> Iterator[str]:
    begins = connection.execute(select(CHAIN_BEGINS)).all()
    if len(begins) != 1:
        yield f"the chain of the history has {len(begins)} beginnings where it must have one"
        return
    (begin,) = begins
    after_earlier = begin_of_chain(begin.store_id, begin.earlier_seal)
    seal = "" if begin.earlier_lines else after_earlier
    number, at_kept = 0, ""
    for number, line, sealed in _followed(connection, begin.earlier_lines, seal, after_earlier):
        seal = sealed
        if number == begin.earlier_lines and sealed != begin.earlier_seal:
            yield "lines of the history from before the chain were changed, removed or added"
        if line["seal"] != (None if number <= begin.earlier_lines else sealed):
            what = f"line {line['history_id']} of the history ({line['about']} {line['key']})"
            yield f"{what}: it, or a line before it, was changed, removed, added or moved"
        if kept is not None and number == kept.lines:
            at_kept = str(line["seal"])
    if number < begin.earlier_lines:
        yield (
            f"the history has {number} lines; {begin.earlier_lines} were there before the chain "
            "began: the others were removed"
        )
    if kept is not None:
        at_kept = at_kept if kept.lines > begin.earlier_lines else after_earlier
        yield from _beside(kept, begin.store_id, number, at_kept)


def _followed(
    connection: Connection, earlier: int, seal: str, after_earlier: str
) -> Iterator[tuple[int, Line, str]]:
    """Go along the history: number of each line, the line, and what its seal must be.

    After a line whose seal is another one, it goes on from the seal that is there: so each place
    of a change is found, and once.
    """
    keys = {row.name: row.person_key for row in connection.execute(select(PEOPLE))}
    query = select(HISTORY).order_by(HISTORY.c.history_id)
    lines = connection.execution_options(yield_per=LINES_AT_ONCE).execute(query)
    for number, row in enumerate(lines, 1):
        line = row._asdict()
        (sealed,) = seals(seal, [line], keys)
        yield number, line, sealed
        seal = sealed if number < earlier else str(line["seal"])
        if number == earlier:
            seal = after_earlier


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
