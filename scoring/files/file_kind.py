"""What kind of file is it really? Plain words where it is not the kind it should be."""

from pathlib import Path

from scoring.errors import UnreadableFleetError

BETTER = (
    "In the spreadsheet choose 'save as' and either a workbook (.xlsx), which carries numbers "
    "and dates safely, or 'CSV UTF-8' with commas between the cells and a decimal point."
)
"""What to do about a CSV file that cannot be read."""

BYTE_ORDER_MARK = "\N{ZERO WIDTH NO-BREAK SPACE}"
"""May begin a text in UTF-8, and says nothing."""

_MARKS = (
    (b"PK\x03\x04", "a workbook or another packed file"),
    (b"PAR1", "a Parquet file"),
    (b"\xd0\xcf\x11\xe0", "an old or a locked workbook"),
)


def read_bytes(path: Path) -> bytes:
    """Read a file; one that cannot be opened is reported without a traceback."""
    try:
        return path.read_bytes()
    except OSError as error:
        raise UnreadableFleetError(
            f"{path} cannot be opened ({error.strerror or error}); is it open in another "
            "program, or may you not read it?"
        ) from None


def decode(data: bytes, name: str) -> str:
    """Return the text of a CSV file, without its byte-order mark.

    Parameters
    ----------
    data : bytes
        The file.
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
    try:
        text = data.decode().lstrip(BYTE_ORDER_MARK)  # some programs put one more before it
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        found = data[error.start : error.start + 1].hex()
        raise UnreadableFleetError(
            f"{name}, line {line}: byte {found} is not UTF-8; the file is probably written in "
            f"ISO-8859-1 or Windows-1252. {BETTER}"
        ) from None
    if not text.strip():
        raise UnreadableFleetError(
            f"{name} is empty; it needs a line of headings (mount-risk template FOLDER makes one)"
        )
    if "\x00" in text:
        line = text.count("\n", 0, text.index("\x00")) + 1
        raise UnreadableFleetError(
            f"{name}, line {line}: holds a NUL byte, so the file is damaged; save it anew. {BETTER}"
        )
    return text
