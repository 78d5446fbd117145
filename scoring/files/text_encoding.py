"""In which encoding a text file is written, and which mark stands between its cells."""

import codecs
import csv
from collections import Counter

from scoring.errors import UnreadableFleetError

MARKS = (",", ";", "\t", "|")
"""What may stand between cells."""

_LINES_LOOKED_AT = 200
_BOMS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)


def encoding_of(data: bytes) -> str:
    """Tell in which encoding a text is written.

    Examples
    --------
    >>> encoding_of("Öl".encode("utf-16")), encoding_of("Öl".encode("cp1252")), encoding_of(b"oil")
    ('utf-16', 'cp1252', 'utf-8')
    """
    for mark, name in _BOMS:
        if data.startswith(mark):
            return name
    head = data[:2000]
    if head and head.count(0) * 3 > len(head):
        return "utf-16-le" if head[1:2] == b"\x00" else "utf-16-be"
    try:
        data.decode("utf-8")
    except UnicodeDecodeError:
        return "cp1252"
    return "utf-8"


def text_of(data: bytes, encoding: str, name: str) -> str:
    """Return the text of a file, without its byte-order mark.

    Raises
    ------
    UnreadableFleetError
        If it is not written so.
    """
    try:
        text = data.decode(encoding)
    except (UnicodeDecodeError, LookupError) as error:
        raise UnreadableFleetError(
            f"{name} is not written in {encoding} ({error}); correct encoding in the plan, or save "
            "the file as UTF-8"
        ) from None
    return text.lstrip("\ufeff")


def delimiter_of(text: str) -> str:
    r"""Tell which mark stands between the cells of a text.

    Examples
    --------
    >>> delimiter_of("a;b\n1,5;2,5\n"), delimiter_of("a,b\n1,2\n"), delimiter_of("a\tb\n")
    (';', ',', '\t')
    """
    lines = [line for line in text[: 1 << 18].splitlines()[:_LINES_LOOKED_AT] if line.strip()]
    first = lines[0] if lines else ""
    if first.lower().startswith("sep=") and len(first) == 5:
        return first[4]
    best, most = ",", 0.0
    for mark in MARKS:
        try:
            widths = Counter(len(row) for row in csv.reader(lines, delimiter=mark))
        except csv.Error:
            continue
        width, count = max(widths.items(), key=lambda one: (one[0] > 1, one[1], one[0]))
        score = count * (width - 1) ** 0.5 if width > 1 else 0.0
        if score > most:
            best, most = mark, score
    return best
