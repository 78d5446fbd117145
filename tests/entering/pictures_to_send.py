"""Small pictures, and files that say they are pictures of any size, as bytes."""

import io
import struct
import zlib

from PIL import Image


def photo_of(form: str, width: int = 40, height: int = 30) -> bytes:
    """Make a small picture."""
    out = io.BytesIO()
    Image.new("RGB", (width, height), (9, 90, 200)).save(out, form)
    return out.getvalue()


def png_that_says(width: int, height: int, more: bytes = b"") -> bytes:
    """Make a small PNG that says it is huge."""
    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + _chunk(b"IHDR", header)
        + more
        + _chunk(b"IDAT", zlib.compress(b"\0" * 1000))
        + _chunk(b"IEND", b"")
    )


def png_with_text() -> bytes:
    packed = zlib.compress(b"a" * 100_000_000)
    return png_that_says(8, 8, _chunk(b"zTXt", b"Comment\0\0" + packed))


def _chunk(name: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def jpeg_that_says(width: int, height: int) -> bytes:
    good = photo_of("JPEG", 64, 48)
    at = good.index(b"\xff\xc0") + 5
    return good[:at] + struct.pack(">HH", height, width) + good[at + 4 :]


def jpeg_of_scans(count: int) -> bytes:
    """Make a progressive JPEG whose last scan is said again and again, each a pass over it all."""
    out = io.BytesIO()
    Image.new("RGB", (64, 48), "red").save(out, "JPEG", progressive=True)
    good = out.getvalue()
    last = good.rindex(b"\xff\xda")
    return good[:last] + good[last:-2] * count + good[-2:]


def tiff_that_says(width: int, height: int) -> bytes:
    good = bytearray(photo_of("TIFF"))
    for value, said in ((40, width), (30, height)):
        place = good.find(struct.pack("<HHI", 4, 1, value))
        if place > 0:
            good[place : place + 8] = struct.pack("<HHI", 4, 1, said)
    return bytes(good)


def webp_that_says() -> bytes:
    size = (16_383).to_bytes(3, "little")
    extended = b"VP8X" + struct.pack("<I", 10) + b"\0\0\0\0" + size + size
    return b"RIFF" + struct.pack("<I", 4 + len(extended)) + b"WEBP" + extended
