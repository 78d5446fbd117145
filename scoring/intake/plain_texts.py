"""What characters the texts of a column hold: told from its bytes at once, not text by text."""

from typing import Any

import numpy as np
import pyarrow as pa
from numpy.typing import NDArray


def bytes_of(texts: Any) -> NDArray[np.uint8]:  # noqa: ANN401 - pyarrow ships no types
    """Return the bytes of all texts of a column, one text after the other.

    Parameters
    ----------
    texts : pyarrow string or large string array, shape (n_rows,)
        Those that are missing have no bytes, or some that say nothing.

    Examples
    --------
    >>> bytes_of(pa.array(["no", "a", "b"]).slice(1)).tobytes()
    b'ab'
    """
    if not len(texts):
        return np.empty(0, dtype=np.uint8)
    width = np.int64 if pa.types.is_large_string(texts.type) else np.int32
    _, places, data = texts.buffers()
    ends = np.frombuffer(places, dtype=width)[texts.offset : texts.offset + len(texts) + 1]
    if data is None:
        return np.empty(0, dtype=np.uint8)
    return np.frombuffer(data, dtype=np.uint8)[ends[0] : ends[-1]]


def all_plain(texts: Any) -> bool:  # noqa: ANN401 - pyarrow ships no types
    r"""Tell whether every character of every text is one that a plain keyboard types.

    Parameters
    ----------
    texts : pyarrow string or large string array, in one piece or in chunks, shape (n_rows,)
        Texts of a column.

    Examples
    --------
    >>> [all_plain(pa.array([text])) for text in ("CH-1", "\u0421H-1", "CH\t1", "")]
    [True, False, False, True]
    """
    parts = texts.chunks if isinstance(texts, pa.ChunkedArray) else [texts]
    return all(
        bool(found.min() >= ord(" ") and found.max() <= ord("~"))
        for found in map(bytes_of, parts)
        if len(found)
    )


def holds_any(texts: Any, letters: bytes) -> bool:  # noqa: ANN401 - pyarrow ships no types
    """Tell whether any of some letters stands in any text.

    Examples
    --------
    >>> [holds_any(pa.array(["no", text]), b",;") for text in ("a,b", "ab")]
    [True, False]
    """
    found = bytes_of(texts).tobytes()
    return any(letter in found for letter in letters)
