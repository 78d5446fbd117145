"""What others signed since a moment: walkdowns with their verdicts, and releases."""

from dataclasses import dataclass

from sqlalchemy import Connection, select

from scoring.store.schema import RECORDS, RELEASES, SIGN_OFFS

MOST = 200
"""How many are read at once, the last ones."""


@dataclass(frozen=True)
class Signed:
    """A signature.

    Attributes
    ----------
    unit_id : str
        The unit.
    by, at : str
        Who signed, and when. [UTC]
    verdict : str
        The verdict on the unit that they saw.
    before : str
        The verdict that was signed before that; empty where there was none.
    is_release : bool
        Whether it is a release to start, rather than a walkdown.
    """

    unit_id: str
    by: str
    at: str
    verdict: str
    before: str
    is_release: bool


def units_signed_since(connection: Connection, since: str) -> set[str]:
    """Return the units of which a walkdown was signed since a moment, in UTC."""
    walkdowns = RECORDS["walkdowns"].c
    query = (
        select(walkdowns.unit_id)
        .join(SIGN_OFFS, SIGN_OFFS.c.walkdown_id == walkdowns.walkdown_id)
        .where(SIGN_OFFS.c.signed_at >= since)
    )
    return set(connection.scalars(query))


def signed_by_others(connection: Connection, since: str, person: str) -> list[Signed]:
    """Return what others signed since a moment, the last first.

    Parameters
    ----------
    connection : Connection
        In a transaction.
    since : str
        The moment. [UTC]
    person : str
        Whose signatures are left out.

    Returns
    -------
    list of Signed
        At most the last 200 of each kind.
    """
    walkdowns = RECORDS["walkdowns"].c
    rows = connection.execute(
        select(walkdowns.unit_id, SIGN_OFFS.c.signed_by, SIGN_OFFS.c.signed_at, SIGN_OFFS.c.verdict)
        .join(RECORDS["walkdowns"], SIGN_OFFS.c.walkdown_id == walkdowns.walkdown_id)
        .where(SIGN_OFFS.c.signed_at > since, SIGN_OFFS.c.signed_by != person)
        .order_by(SIGN_OFFS.c.signed_at.desc())
        .limit(MOST)
    ).all()
    signed = [
        Signed(
            row.unit_id,
            row.signed_by,
            row.signed_at,
            row.verdict,
            _before(connection, row.unit_id, row.signed_at),
            is_release=False,
        )
        for row in rows
    ]
    released = connection.execute(
        select(RELEASES)
        .where(RELEASES.c.released_at > since, RELEASES.c.released_by != person)
        .order_by(RELEASES.c.released_at.desc())
        .limit(MOST)
    )
    signed += [
        Signed(
            row.unit_id,
            row.released_by,
            row.released_at,
            row.verdict,
            _before(connection, row.unit_id, row.released_at),
            is_release=True,
        )
        for row in released
    ]
    return sorted(signed, key=lambda one: one.at, reverse=True)


def _before(connection: Connection, unit_id: str, at: str) -> str:
    """Return the verdict on a unit that was signed before a moment."""
    walkdowns = RECORDS["walkdowns"].c
    return str(
        connection.scalar(
            select(SIGN_OFFS.c.verdict)
            .join(RECORDS["walkdowns"], SIGN_OFFS.c.walkdown_id == walkdowns.walkdown_id)
            .where(walkdowns.unit_id == unit_id, SIGN_OFFS.c.signed_at < at)
            .order_by(SIGN_OFFS.c.signed_at.desc())
            .limit(1)
        )
        or ""
    )
