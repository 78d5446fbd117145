"""What is kept of a walkdown beside its values: why checks were not seen, and who signed it."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, delete, insert, select

from scoring.store.schema import NOT_SEEN, SIGN_OFFS
from scoring.store.writing import Change, Writing


@dataclass(frozen=True)
class SignOff:
    """Who signed a version of a walkdown.

    Attributes
    ----------
    walkdown_id : str
        The walkdown.
    version : int
        Its version.
    signed_by, signed_at : str
        Who, and when. [UTC]
    verdict : str
        The verdict that they saw.
    holds : tuple of str
        Why the unit must not run, in plain words.
    told : str
        Who was told of a hold.
    """

    walkdown_id: str
    version: int
    signed_by: str
    signed_at: str
    verdict: str
    holds: tuple[str, ...]
    told: str


def keep_not_seen(writing: Writing, walkdown_id: str, reasons: Mapping[str, str]) -> None:
    """Keep why checks were not seen on a walkdown, in place of what was kept before."""
    before = not_seen_of(writing.connection, walkdown_id)
    if before == reasons:
        return
    writing.connection.execute(delete(NOT_SEEN).where(NOT_SEEN.c.walkdown_id == walkdown_id))
    rows = [
        {"walkdown_id": walkdown_id, "check": check, "reason": reason}
        for check, reason in reasons.items()
    ]
    if rows:
        writing.connection.execute(insert(NOT_SEEN), rows)
    writing.note([Change("not_seen", walkdown_id, "set", before=before, after=dict(reasons))])


def not_seen_of(connection: Connection, walkdown_id: str) -> dict[str, str]:
    """Return why checks were not seen on a walkdown, by check."""
    rows = connection.execute(select(NOT_SEEN).where(NOT_SEEN.c.walkdown_id == walkdown_id))
    return {row.check: row.reason for row in rows}


def keep_sign_off(  # noqa: PLR0913 - a signature says who, when, to what
    writing: Writing,
    walkdown_id: str,
    version: int,
    *,
    signed_by: str,
    signed_at: str,
    verdict: str,
    holds: Sequence[str],
    told: str,
) -> None:
    """Keep who signed a version of a walkdown; the same version is signed once."""
    if find_sign_off(writing.connection, walkdown_id, version) is not None:
        return
    writing.know(signed_by)
    row = {
        "walkdown_id": walkdown_id,
        "version": version,
        "signed_by": signed_by,
        "signed_at": signed_at,
        "verdict": verdict,
        "holds": json.dumps(list(holds), ensure_ascii=False),
        "told": told or None,
    }
    writing.connection.execute(insert(SIGN_OFFS).values(row))
    writing.note([Change("sign_offs", walkdown_id, "signed", after=row, version=version)])


def find_sign_off(connection: Connection, walkdown_id: str, version: int) -> SignOff | None:
    """Return who signed a version of a walkdown."""
    row = connection.execute(
        select(SIGN_OFFS).where(
            SIGN_OFFS.c.walkdown_id == walkdown_id, SIGN_OFFS.c.version == version
        )
    ).one_or_none()
    return None if row is None else _sign_off(row)


def _sign_off(row: Any) -> SignOff:  # noqa: ANN401 - a row's columns are known to the database only
    return SignOff(
        row.walkdown_id,
        row.version,
        row.signed_by,
        row.signed_at,
        row.verdict,
        tuple(json.loads(row.holds)),
        row.told or "",
    )
