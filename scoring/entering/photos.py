"""Photos: checked, re-encoded, and kept with the check they show."""

import hashlib
import io
import secrets
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

from PIL import Image, ImageOps, UnidentifiedImageError
from sqlalchemy import (
    ColumnElement,
    Connection,
    ScalarSelect,
    delete,
    func,
    insert,
    or_,
    select,
    update,
)

from scoring.access.acts import Act
from scoring.access.allowed import require_at, require_own, require_written
from scoring.contract import CHECK_BY_NAME
from scoring.entering.drafts import DISCARDED, SUBMITTED, Draft
from scoring.entering.refusals import Fault, RefusedError, TooManyPhotosError
from scoring.errors import FixableError
from scoring.store.schema import DRAFTS, PHOTOS, RECORDS
from scoring.store.store_errors import UnknownRecordError
from scoring.store.writing import Change, Writing

LARGEST_FILE = 15_000_000
"""Planning value of ours. [bytes]"""

LARGEST_PICTURE = 60_000_000
"""Planning value of ours; more would fill the memory. [pixels]"""

LONGEST_SIDE = 1600
"""Photos are made no larger than this; planning value of ours. [pixels]"""

MOST_SCANS = 100
"""Of a JPEG, each a pass over the whole picture; a camera makes one, or some ten. Ours."""

WAIT_FOR_A_TURN_S = 60
"""How long a photo waits for those before it; planning value of ours. [s]"""

_ONE_AT_A_TIME = ThreadPoolExecutor(1)
"""Unpacked, a photo takes far more memory than as a file: no two are unpacked at the same time.

One thread does it, and no other, for each thread keeps memory of its own for the next time.
"""

_BEGIN_OF_A_SCAN = b"\xff\xda"
_MADE_SMALL_AS_THEY_ARE = ("RGB", "L", "CMYK")

FORMATS = ("JPEG", "PNG", "WEBP")
DAMAGED = (
    UnidentifiedImageError,
    OSError,
    ValueError,
    TypeError,
    SyntaxError,
    LookupError,
    EOFError,
)
"""What reading a damaged picture may end in."""

QUALITY = 82


@dataclass(frozen=True)
class EncodedPhoto:
    """A photo as it is kept.

    Attributes
    ----------
    jpeg : bytes
        Nothing but the picture.
    width, height : int
        [pixels]
    digest : str
        Names its content.
    """

    jpeg: bytes
    width: int
    height: int
    digest: str


def encode_photo(found: bytes) -> EncodedPhoto:
    """Make a photo anew, so that nothing but the picture is left of the file.

    Parameters
    ----------
    found : bytes
        A JPEG, PNG or WebP file of at most 15 MB.

    Returns
    -------
    EncodedPhoto
        Upright, at most 1600 pixels a side, without place, time or camera.

    Raises
    ------
    FixableError
        If it is no such file, or too large.
    TooManyPhotosError
        If too many others are before it.
    """
    if len(found) > LARGEST_FILE:
        raise FixableError(
            f"the photo has {len(found) / 1e6:.0f} MB; send one of at most "
            f"{LARGEST_FILE / 1e6:.0f} MB"
        )
    if found.count(_BEGIN_OF_A_SCAN) > MOST_SCANS:
        raise FixableError("the file is no photo of a camera; take it anew")
    waiting = _ONE_AT_A_TIME.submit(_jpeg_of, found)
    try:
        return waiting.result(WAIT_FOR_A_TURN_S)
    except TimeoutError:
        waiting.cancel()
        raise TooManyPhotosError(
            "too many photos are sent at once; this one was not kept, send it again"
        ) from None
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise FixableError("the photo has far too many pixels; take it smaller") from error
    except DAMAGED as error:
        raise FixableError("the file is no whole photo; send a JPEG, PNG or WebP") from error


def _jpeg_of(found: bytes) -> EncodedPhoto:
    clean = _made_small(found)
    out = io.BytesIO()
    clean.save(out, "JPEG", quality=QUALITY, optimize=True)
    jpeg = out.getvalue()
    return EncodedPhoto(jpeg, clean.width, clean.height, hashlib.sha256(jpeg).hexdigest())


def _made_small(found: bytes) -> Image.Image:
    """Unpack a photo, and return nothing but its pixels, upright and made small.

    Its header is looked at first. It is made small before anything else is done with it, so that
    it lies in the memory once, or twice where its colours are of another kind.
    """
    with Image.open(io.BytesIO(found), formats=FORMATS) as picture:
        if picture.width * picture.height > LARGEST_PICTURE:
            raise FixableError(
                f"the photo has {picture.width} × {picture.height} pixels; take it smaller"
            )
        picture.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))  # JPEG: no more than is needed
        plain = picture if picture.mode in _MADE_SMALL_AS_THEY_ARE else picture.convert("RGB")
        plain.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
        upright = _upright(plain).convert("RGB")
    clean = Image.new("RGB", upright.size)
    clean.paste(upright)
    return clean


ON_PAPER = 700
"""Pixels of a photo on a sheet, where it is 56 mm wide: some 300 to an inch; ours."""


def smaller_photo(jpeg: bytes, longest_side: int = ON_PAPER) -> bytes:
    """Return a photo that was kept, made smaller for a sheet.

    Parameters
    ----------
    jpeg : bytes
        As ``encode_photo`` made it.
    longest_side : int
        [pixels]

    Returns
    -------
    bytes
        A JPEG; the same one where it is small already.
    """
    with Image.open(io.BytesIO(jpeg), formats=("JPEG",)) as picture:
        if max(picture.size) <= longest_side:
            return jpeg
        picture.thumbnail((longest_side, longest_side))
        out = io.BytesIO()
        picture.save(out, "JPEG", quality=QUALITY, optimize=True)
    return out.getvalue()


def _upright(picture: Image.Image) -> Image.Image:
    try:
        return ImageOps.exif_transpose(picture)
    except DAMAGED:  # what the camera noted; the picture itself may be whole
        return picture


def keep_photo(  # noqa: PLR0913 - a photo is of one check of one walkdown
    writing: Writing,
    walkdown_id: str,
    check: str,
    photo: EncodedPhoto,
    *,
    draft_id: str | None = None,
    unit_id: str | None = None,
) -> str:
    """Keep a photo; the same photo of the same check is kept once.

    Returns
    -------
    str
        Its name.

    Raises
    ------
    FixableError
        If there is no such check.
    """
    require_written(writing, Act.WALK, unit_id)
    if check not in CHECK_BY_NAME:
        raise FixableError(f"there is no check {check!r}")
    there = writing.connection.execute(
        select(PHOTOS.c.photo_id, DRAFTS.c.status)
        .join(DRAFTS, DRAFTS.c.draft_id == PHOTOS.c.draft_id, isouter=True)
        .where(
            PHOTOS.c.walkdown_id == walkdown_id,
            PHOTOS.c.check == check,
            PHOTOS.c.digest == photo.digest,
        )
    ).one_or_none()
    if there is not None:
        if there.status == DISCARDED:  # it would be seen nowhere
            _take_over(writing, there.photo_id, draft_id, unit_id)
        return str(there.photo_id)
    photo_id = secrets.token_urlsafe(12)
    said = {
        "photo_id": photo_id,
        "draft_id": draft_id,
        "walkdown_id": walkdown_id,
        "check": check,
        "taken_by": writing.actor,
        "at": writing.at,
        "width": photo.width,
        "height": photo.height,
        "digest": photo.digest,
    }
    writing.connection.execute(insert(PHOTOS).values(**said, jpeg=photo.jpeg))
    writing.note([Change("photos", photo_id, "added", after=said, unit_id=unit_id)])
    return photo_id


def _take_over(writing: Writing, photo_id: str, draft_id: str | None, unit_id: str | None) -> None:
    writing.connection.execute(
        update(PHOTOS).where(PHOTOS.c.photo_id == photo_id).values(draft_id=draft_id)
    )
    writing.note(
        [Change("photos", photo_id, "taken again", after={"draft_id": draft_id}, unit_id=unit_id)]
    )


def remove_photo(writing: Writing, draft: Draft, photo_id: str) -> None:
    """Take a photo out of a draft; the history says that it was there.

    Raises
    ------
    RefusedError
        If it is of the walkdown that the draft corrects, or of another one.
    """
    require_written(writing, Act.WALK, draft.unit_id)
    photo = writing.connection.execute(
        select(PHOTOS.c.draft_id, PHOTOS.c.check, PHOTOS.c.digest).where(
            PHOTOS.c.photo_id == photo_id
        )
    ).one_or_none()
    if photo is None:
        return
    if photo.draft_id != draft.draft_id:
        raise RefusedError(
            (Fault(photo.check, "this photo belongs to what was signed already; it stays"),)
        )
    writing.connection.execute(delete(PHOTOS).where(PHOTOS.c.photo_id == photo_id))
    before = {"draft_id": draft.draft_id, "check": photo.check, "digest": photo.digest}
    writing.note([Change("photos", photo_id, "removed", before=before, unit_id=draft.unit_id)])


def photos_of(
    connection: Connection, walkdown_id: str, draft_id: str | None = None
) -> list[dict[str, str]]:
    """Return name and check of the photos of a walkdown, in the order they were taken.

    Parameters
    ----------
    connection : Connection
        In a transaction.
    walkdown_id : str
        The walkdown.
    draft_id : str, optional
        With those of this draft; by default only what was submitted or loaded.

    Returns
    -------
    list of dict
    """
    kept = or_(_submitted(), PHOTOS.c.draft_id == draft_id)
    rows = connection.execute(
        select(PHOTOS.c.photo_id, PHOTOS.c.check)
        .join(DRAFTS, DRAFTS.c.draft_id == PHOTOS.c.draft_id, isouter=True)
        .where(PHOTOS.c.walkdown_id == walkdown_id, kept)
        .order_by(PHOTOS.c.at, PHOTOS.c.photo_id)
    )
    return [{"photo_id": row.photo_id, "check": row.check} for row in rows]


def count_of_photos(walkdown_id: ColumnElement[str]) -> ScalarSelect[int]:
    """Return how many photos were submitted with each walkdown, as a part of a question."""
    return (
        select(func.count())
        .select_from(PHOTOS)
        .join(DRAFTS, DRAFTS.c.draft_id == PHOTOS.c.draft_id, isouter=True)
        .where(PHOTOS.c.walkdown_id == walkdown_id, _submitted())
        .scalar_subquery()
    )


def _submitted() -> ColumnElement[bool]:
    return or_(PHOTOS.c.draft_id.is_(None), DRAFTS.c.status == SUBMITTED)


def find_photo(connection: Connection, photo_id: str) -> bytes:
    """Return a photo as the bytes of a JPEG file.

    Raises
    ------
    UnknownRecordError
        If there is none of that name, or it is of a unit at a site of others.
    NotAllowedError
        If it is in a walkdown that somebody else is still entering.
    """
    walkdowns = RECORDS["walkdowns"].c
    found = connection.execute(
        select(
            PHOTOS.c.jpeg,
            DRAFTS.c.status,
            DRAFTS.c.started_by,
            func.coalesce(walkdowns.unit_id, DRAFTS.c.unit_id).label("unit_id"),
        )
        .join(DRAFTS, DRAFTS.c.draft_id == PHOTOS.c.draft_id, isouter=True)
        .join(RECORDS["walkdowns"], walkdowns.walkdown_id == PHOTOS.c.walkdown_id, isouter=True)
        .where(PHOTOS.c.photo_id == photo_id)
    ).one_or_none()
    unknown = "there is no such photo"
    if found is None:
        raise UnknownRecordError(unknown)
    asker = require_at(connection, found.unit_id, unknown=unknown)
    if found.status not in {None, SUBMITTED}:
        require_own(asker, found.started_by, "this photo")
    return bytes(found.jpeg)
