"""Load records, with what the walkdown form without a network brings beside its walkdowns."""

from collections.abc import Callable, Mapping

import pandas as pd
from sqlalchemy import select

from scoring.access.acts import Act
from scoring.access.allowed import require_written, units_seen
from scoring.access.who_asks import NotAllowedError, require
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
from scoring.records import Fleet
from scoring.store.load_records import Incoming, Loaded, load_records
from scoring.store.open_store import Store
from scoring.store.read_records import VALUES_AT_ONCE, read_records
from scoring.store.schema import RECORDS
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
        If the store cannot be used, or who is signed in may not; nothing was changed.
    """
    with store.writing(actor) as writing:

        def allow_of_own_sites(checked: CheckedFleet) -> None:
            allow(checked)
            _require_own(writing, checked.fleet, forms)

        loaded = load_records(writing, store.name, incoming, allow=allow_of_own_sites)
        filled = [forms[key] for key in loaded.walkdowns if key in forms]
        for one in filled:
            if not_seen_of(writing.connection, one.walkdown_id) != one.not_seen:
                keep_not_seen(writing, one.walkdown_id, one.not_seen)
            _keep_photos(writing, one)
        _keep_sign_offs(writing, store.name, filled)
    return loaded


def _require_own(writing: Writing, fleet: Fleet, forms: Mapping[str, RouteWalkdown]) -> None:
    """Refuse to who is signed in what is of other sites, or signed by others.

    Raises
    ------
    NotAllowedError
        If anything is.
    """
    asker = require_written(writing, Act.WALK)
    if not asker.is_signed_in:
        return
    if any(len(fleet.table(name)) for name in RECORDS if name != "walkdowns"):
        require(Act.ENTER)
    walkdowns = fleet.walkdowns
    looked = walkdowns.loc[walkdowns["walkdown_id"].isin(forms), "inspector"].dropna().astype(str)
    own = {"", asker.name}
    others = sorted({one.signed_by.strip() for one in forms.values()} - own)
    if others:
        raise NotAllowedError(
            f"signed by {', '.join(others)}, while {asker.name} is signed in here: let who "
            "signed it sign in and take it in; nothing was taken in"
        )
    others = sorted(set(looked) - own)
    if others:
        raise NotAllowedError(
            f"looked at by {', '.join(others)}, while {asker.name} is signed in here: let who "
            "looked sign in and take it in; nothing was taken in"
        )
    seen = units_seen(writing.connection)
    if seen is not None and not _units_of(writing, fleet) <= seen:
        raise NotAllowedError(
            f"it holds records of units at sites that are none of {asker.name}'s; nothing was "
            "taken in"
        )


def _units_of(writing: Writing, fleet: Fleet) -> set[str]:
    """Return the units of which records come in, or would be changed."""
    units = set(fleet.units["unit_id"])
    for name, table in RECORDS.items():
        rows = fleet.table(name)
        units |= set(rows["unit_id"])
        key = next(iter(table.primary_key.columns))
        keys = rows[key.name].tolist()
        for start in range(0, len(keys), VALUES_AT_ONCE):
            some = keys[start : start + VALUES_AT_ONCE]
            units |= set(writing.connection.scalars(select(table.c.unit_id).where(key.in_(some))))
    return units


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
