"""The sign-offs that a store keeps of a unit."""

from sqlalchemy import Connection, select

from scoring.entering.sign_offs import SignOff, find_sign_off
from scoring.store.schema import RECORDS, SIGN_OFFS


def sign_offs_of_unit(connection: Connection, unit_id: str) -> list[SignOff]:
    """Return the sign-offs of a unit, the last first."""
    walkdowns = RECORDS["walkdowns"]
    keys = connection.execute(
        select(SIGN_OFFS.c.walkdown_id, SIGN_OFFS.c.version)
        .join(walkdowns, walkdowns.c.walkdown_id == SIGN_OFFS.c.walkdown_id)
        .where(walkdowns.c.unit_id == unit_id)
        .order_by(SIGN_OFFS.c.signed_at.desc())
    )
    return [find_sign_off(connection, *key) for key in keys.all()]
