"""What letters the texts of a column begin with: told from its bytes at once."""

from typing import TYPE_CHECKING, Any

import numpy as np
import pyarrow as pa

from scoring.intake.plain_texts import bytes_of

if TYPE_CHECKING:
    import pandas as pd


def in_one_piece(column: "pd.Series[str]") -> Any:  # noqa: ANN401 - pyarrow ships no types
    """Return a column of text as one pyarrow array, which holds no copy where it need not."""
    texts = pa.array(column.array, pa.large_string())
    return texts.combine_chunks() if isinstance(texts, pa.ChunkedArray) else texts


def begins_with_any(texts: Any, letters: bytes) -> bool:  # noqa: ANN401
    """Tell whether any text begins with one of some letters.

    Parameters
    ----------
    texts : pyarrow large string array, shape (n_rows,)
        In one piece.
    letters : bytes
        Of one byte each.

    Examples
    --------
    >>> texts = pa.array(["", "-1", None, "a-"], pa.large_string())
    >>> begins_with_any(texts, b"=-"), begins_with_any(texts, b"1")
    (True, False)
    """
    ends = np.frombuffer(texts.buffers()[1], dtype=np.int64)[texts.offset :][: len(texts) + 1]
    filled = ends[:-1][ends[1:] > ends[:-1]] - ends[0]
    return bool(np.isin(bytes_of(texts)[filled], np.frombuffer(letters, dtype=np.uint8)).any())
