"""Photos: nothing but the picture is kept, and what is no photo is refused in words."""

import io
import struct
import threading
import zlib
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress

import numpy as np
import pytest
from at_the_machine import answer_visit, begin
from pictures_to_send import jpeg_of_scans
from PIL import Image, PngImagePlugin
from sqlalchemy import select

from scoring.entering import photos
from scoring.entering.drafts import discard_draft, find_draft
from scoring.entering.photos import (
    LARGEST_FILE,
    LONGEST_SIDE,
    encode_photo,
    find_photo,
    keep_photo,
    photos_of,
    remove_photo,
)
from scoring.entering.refusals import RefusedError, TooManyPhotosError
from scoring.entering.start_correction import start_correction
from scoring.entering.submit_draft import submit_draft
from scoring.errors import FixableError
from scoring.store.schema import HISTORY
from scoring.store.store_errors import UnknownRecordError

PLACE = "N 47 Hidden Place"


def picture(width=64, height=48, mode="RGB"):
    """Make a picture whose upper left corner is red and whose rest is blue."""
    made = Image.new("RGB", (width, height), (0, 0, 255))
    made.paste((255, 0, 0), (0, 0, width // 2, height // 2))
    return made.convert(mode)


def file_of(made, form, **options):
    out = io.BytesIO()
    made.save(out, form, **options)
    return out.getvalue()


def exif(orientation=1):
    data = Image.Exif()
    data[0x0112] = orientation
    data[0x010E] = PLACE  # description
    data[0x0110] = PLACE  # camera
    data.get_ifd(0x8825)[29] = "2026:01:01"  # day of the position
    data.get_ifd(0x8825)[1] = "N"
    return data


def with_all_that_cameras_add(form):
    if form == "PNG":
        text = PngImagePlugin.PngInfo()
        text.add_text("Comment", PLACE)
        text.add_itxt("XML:com.adobe.xmp", PLACE)
        return file_of(picture(), form, pnginfo=text, exif=exif())
    more = {"comment": PLACE.encode()} if form == "JPEG" else {}
    return file_of(picture(), form, exif=exif(), xmp=PLACE.encode(), icc_profile=b"icc", **more)


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_nothing_but_the_picture_is_left_of_a_file(form):
    found = with_all_that_cameras_add(form)
    assert b"Hidden" in found
    kept = encode_photo(found)
    assert kept.jpeg.startswith(b"\xff\xd8\xff")
    assert b"Hidden" not in kept.jpeg
    segments = list(_segments(kept.jpeg))
    assert {0xE1, 0xE2, 0xED, 0xFE}.isdisjoint(segments), "EXIF, XMP, ICC, IPTC, comment"
    again = Image.open(io.BytesIO(kept.jpeg))
    assert again.size == (kept.width, kept.height) == (64, 48)
    assert not again.getexif()
    assert set(again.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}


@pytest.mark.parametrize(
    ("orientation", "corner", "size"),
    [
        (1, (0, 0), (64, 48)),
        (2, (1, 0), (64, 48)),
        (3, (1, 1), (64, 48)),
        (4, (0, 1), (64, 48)),
        (5, (0, 0), (48, 64)),
        (6, (1, 0), (48, 64)),
        (7, (1, 1), (48, 64)),
        (8, (0, 1), (48, 64)),
    ],
)
def test_a_photo_is_turned_upright(orientation, corner, size):
    kept = encode_photo(file_of(picture(), "JPEG", exif=exif(orientation)))
    again = Image.open(io.BytesIO(kept.jpeg))
    assert again.size == size
    x, y = (3 + corner[0] * (size[0] - 7), 3 + corner[1] * (size[1] - 7))
    red, _, blue = again.getpixel((x, y))
    assert red > 200
    assert blue < 60


@pytest.mark.parametrize("mode", ["L", "LA", "P", "RGBA", "1", "I;16", "CMYK"])
def test_a_photo_in_any_colours_is_kept(mode):
    form = "JPEG" if mode == "CMYK" else "PNG"
    made = picture().convert("I").convert(mode) if mode == "I;16" else picture(mode=mode)
    assert encode_photo(file_of(made, form)).jpeg.startswith(b"\xff\xd8\xff")


def test_a_large_photo_is_made_small_enough_and_keeps_its_shape():
    kept = encode_photo(file_of(picture(4000, 3000), "JPEG"))
    assert (kept.width, kept.height) == (LONGEST_SIDE, LONGEST_SIDE * 3 // 4)
    small = encode_photo(file_of(picture(20, 10), "JPEG"))
    assert (small.width, small.height) == (20, 10)


def png_that_says(width, height):
    """Make a small file that says it is huge."""
    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    parts = ((b"IHDR", header), (b"IDAT", zlib.compress(b"\0" * 1000)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
        for name, data in parts
    )


@pytest.mark.parametrize("size", [(8000, 8000), (10000, 10000), (20000, 20000), (60000, 60000)])
def test_a_photo_that_would_fill_the_memory_is_refused(size):
    with pytest.raises(FixableError, match="take it smaller"):
        encode_photo(png_that_says(*size))


@pytest.mark.parametrize(
    "found",
    [
        b"",
        b"not a photo at all",
        b"<svg xmlns='http://www.w3.org/2000/svg'/>",
        file_of(picture(), "GIF"),
        file_of(picture(), "TIFF"),
        file_of(picture(), "BMP"),
        file_of(picture(200, 200), "JPEG")[:-400],
        file_of(picture(200, 200), "PNG")[:-40],
        file_of(picture(200, 200), "WEBP")[:-20],
        b"\xff\xd8\xff",
        b"\xff\xd8\xff\xe0" + b"\0" * 100,
        b"%PDF-1.4",
        b"PK\x03\x04",
    ],
    ids=["empty", "text", "SVG", "GIF", "TIFF", "BMP", "JPEG cut", "PNG cut", "WebP cut",
         "start alone", "zeros", "PDF", "ZIP"],
)  # fmt: skip
def test_what_is_no_whole_photo_is_refused(found):
    with pytest.raises(FixableError, match="no whole photo; send a JPEG, PNG or WebP"):
        encode_photo(found)


def test_a_file_that_is_too_large_is_refused():
    with pytest.raises(FixableError, match="at most 15 MB"):
        encode_photo(b"\xff\xd8\xff" + b"\0" * LARGEST_FILE)


def test_a_photo_of_endless_scans_is_refused_before_it_is_unpacked():
    with pytest.raises(FixableError, match="no photo of a camera"):
        encode_photo(jpeg_of_scans(5_000))
    assert encode_photo(jpeg_of_scans(1)).width == 64


def test_no_two_photos_are_unpacked_at_the_same_time(monkeypatch):
    at_once, most, made_small = [], [], photos._made_small  # noqa: SLF001

    def watched(found):
        at_once.append(1)
        most.append(len(at_once))
        try:
            return made_small(found)
        finally:
            at_once.pop()

    monkeypatch.setattr(photos, "_made_small", watched)
    found = file_of(picture(800, 600), "PNG")
    with ThreadPoolExecutor(8) as many:
        kept = list(many.map(encode_photo, [found] * 16))
    assert len(kept) == len(most) == 16
    assert max(most) == 1


def test_a_photo_that_waits_too_long_is_told_to_come_again(monkeypatch):
    goes_on = threading.Event()
    made_small = photos._made_small  # noqa: SLF001

    def slow(found):
        goes_on.wait()
        return made_small(found)

    monkeypatch.setattr(photos, "_made_small", slow)
    monkeypatch.setattr(photos, "WAIT_FOR_A_TURN_S", 0.1)
    with pytest.raises(TooManyPhotosError, match="send it again"):
        encode_photo(file_of(picture(), "PNG"))
    goes_on.set()
    monkeypatch.setattr(photos, "WAIT_FOR_A_TURN_S", 60)
    assert encode_photo(file_of(picture(), "PNG")).width == 64


@pytest.mark.filterwarnings("ignore::UserWarning")  # Pillow says what it skips in damaged EXIF
@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_a_damaged_file_is_kept_or_refused_and_never_a_breakdown(form):
    """Flip bytes at random places; what is refused is refused in words."""
    found, dice = with_all_that_cameras_add(form), np.random.default_rng(7)
    kept = 0
    for _ in range(150):
        damaged = np.frombuffer(found, np.uint8).copy()
        damaged[dice.integers(len(damaged), size=4)] = dice.integers(256, size=4)
        with suppress(FixableError):
            assert b"Hidden" not in encode_photo(damaged.tobytes()).jpeg
            kept += 1
    assert kept < 150


@pytest.mark.filterwarnings("ignore::UserWarning")
def test_a_whole_picture_with_damaged_notes_of_the_camera_is_kept():
    found = file_of(picture(), "JPEG", exif=b"Exif\0\0MM\0*\0\0\0\x08\0\x09" + b"\xff" * 40)
    assert encode_photo(found).width == 64


def take(store, draft_id, check="guard", made=None):
    photo = encode_photo(file_of(made or picture(), "JPEG"))
    with store.writing("Ben Meier") as writing:
        draft = find_draft(writing.connection, draft_id)
        return keep_photo(
            writing, draft.walkdown_id, check, photo, draft_id=draft_id, unit_id=draft.unit_id
        )


def shown(store, draft_id, *, in_form):
    with store.reading() as connection:
        draft = find_draft(connection, draft_id)
        of = photos_of(connection, draft.walkdown_id, draft_id if in_form else None)
    return [photo["photo_id"] for photo in of]


def drop(store, draft_id, photo_id):
    with store.writing("Ben Meier") as writing:
        remove_photo(writing, find_draft(writing.connection, draft_id), photo_id)


def test_a_photo_is_kept_as_it_was_encoded_and_the_same_one_once(store, unit):
    draft_id = begin(store, unit)
    photo_id = take(store, draft_id)
    assert take(store, draft_id) == photo_id
    assert take(store, draft_id, "breather") != photo_id
    assert take(store, draft_id, made=picture(40, 40)) != photo_id
    assert len(shown(store, draft_id, in_form=True)) == 3
    with store.reading() as connection:
        kept = find_photo(connection, photo_id)
    assert kept == encode_photo(file_of(picture(), "JPEG")).jpeg


def test_a_photo_that_was_removed_is_gone_and_the_history_says_so(store, unit):
    draft_id = begin(store, unit)
    photo_id = take(store, draft_id)
    drop(store, draft_id, photo_id)
    drop(store, draft_id, photo_id)
    with store.reading() as connection:
        with pytest.raises(UnknownRecordError, match="no such photo"):
            find_photo(connection, photo_id)
        query = select(HISTORY.c.change).where(
            HISTORY.c.about == "photos", HISTORY.c.key == photo_id
        )
        assert connection.scalars(query).all() == ["added", "removed"]


def test_a_photo_of_what_is_no_check_is_refused(store, unit):
    with pytest.raises(FixableError, match="there is no check 'nonsense'"):
        take(store, begin(store, unit), "nonsense")


def test_a_photo_belongs_to_the_walkdown_only_once_that_is_signed(store, unit):
    draft_id = begin(store, unit)
    answer_visit(store, draft_id)
    first = take(store, draft_id)
    assert shown(store, draft_id, in_form=False) == []
    done = submit_draft(store, draft_id, signed_by="Ben Meier", told="Foreman")
    assert shown(store, draft_id, in_form=False) == [first]
    with store.writing("Cleo Roth") as writing:
        correction = start_correction(writing, done.walkdown_id)
    second = take(store, correction, made=picture(40, 40))
    assert shown(store, correction, in_form=True) == [first, second]
    assert shown(store, correction, in_form=False) == [first]
    with pytest.raises(RefusedError, match="signed already; it stays"):
        drop(store, correction, first)
    with store.writing("Cleo Roth") as writing:
        discard_draft(writing, correction)
    assert shown(store, correction, in_form=False) == [first]
    with store.writing("Cleo Roth") as writing:
        other = start_correction(writing, done.walkdown_id)
    assert take(store, other, made=picture(40, 40)) == second
    assert shown(store, other, in_form=True) == [first, second]


def _segments(jpeg):
    place = 2
    while jpeg[place] == 0xFF and jpeg[place + 1] != 0xDA:
        yield jpeg[place + 1]
        place += 2 + int.from_bytes(jpeg[place + 2 : place + 4], "big")
