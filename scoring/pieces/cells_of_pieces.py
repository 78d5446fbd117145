"""A column of cells by the way into pieces and out of them: each distinct text is kept once.

Where a column holds few of them, a piece keeps numbers of texts that all pieces of its file share;
so that neither writing nor checking looks at a text again for each row.
"""

import pyarrow as pa

MOST_SHARED = 2**15 - 1
"""So many texts are numbered in two bytes."""


def as_kept(column: pa.ChunkedArray, pieces: int) -> pa.Array:
    """Return a column as the pieces of its rows keep it.

    Parameters
    ----------
    column : pyarrow.ChunkedArray, shape (n_rows,)
        Text, encoded text or numbers.
    pieces : int
        Into how many its rows come: each reads all texts that they share.

    Returns
    -------
    pyarrow.Array, shape (n_rows,)
        Encoded text only where it has fewer texts than a piece has rows.
    """
    cells = in_one(column)
    if not pa.types.is_dictionary(cells.type):
        return cells
    if len(cells.dictionary) > min(len(cells) // pieces, MOST_SHARED):
        return cells.dictionary_decode()
    return pa.DictionaryArray.from_arrays(cells.indices.cast(pa.int16()), cells.dictionary)


def put_together(parts: list[pa.Array]) -> pa.Array:
    """Return cells of several files, one below the other.

    Examples
    --------
    >>> one, other = pa.array(["a", "b", "a"]).dictionary_encode(), pa.array(["b"])
    >>> put_together([one, other.dictionary_encode()]).to_pylist()
    ['a', 'b', 'a', 'b']
    >>> put_together([one, other]).to_pylist()
    ['a', 'b', 'a', 'b']
    """
    filled = [part for part in parts if len(part)]
    if not filled:
        return pa.array([], pa.string())
    if all(pa.types.is_dictionary(part.type) for part in filled):
        wide = [
            pa.DictionaryArray.from_arrays(p.indices.cast(pa.int32()), p.dictionary) for p in filled
        ]
        return in_one(pa.chunked_array(wide))
    plain = [p.dictionary_decode() if pa.types.is_dictionary(p.type) else p for p in filled]
    return pa.concat_arrays(plain)


def in_one(column: pa.ChunkedArray | pa.Array) -> pa.Array:
    """Return a column in one piece; encoded text has one numbering then."""
    if isinstance(column, pa.Array):
        return column
    if not column.num_chunks:
        return pa.array([], column.type)
    return pa.concat_arrays(column.unify_dictionaries().chunks)
