"""Releases to start after a hold, signed by name."""

from collections.abc import Mapping
from dataclasses import dataclass

import pandas as pd
from sqlalchemy import Connection, insert, select

from scoring.access.acts import Act
from scoring.access.allowed import require_at, require_written
from scoring.entering.new_keys import new_key
from scoring.entering.refusals import Fault, RefusedError
from scoring.entering.unit_verdict import UnitVerdict, verdict_of_unit
from scoring.intake import RawTable, check_fleet
from scoring.store.open_store import Store
from scoring.store.read_records import read_records
from scoring.store.schema import RELEASES
from scoring.store.store_errors import UnknownRecordError
from scoring.store.whole_text import LONGEST_REASON, not_whole
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
    """Judge a unit of the store as of today.

    Raises
    ------
    UnknownRecordError
        If the store has no such unit.
    """
    with store.reading() as connection:
        require_at(connection, unit_id)
        tables = read_records(connection, store.name, [unit_id])
    return _judge(tables, unit_id)


def _judge(tables: Mapping[str, RawTable], unit_id: str) -> UnitVerdict:
    if unit_id not in tables["units"].column("unit_id"):
        raise UnknownRecordError(
            f"there is no unit {unit_id!r} in the store; ids are case-sensitive"
        )
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
        If a hold stands, the unit is not in service, or no reason is given.
    UnknownRecordError
        If the store has no such unit.
    """
    wrong = not_whole(reason, LONGEST_REASON) or ("" if reason.strip() else "is empty")
    if wrong:
        raise RefusedError(
            (Fault("reason", f"the reason {wrong}; say what was done before the unit is started"),)
        )
    with store.writing(released_by) as writing:  # no walkdown can come in between
        require_written(writing, Act.RELEASE, unit_id)
        verdict = _judge(read_records(writing.connection, store.name, [unit_id]), unit_id)
        _require_no_hold(verdict, unit_id)
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


def _require_no_hold(verdict: UnitVerdict, unit_id: str) -> None:
    if not verdict.verdict:
        raise RefusedError((Fault("unit_id", f"{unit_id} is not in service"),))
    if verdict.must_not_run:
        raise RefusedError(
            tuple(
                Fault(
                    finding.check,
                    f"{finding.what}: {finding.do}, and write it down as re-work first",
                )
                for finding in verdict.holds
            )
        )


def releases_of(connection: Connection, unit_id: str) -> list[Release]:
    """Return the releases of a unit, the last first."""
    require_at(connection, unit_id)
    rows = connection.execute(
        select(RELEASES)
        .where(RELEASES.c.unit_id == unit_id)
        .order_by(RELEASES.c.released_at.desc())
    )
    return [Release(*row) for row in rows]
