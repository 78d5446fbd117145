"""What reads and writes ask first: may this person, and is it a unit of their sites.

A unit of another site is answered as one that does not exist: so nobody learns that it does.
"""

from sqlalchemy import ColumnElement, Connection, Select, select, true

from scoring.access.acts import Act
from scoring.access.who_asks import Asker, NotAllowedError, require, who_asks
from scoring.store.schema import RECORDS
from scoring.store.store_errors import UnknownRecordError
from scoring.store.writing import Writing


def require_at(
    connection: Connection, unit_id: str, act: Act = Act.SEE, *, unknown: str = ""
) -> Asker:
    """Refuse who may not do something at a unit; one that does not exist is left to others.

    Parameters
    ----------
    connection : Connection
        In a transaction.
    unit_id : str
        The unit.
    act : Act
        What is to be done.
    unknown : str
        What is said of something that is at no unit of theirs; by default that there is no unit.

    Raises
    ------
    NotAllowedError
        If they may not do it anywhere.
    UnknownRecordError
        If the unit stands at a site that is none of theirs.
    """
    asker = require(act)
    if asker.sites is not None:
        site = connection.scalar(_site_of(unit_id))
        if site is not None and not asker.sees(site):
            raise UnknownRecordError(
                unknown or f"there is no unit {unit_id!r} in the store; ids are case-sensitive"
            )
    return asker


def require_written(
    writing: Writing, act: Act, unit_id: str | None = None, *, unknown: str = ""
) -> Asker:
    """Refuse what is not written in the own name, or by who may not write it.

    Raises
    ------
    NotAllowedError
        If they may not, or would sign as somebody else.
    UnknownRecordError
        If the unit stands at a site that is none of theirs.
    """
    asker = (
        require(act)
        if unit_id is None
        else require_at(writing.connection, unit_id, act, unknown=unknown)
    )
    if asker.is_signed_in and writing.actor != asker.name:
        raise NotAllowedError(
            f"{asker.name} is signed in, and writes in no other name; not in that of "
            f"{writing.actor!r}"
        )
    return asker


def in_own_name(asker: Asker, said: str) -> str:
    """Return who is signed in, whatever name is said; without a login, what is said.

    Examples
    --------
    >>> from scoring.access.who_asks import ANYBODY
    >>> in_own_name(Asker("Ann Bell", frozenset()), "Ben"), in_own_name(ANYBODY, "Ben")
    ('Ann Bell', 'Ben')
    """
    return asker.name if asker.is_signed_in else said


def require_own(asker: Asker, owner: str, what: str) -> None:
    """Refuse to a person who is signed in what somebody else began.

    Raises
    ------
    NotAllowedError
        If it is another's.
    """
    if asker.is_signed_in and owner != asker.name:
        raise NotAllowedError(f"{what} belongs to {owner}")


def is_seen(unit_id: ColumnElement[str]) -> ColumnElement[bool]:
    """Return the condition that a unit stands at a site of who asks, for a question to a store."""
    asker = who_asks()
    if asker.sites is None:
        return true()
    units = RECORDS["units"].c
    return unit_id.in_(select(units.unit_id).where(units.site.in_(sorted(asker.sites))))


def units_seen(connection: Connection) -> set[str] | None:
    """Return the units of the sites of who asks; none where these are all."""
    asker = who_asks()
    if asker.sites is None:
        return None
    units = RECORDS["units"].c
    return set(connection.scalars(select(units.unit_id).where(units.site.in_(sorted(asker.sites)))))


def _site_of(unit_id: str) -> Select[tuple[str]]:
    units = RECORDS["units"].c
    return select(units.site).where(units.unit_id == unit_id)
