"""What kind of file is it really? Plain words where it is not the kind it should be."""

from codecs import getincrementaldecoder
from pathlib import Path

from scoring.errors import UnreadableFleetError

BETTER = (
    "In the spreadsheet choose 'save as' and either a workbook (.xlsx), which carries numbers "
    "and dates safely, or 'CSV UTF-8' with commas between the cells and a decimal point."
)
"""What to do about a CSV file that cannot be read."""

BYTE_ORDER_MARK = "\N{ZERO WIDTH NO-BREAK SPACE}".encode()
"""May begin a text in UTF-8, and says nothing."""

_AT_ONCE = 1 << 22

_MARKS = (
    (b"PK\x03\x04", "a workbook or another packed file"),
    (b"PAR1", "a Parquet file"),
    (b"\xd0\xcf\x11\xe0", "an old or a locked workbook"),
)


def read_bytes(path: Path, most: int | None = None) -> bytes:
    """Read a file, or its first bytes; one that cannot be opened is told without a traceback."""
    try:
        if most is None:
            return path.read_bytes()
        with path.open("rb") as file:
            return file.read(most)
    except OSError as error:
        raise UnreadableFleetError(
            f"{path} cannot be opened ({error.strerror or error}); is it open in another "
            "program, or may you not read it?"
        ) from None


def text_bytes(data: bytes, name: str) -> bytes:
    """Return the text of a CSV file in UTF-8, without its byte-order mark.

    Parameters
    ----------
    data : bytes
        The file, or its beginning.
    name : str
        The file as a person knows it.

    Raises
    ------
    UnreadableFleetError
        If it is empty, of another kind, or not in UTF-8.
    """
    for mark, kind in _MARKS:
        if data.startswith(mark):
            raise UnreadableFleetError(
                f"{name} is named as CSV but is {kind}; give it the ending of its kind, or save "
                f"it as CSV. {BETTER}"
            )
    # Every second byte of Latin text in UTF-16 is a NUL; a single one is a damaged file.
    if data.startswith((b"\xff\xfe", b"\xfe\xff")) or data[:200].count(0) * 3 > len(data[:200]):
        raise UnreadableFleetError(f"{name} is written in UTF-16, not in UTF-8. {BETTER}")
    _require_utf8(data, name)
    while data.startswith(BYTE_ORDER_MARK):  # some programs put one more before it
        data = data.removeprefix(BYTE_ORDER_MARK)
    if not (data[:_AT_ONCE].strip() or data.strip()):
        raise UnreadableFleetError(
            f"{name} is empty; it needs a line of headings (mount-risk template FOLDER makes one)"
        )
    if (place := data.find(0)) >= 0:
        line = data.count(b"\n", 0, place) + 1
        raise UnreadableFleetError(
            f"{name}, line {line}: holds a NUL byte, so the file is damaged; save it anew. {BETTER}"
        )
    return data


def _require_utf8(data: bytes, name: str) -> None:
    """Decode piece by piece, for the text of a large file need not stand in memory twice."""
    if data.isascii():
        return
    decoder = getincrementaldecoder("utf-8")()
    for start in range(0, len(data), _AT_ONCE):
        piece = data[start : start + _AT_ONCE]
        try:
            decoder.decode(piece, final=start + _AT_ONCE >= len(data))
        except UnicodeDecodeError as error:
            place = start + len(piece) - len(error.object) + error.start
            line = data.count(b"\n", 0, place) + 1
            found = data[place : place + 1].hex()
            raise UnreadableFleetError(
                f"{name}, line {line}: byte {found} is not UTF-8; the file is probably written in "
                f"ISO-8859-1 or Windows-1252. {BETTER}"
            ) from None
