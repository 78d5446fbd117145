"""Erase a person's name: the chain knows the key alone, and stays whole."""

from sqlalchemy import Connection, delete, insert, select, update

from scoring.store.chain import OF_PEOPLE, renamed
from scoring.store.only_added_to import lift, restore
from scoring.store.schema import GRANTS, HISTORY, METADATA, PEOPLE
from scoring.store.store_errors import UnknownRecordError
from scoring.store.verify_store import erased_name
from scoring.store.writing import Change, Writing


def forget_person(writing: Writing, name: str, reason: str) -> str:
    """Replace a person's name wherever the store names who did something.

    What people wrote themselves (notes, reasons, who was told) stays as it is.

    Parameters
    ----------
    writing : Writing
        The transaction; its actor is another person.
    name : str
        Whose name is erased.
    reason : str
        Why, for the history.

    Returns
    -------
    str
        How the person is called from now on.

    Raises
    ------
    UnknownRecordError
        If nobody of that name is known, or it is the name of the actor.
    """
    connection = writing.connection
    person = connection.execute(select(PEOPLE).where(PEOPLE.c.name == name)).one_or_none()
    if person is None:
        raise UnknownRecordError(f"nobody called {name!r} is known to the store")
    if name == writing.actor:
        raise UnknownRecordError(
            f"{name} would erase the own name with which this is written down; let another person "
            "do it: --by NAME"
        )
    new = erased_name(person.person_key)
    lift(connection)
    connection.execute(insert(PEOPLE).values({**person._asdict(), "name": new, "salt": None}))
    for table in METADATA.sorted_tables:
        for column in table.columns:
            if any(key.column is PEOPLE.c.name for key in column.foreign_keys):
                connection.execute(update(table).where(column == name).values({column.name: new}))
    connection.execute(update(GRANTS).where(GRANTS.c.granted_to == new).values(subject=new))
    _rename_in_history(connection, name, new)
    connection.execute(delete(PEOPLE).where(PEOPLE.c.name == name))
    restore(connection)
    writing.note([Change(OF_PEOPLE, new, "name erased", reason=reason)])
    return new


def _rename_in_history(connection: Connection, name: str, new: str) -> None:
    """Change the name where a line is about the person, or names them before or after."""
    is_person = (HISTORY.c.about == OF_PEOPLE) & (HISTORY.c.key == name)
    connection.execute(update(HISTORY).where(is_person).values(key=new))
    for side in (HISTORY.c.before, HISTORY.c.after):
        lines = connection.execute(
            select(HISTORY.c.history_id, HISTORY.c.about, side.label("text")).where(
                side.contains(name, autoescape=True)
            )
        ).all()
        for line in lines:
            told = renamed(line.text, line.about, name, new)
            if told != line.text:
                connection.execute(
                    update(HISTORY)
                    .where(HISTORY.c.history_id == line.history_id)
                    .values({side.name: told})
                )
