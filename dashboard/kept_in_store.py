"""What was entered into the store, for the pages: drafts, signed walkdowns, releases, photos."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

import pandas as pd
from sqlalchemy import Connection, Select, func, select

from dashboard import launch_settings
from scoring.access.allowed import is_seen, require_at
from scoring.access.who_asks import who_asks
from scoring.contract.ranking import HOLD
from scoring.entering.drafts import Draft, open_drafts
from scoring.entering.load_filled_forms import load_with_filled_forms
from scoring.entering.photos import count_of_photos, find_photo, photos_of
from scoring.entering.releases import Release, releases_of
from scoring.errors import FaultyRecordsError
from scoring.files.route_reading import read_route
from scoring.intake import CheckedFleet
from scoring.store.load_records import Incoming
from scoring.store.schema import NOT_SEEN, RECORDS, SIGN_OFFS
from scoring.store.versions import Version, versions_of

LATELY = 50
"""How many signed walkdowns the page of walkdowns shows."""

FAULTS_SHOWN = 5
"""How many faults of a file are shown at once."""


@dataclass(frozen=True)
class EnteredOfUnit:
    """What was entered of one unit.

    Attributes
    ----------
    walkdowns : DataFrame
        One row each, the last first: walkdown_id, inspected_on, kind, inspector, version,
        signed_by, signed_at, verdict, holds, told, photos, not_seen (how many with a reason).
    drafts : tuple of Draft
        Begun and not signed.
    releases : tuple of Release
        Releases to start, the last first.
    """

    walkdowns: pd.DataFrame
    drafts: tuple[Draft, ...]
    releases: tuple[Release, ...]


def is_kept_in_store() -> bool:
    """Tell whether records can be entered."""
    return launch_settings.store() is not None


def entered_of_unit(unit_id: str) -> EnteredOfUnit | None:
    """Return what was entered of a unit; none where the pages show files."""
    store = launch_settings.store()
    if store is None:
        return None
    with store.reading() as connection:
        require_at(connection, unit_id)
        walkdowns = RECORDS["walkdowns"].c
        return EnteredOfUnit(
            _walkdowns(connection, _signed().where(walkdowns.unit_id == unit_id)),
            tuple(open_drafts(connection, unit_id)),
            tuple(releases_of(connection, unit_id)),
        )


def drafts_and_signed() -> tuple[list[Draft], pd.DataFrame]:
    """Return every walkdown that was begun and not signed, and those signed lately."""
    store = launch_settings.store()
    if store is None:
        return [], pd.DataFrame()
    query = _signed().where(SIGN_OFFS.c.signed_at.is_not(None))
    with store.reading() as connection:
        return open_drafts(connection), _walkdowns(
            connection, query.order_by(None).order_by(SIGN_OFFS.c.signed_at.desc()).limit(LATELY)
        )


def units_told_of(unit_ids: Sequence[str]) -> int | None:
    """Count the units, of some, at which a signed hold says who was told; none over files."""
    store = launch_settings.store()
    if store is None:
        return None
    walkdowns = RECORDS["walkdowns"]
    query = (
        select(walkdowns.c.unit_id)
        .join(SIGN_OFFS, SIGN_OFFS.c.walkdown_id == walkdowns.c.walkdown_id)
        .where(SIGN_OFFS.c.told != "", SIGN_OFFS.c.verdict == HOLD, is_seen(walkdowns.c.unit_id))
        .distinct()
    )
    with store.reading() as connection:
        told = set(connection.execute(query).scalars())
    return len(told & set(unit_ids))


def versions(walkdown_id: str) -> list[Version]:
    """Return the versions of a walkdown."""
    store = launch_settings.store()
    if store is None:
        return []
    walkdowns = RECORDS["walkdowns"].c
    with store.reading() as connection:
        of_it = select(walkdowns.unit_id).where(walkdowns.walkdown_id == walkdown_id)
        require_at(connection, str(connection.scalar(of_it)))
        return versions_of(connection, "walkdowns", walkdown_id)


def photos(walkdown_ids: Sequence[str]) -> list[tuple[str, str, bytes]]:
    """Return the photos of some walkdowns: walkdown, check, JPEG."""
    store = launch_settings.store()
    if store is None:
        return []
    with store.reading() as connection:
        return [
            (walkdown_id, photo["check"], find_photo(connection, photo["photo_id"]))
            for walkdown_id in walkdown_ids
            for photo in photos_of(connection, walkdown_id)
        ]


def take_back(name: str, found: bytes, person: str) -> list[str]:
    """Take what was filled in without a network into the store, all of a file or nothing.

    Parameters
    ----------
    name : str
        Name of the file.
    found : bytes
        What is in it.
    person : str
        Who takes it in; who is signed in does so in the own name.

    Returns
    -------
    list of str
        What was done, in words.

    Raises
    ------
    FixableError
        If the file is damaged, or a row of it is faulty.
    """
    store = launch_settings.store()
    if store is None:
        return []
    with TemporaryDirectory() as folder:
        path = Path(folder) / (Path(name).name or "route.json")
        path.write_bytes(found)
        route = read_route(path)
    forms = route.beside()
    incoming = Incoming({"walkdowns": route.table()}, name, {}, forms)
    loaded = load_with_filled_forms(
        store, incoming, forms, actor=who_asks().name or person, allow=_refuse_faults
    )
    put = loaded.puts["walkdowns"]
    rest = f"{put.changed} changed, {put.same} there already"
    said = (
        f"{name}: 1 walkdown added, {rest}"
        if put.added == 1
        else f"{name}: {put.added} walkdowns added, {rest}"
    )
    return [said, *route.notes]


def _refuse_faults(checked: CheckedFleet) -> None:
    if len(checked.faults):
        faults = checked.faults.head(FAULTS_SHOWN).itertuples(index=False)
        shown = "; ".join(
            f"row {fault.row}, {fault.column} {fault.value!r} {fault.wrong}" for fault in faults
        )
        raise FaultyRecordsError(f"{len(checked.faults)} faults, nothing was taken in: {shown}")


def _signed() -> Select[tuple[object, ...]]:
    walkdowns = RECORDS["walkdowns"]
    of_it = walkdowns.c.walkdown_id
    number_of_photos = count_of_photos(of_it)
    not_seen = select(func.count()).where(NOT_SEEN.c.walkdown_id == of_it).scalar_subquery()
    return (
        select(
            of_it,
            walkdowns.c.unit_id,
            walkdowns.c.inspected_on,
            walkdowns.c.kind,
            walkdowns.c.inspector,
            walkdowns.c.version,
            SIGN_OFFS.c.signed_by,
            SIGN_OFFS.c.signed_at,
            SIGN_OFFS.c.verdict,
            SIGN_OFFS.c.holds,
            SIGN_OFFS.c.told,
            number_of_photos.label("photos"),
            not_seen.label("not_seen"),
        )
        .join(
            SIGN_OFFS,
            (SIGN_OFFS.c.walkdown_id == of_it) & (SIGN_OFFS.c.version == walkdowns.c.version),
            isouter=True,
        )
        .where(~walkdowns.c.withdrawn, is_seen(walkdowns.c.unit_id))
        .order_by(walkdowns.c.inspected_on.desc())
    )


def _walkdowns(connection: Connection, query: Select[tuple[object, ...]]) -> pd.DataFrame:
    found = connection.execute(query)
    return pd.DataFrame([tuple(row) for row in found], columns=list(found.keys()))
