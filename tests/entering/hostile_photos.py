"""Files that are no photos, or too much of one."""

from collections.abc import Iterator

from hostile_requests import API, Hostile, Target, request
from pictures_to_send import (
    jpeg_of_scans,
    jpeg_that_says,
    photo_of,
    png_that_says,
    png_with_text,
    tiff_that_says,
    webp_that_says,
)


def photos(at: Target) -> Iterator[Hostile]:
    """Send files that are no photos, or too much of one."""
    path = f"{API}/{at.draft_id}/photos/guard?by=Ben"
    for name, body in bad_photos().items():
        yield Hostile("photos", name, request("POST", path, {"Host": at.host}, body))
    good = photo_of("JPEG")
    for name, where in (
        ("of no check", f"{API}/{at.draft_id}/photos/nonsense?by=Ben"),
        ("of nobody", f"{API}/{at.draft_id}/photos/guard"),
        ("of no draft", f"{API}/nonsense/photos/guard?by=Ben"),
    ):
        yield Hostile("photos", name, request("POST", where, {"Host": at.host}, good))


def bad_photos() -> dict[str, bytes]:
    """Return files that are no photos, or too much of one, by name."""
    return {
        "SVG": b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>",
        "SVG of entities": b"<!DOCTYPE s [<!ENTITY a 'aa'>]><svg>&a;</svg>",
        "HTML": b"<html><script>alert(1)</script>",
        "GIF": photo_of("GIF"),
        "GIF that says it is huge": b"GIF89a\xff\xff\xff\xff" + photo_of("GIF")[10:],
        "TIFF": photo_of("TIFF"),
        "TIFF that says it is huge": tiff_that_says(60_000, 60_000),
        "BMP": photo_of("BMP"),
        "EPS": b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n(%pipe%id) (w) file\n",
        "PDF": b"%PDF-1.4\n" + b"x" * 1_000,
        "ZIP": b"PK\x03\x04" + b"\0" * 1_000,
        "PNG of 64 million pixels": png_that_says(8_000, 8_000),
        "PNG of 3,600 million pixels": png_that_says(60_000, 60_000),
        "PNG of no pixels": png_that_says(0, 0),
        "PNG of text that unpacks to 100 MB": png_with_text(),
        "PNG cut": photo_of("PNG", 300, 300)[:-40],
        "JPEG that says it is huge": jpeg_that_says(65_000, 65_000),
        "JPEG of 5,000 scans": jpeg_of_scans(5_000),
        "JPEG cut": photo_of("JPEG", 300, 300)[:-500],
        "JPEG of zeros": b"\xff\xd8\xff\xe0" + b"\0" * 5_000,
        "WebP that says it is huge": webp_that_says(),
        "WebP cut": photo_of("WEBP", 300, 300)[:-20],
        "JPEG in name, a script inside": b"\xff\xd8\xff/*" + b"*/=alert(1)//",
        "nothing": b"",
        "16 MB": b"\xff\xd8\xff" + b"\0" * 16_000_000,
        "25 MB": b"\xff\xd8\xff" + b"\0" * 25_000_000,
    }
