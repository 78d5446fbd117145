"""Releases to start after a hold, signed by name."""

from dataclasses import dataclass

import pandas as pd
from sqlalchemy import Connection, insert, select

from scoring.intake import check_fleet
from scoring.store.errors import Fault, RefusedError
from scoring.store.names import new_key
from scoring.store.read_records import read_records
from scoring.store.schema import RELEASES
from scoring.store.store import Store
from scoring.store.unit_verdict import UnitVerdict, verdict_of_unit
from scoring.store.writing import Change


@dataclass(frozen=True)
class Release:
    """A release to start.

    Attributes
    ----------
    release_id, unit_id : str
        Its key, and the unit.
    released_by, released_at : str
        Who signed it, and when. [UTC]
    verdict : str
        The verdict on the unit when it was signed.
    reason : str
        What was done, in the words of who signed.
    """

    release_id: str
    unit_id: str
    released_by: str
    released_at: str
    verdict: str
    reason: str


def verdict_now(store: Store, unit_id: str) -> UnitVerdict:
    """Judge a unit of the store as of today."""
    with store.reading() as connection:
        tables = read_records(connection, store.name, [unit_id])
    today = pd.Timestamp.today()
    return verdict_of_unit(check_fleet(tables, today).fleet, unit_id, today.normalize())


def release_to_start(store: Store, unit_id: str, *, released_by: str, reason: str) -> Release:
    """Sign that a unit may be started after a hold was cured.

    The signature is a person's own; this program never gives a permission to run. It refuses one
    while the records hold the unit.

    Parameters
    ----------
    store : Store
        The store.
    unit_id : str
        The unit.
    released_by : str
        Who signs.
    reason : str
        What was done.

    Returns
    -------
    Release

    Raises
    ------
    RefusedError
        If a hold stands, or no reason is given.
    """
    verdict = verdict_now(store, unit_id)
    if verdict.must_not_run:
        raise RefusedError(
            tuple(
                Fault(asked.check, f"{asked.what}: {asked.do}, and write it down as re-work first")
                for asked in verdict.holds
            )
        )
    if not reason.strip():
        raise RefusedError((Fault("reason", "say what was done before the unit is started"),))
    with store.writing(released_by) as writing:
        release = Release(
            new_key("releases"), unit_id, writing.actor, writing.at, verdict.verdict, reason.strip()
        )
        writing.connection.execute(insert(RELEASES).values(release.__dict__))
        writing.note(
            [
                Change(
                    "releases",
                    release.release_id,
                    "released to start",
                    after=release.__dict__,
                    unit_id=unit_id,
                    reason=release.reason,
                )
            ]
        )
    return release


def releases_of(connection: Connection, unit_id: str) -> list[Release]:
    """Return the releases of a unit, the last first."""
    rows = connection.execute(
        select(RELEASES)
        .where(RELEASES.c.unit_id == unit_id)
        .order_by(RELEASES.c.released_at.desc())
    )
    return [Release(*row) for row in rows]
