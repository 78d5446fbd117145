"""Load records, with what the walkdown form without a network brings beside its walkdowns."""

from collections.abc import Callable, Mapping

import pandas as pd

from scoring.assessment import FleetAssessor
from scoring.entering.photos import encode_photo, keep_photo
from scoring.entering.sign_offs import (
    find_sign_off,
    keep_not_seen,
    keep_sign_off,
    not_seen_of,
)
from scoring.entering.unit_verdict import verdict_in
from scoring.errors import FixableError
from scoring.files.route_reading import RouteWalkdown
from scoring.intake import CheckedFleet, check_fleet
from scoring.store.load_records import Incoming, Loaded, load_records
from scoring.store.open_store import Store
from scoring.store.read_records import read_records
from scoring.store.versions import version_of
from scoring.store.writing import Writing


def load_with_filled_forms(
    store: Store,
    incoming: Incoming,
    forms: Mapping[str, RouteWalkdown],
    *,
    actor: str,
    allow: Callable[[CheckedFleet], None],
) -> Loaded:
    """Load records, and keep reasons, photos and sign-offs of those that a form brings.

    The form had no verdict to show; the one that is kept with the signature is worked out here,
    with all that the store now holds.

    Parameters
    ----------
    store : Store
        The store.
    incoming : Incoming
        The records.
    forms : mapping of str to RouteWalkdown
        What the form kept beside its walkdowns, by walkdown.
    actor : str
        Who loads them.
    allow : callable
        Looks at what was found wrong, and raises unless the good rows shall be loaded.

    Returns
    -------
    Loaded

    Raises
    ------
    UnreadableFleetError
        If there is no table at all.
    FixableError
        If a photo is none; nothing was changed.
    StoreError
        If the store cannot be used; nothing was changed.
    """
    with store.writing(actor) as writing:
        loaded = load_records(writing, store.name, incoming, allow=allow)
        filled = [forms[key] for key in loaded.walkdowns if key in forms]
        for one in filled:
            if not_seen_of(writing.connection, one.walkdown_id) != one.not_seen:
                keep_not_seen(writing, one.walkdown_id, one.not_seen)
            _keep_photos(writing, one)
        _keep_sign_offs(writing, store.name, filled)
    return loaded


def _keep_photos(writing: Writing, walkdown: RouteWalkdown) -> None:
    for photo in walkdown.photos:
        try:
            keep_photo(writing, walkdown.walkdown_id, photo.check, encode_photo(photo.image))
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
            holds=[finding.what for finding in verdict.holds],
            told=one.told.strip(),
        )
