"""What others signed since a moment: walkdowns with their verdicts, and releases."""

from dataclasses import dataclass

from sqlalchemy import ColumnElement, Connection, ScalarSelect, desc, select

from scoring.access.allowed import is_seen
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
        .where(SIGN_OFFS.c.signed_at >= since, is_seen(walkdowns.unit_id))
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
    walkdowns, signed, released = RECORDS["walkdowns"].c, SIGN_OFFS.c, RELEASES.c
    of_walkdowns = (
        select(
            walkdowns.unit_id,
            signed.signed_by.label("by"),
            signed.signed_at.label("at"),
            signed.verdict,
            _signed_before(walkdowns.unit_id, signed.signed_at).label("before"),
        )
        .join(RECORDS["walkdowns"], signed.walkdown_id == walkdowns.walkdown_id)
        .where(signed.signed_at > since, signed.signed_by != person, is_seen(walkdowns.unit_id))
    )
    of_releases = select(
        released.unit_id,
        released.released_by.label("by"),
        released.released_at.label("at"),
        released.verdict,
        _signed_before(released.unit_id, released.released_at).label("before"),
    ).where(released.released_at > since, released.released_by != person, is_seen(released.unit_id))
    lately = [
        Signed(row.unit_id, row.by, row.at, row.verdict, row.before or "", is_release=is_release)
        for query, is_release in ((of_walkdowns, False), (of_releases, True))
        for row in connection.execute(query.order_by(desc("at")).limit(MOST))
    ]
    return sorted(lately, key=lambda one: one.at, reverse=True)


def _signed_before(unit_id: ColumnElement[str], at: ColumnElement[str]) -> ScalarSelect[str | None]:
    """Select the verdict on a unit that was signed before a moment."""
    earlier, walkdowns = SIGN_OFFS.alias(), RECORDS["walkdowns"].alias()
    return (
        select(earlier.c.verdict)
        .join(walkdowns, earlier.c.walkdown_id == walkdowns.c.walkdown_id)
        .where(walkdowns.c.unit_id == unit_id, earlier.c.signed_at < at)
        .order_by(earlier.c.signed_at.desc())
        .limit(1)
        .scalar_subquery()
    )
