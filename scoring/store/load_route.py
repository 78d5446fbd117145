"""Keep what the walkdown form without a network brings beside its walkdowns."""

import json
from collections.abc import Mapping

import pandas as pd
from sqlalchemy import select

from scoring.assessment import FleetAssessor
from scoring.contract import WALKDOWNS
from scoring.errors import FixableError
from scoring.files.route_reading import RouteWalkdown
from scoring.intake import check_fleet
from scoring.store.entered import keep_not_seen, keep_photo, keep_sign_off
from scoring.store.read_records import read_records
from scoring.store.schema import HISTORY
from scoring.store.sign_offs import find_sign_off, not_seen_of
from scoring.store.stored_values import digest, stored_rows
from scoring.store.unit_verdict import verdict_in
from scoring.store.versions import version_of
from scoring.store.writing import Writing


def keep_beside(
    writing: Writing,
    source: str,
    walkdowns: pd.DataFrame,
    beside: Mapping[str, RouteWalkdown],
) -> None:
    """Keep reasons, photos and sign-offs of walkdowns that were just put into the store.

    The form had no verdict to show; the one that is kept with the signature is worked out here,
    with all that the store now holds.

    Parameters
    ----------
    writing : Writing
        The transaction.
    source : str
        What messages call the store.
    walkdowns : DataFrame
        The good walkdowns that came in.
    beside : mapping of str to RouteWalkdown
        By walkdown.

    Raises
    ------
    FixableError
        If a photo is none.
    """
    there = walkdowns[walkdowns["walkdown_id"].isin(list(beside))]
    if there.empty:
        return
    signed = [beside[key] for key in there["walkdown_id"]]
    for one in signed:
        if not_seen_of(writing.connection, one.walkdown_id) != one.not_seen:
            keep_not_seen(writing, one.walkdown_id, one.not_seen)
        _keep_photos(writing, one)
    _keep_sign_offs(writing, source, signed)


def overtaken_walkdowns(
    writing: Writing, walkdowns: pd.DataFrame, beside: Mapping[str, RouteWalkdown]
) -> set[str]:
    """Return walkdowns of a route that were corrected in the store since they came in.

    Loading an old copy of a route again must not undo a correction.
    """
    there = walkdowns[walkdowns["walkdown_id"].isin(list(beside))]
    return {
        str(row["walkdown_id"])
        for row in stored_rows(there, WALKDOWNS)
        if digest(row) in _digests_before(writing, str(row["walkdown_id"]))
    }


def _digests_before(writing: Writing, walkdown_id: str) -> set[str]:
    """Return what names the contents that a walkdown had before its last version."""
    versions = writing.connection.scalars(
        select(HISTORY.c.after)
        .where(HISTORY.c.about == WALKDOWNS.name, HISTORY.c.key == walkdown_id)
        .order_by(HISTORY.c.history_id)
    ).all()
    contents = [digest(json.loads(after or "{}")) for after in versions]
    return set(contents[:-1]) - set(contents[-1:])


def _keep_photos(writing: Writing, walkdown: RouteWalkdown) -> None:
    for photo in walkdown.photos:
        try:
            keep_photo(writing, walkdown.walkdown_id, photo.check, photo.image)
        except FixableError as error:
            raise FixableError(
                f"a photo of {photo.check} in walkdown {walkdown.walkdown_id}: {error}"
            ) from error


def _keep_sign_offs(writing: Writing, source: str, signed: list[RouteWalkdown]) -> None:
    new = [
        (one, version)
        for one in signed
        if one.signed_by.strip()
        for version in [version_of(writing.connection, "walkdowns", one.walkdown_id)]
        if find_sign_off(writing.connection, one.walkdown_id, version) is None
    ]
    if not new:
        return
    today = pd.Timestamp.today()
    units = sorted({one.unit_id for one, _ in new})
    fleet = check_fleet(read_records(writing.connection, source, units), today).fleet
    assessment = FleetAssessor(fleet).assess(today.normalize())
    for one, version in new:
        verdict = verdict_in(assessment, one.unit_id)
        keep_sign_off(
            writing,
            one.walkdown_id,
            version,
            signed_by=one.signed_by.strip(),
            signed_at=one.signed_at,
            verdict=verdict.verdict,
            holds=[asked.what for asked in verdict.holds],
            told=one.told.strip(),
        )
