"""Typed columns as text cells, so that they pass the same checks as a file of text."""

import pyarrow as pa
import pyarrow.compute as pc

from scoring.errors import UnreadableFleetError

LARGEST_EXACT = 1e15
"""Below this, a float holds every digit of a whole number, as spreadsheets count digits."""

_NO_TIME = r"[ T]00:00:00(\.0+)?$"


def arrow_as_text(column: pa.ChunkedArray, where: str) -> pa.Array:
    """Write a column as text: dates without a midnight, whole floats without a point.

    Parameters
    ----------
    column : pyarrow.ChunkedArray, shape (n_rows,)
        Text, numbers, dates or dictionaries of these.
    where : str
        What a message calls it.

    Returns
    -------
    pyarrow.Array
        Text, shape (n_rows,); empty where something is missing.

    Raises
    ------
    UnreadableFleetError
        If it is of a type that is no text, number or date.

    Examples
    --------
    >>> arrow_as_text(pa.chunked_array([[80.0, 23.8125, None]]), "shafts").to_pylist()
    ['80', '23.8125', '']
    """
    kind = column.type
    if pa.types.is_dictionary(kind):
        column, kind = column.cast(kind.value_type), kind.value_type
    # Periods and durations are kept as counts, of which a text would not say what is counted.
    readable = not (isinstance(kind, pa.BaseExtensionType) or pa.types.is_duration(kind))
    try:
        text = _cast(column) if readable else None
    except (pa.ArrowNotImplementedError, pa.ArrowInvalid):
        text = None
    if text is None:
        raise UnreadableFleetError(
            f"{where} is of type {kind}; text, numbers and dates can be read"
        )
    if pa.types.is_timestamp(kind):
        text = pc.replace_substring_regex(text, _NO_TIME, "")
    filled = pc.fill_null(text, "")
    chunks: list[pa.Array] = filled.chunks
    return pa.concat_arrays(chunks) if chunks else pa.array([], pa.string())


def arrow_as_encoded_text(column: pa.ChunkedArray, where: str) -> pa.Array:
    """Write a column as text, each distinct value once, and say which stands in each row.

    Parameters
    ----------
    column : pyarrow.ChunkedArray, shape (n_rows,)
        As for ``arrow_as_text``.
    where : str
        What a message calls it.

    Returns
    -------
    pyarrow.DictionaryArray
        Text, shape (n_rows,); empty where something is missing.

    Raises
    ------
    UnreadableFleetError
        If it is of a type that is no text, number or date.

    Examples
    --------
    >>> arrow_as_encoded_text(pa.chunked_array([[80.0, 23.8125, None, 80.0]]), "shafts").to_pylist()
    ['80', '23.8125', '', '80']
    """
    try:
        encoded = column.dictionary_encode(null_encoding="encode").combine_chunks()
    except (pa.ArrowNotImplementedError, pa.ArrowInvalid, TypeError):
        encoded = arrow_as_text(column, where).dictionary_encode()
    if isinstance(encoded, pa.ChunkedArray):  # of none
        return pa.array([], pa.string()).dictionary_encode()
    texts = arrow_as_text(pa.chunked_array([encoded.dictionary]), where)
    places = encoded.indices.cast(pa.int32())
    if places.null_count:
        places = pc.fill_null(places, len(texts))
        texts = pa.concat_arrays([texts, pa.array([""])])
    return pa.DictionaryArray.from_arrays(places, texts)


def _cast(column: pa.ChunkedArray) -> pa.ChunkedArray:
    return (
        _floats_as_text(column) if pa.types.is_floating(column.type) else column.cast(pa.string())
    )


def _floats_as_text(column: pa.ChunkedArray) -> pa.ChunkedArray:
    """Write floats as a person would: a missing one empty, a whole one with all its digits."""
    column = pc.if_else(pc.is_nan(column), None, column)
    as_float = column.cast(pa.float64())
    whole = pc.and_(
        pc.equal(as_float, pc.floor(as_float)), pc.less(pc.abs(as_float), LARGEST_EXACT)
    )
    digits = pc.if_else(whole, as_float, 0.0).cast(pa.int64()).cast(pa.string())
    return pc.if_else(whole, digits, column.cast(pa.string()))
