"""A caller's frames as tables of text cells, so that they pass the same checks as files."""

import datetime as dt
from collections.abc import Mapping
from decimal import Decimal

import numpy as np
import pandas as pd
import pyarrow as pa

from scoring.contract import TABLE_BY_NAME
from scoring.errors import FixableError, UnreadableFleetError
from scoring.files.arrow_as_text import arrow_as_text
from scoring.intake import RawTable

FIRST_ROW = 2
"""Row that intake gives the first record, as in a file whose first row holds the headings."""


def frames_as_text(frames: Mapping[str, object]) -> dict[str, RawTable]:
    """Write frames as tables of text cells; they stay as they are.

    Parameters
    ----------
    frames : mapping of str to DataFrame or None
        By table of the contract; one that is None is left out.

    Returns
    -------
    dict of str to RawTable

    Raises
    ------
    FixableError
        If something is no DataFrame.
    UnreadableFleetError
        If a column holds something else than text, numbers and dates.

    Examples
    --------
    >>> frame = pd.DataFrame({"unit_id": ["A-1"], "shaft_diameter_mm": [80.0]})
    >>> frames_as_text({"units": frame})["units"].column("shaft_diameter_mm")
    ['80']
    """
    return {name: frame_as_text(frame, name) for name, frame in frames.items() if frame is not None}


def frame_as_text(frame: object, name: str) -> RawTable:
    """Write one frame as a table of text cells; as ``frames_as_text``."""
    if not isinstance(frame, pd.DataFrame):
        raise FixableError(
            f"{name} is a {type(frame).__name__}; right is a pandas DataFrame with a row for each "
            "record, or None"
        )
    _refuse_key_in_index(frame, name)
    headings = tuple(str(heading).strip() for heading in frame.columns)
    cells = tuple(
        _cells(frame.iloc[:, place], f"{called(name)}, column {heading}")
        for place, heading in enumerate(headings)
    )
    rows = np.arange(FIRST_ROW, len(frame) + FIRST_ROW, dtype=np.int64)
    return RawTable(name, (called(name),), headings, cells, rows)


def called(name: str) -> str:
    """Return what messages call the frame of a table."""
    return f"the DataFrame {name}"


def _refuse_key_in_index(frame: pd.DataFrame, name: str) -> None:
    """Refuse a frame whose index is a column of the contract, which would be lost unseen."""
    columns = TABLE_BY_NAME[name].column_by_name if name in TABLE_BY_NAME else {}
    in_index = [str(one) for one in frame.index.names if one in columns and one not in frame]
    if in_index:
        raise UnreadableFleetError(
            f"{called(name)} has {' and '.join(in_index)} as its index, not as a column; "
            f"give {name}.reset_index()"
        )


def _cells(column: "pd.Series[str]", where: str) -> pa.Array:
    if column.dtype == object:
        return _objects_as_text(column, where)
    if isinstance(column.dtype, pd.CategoricalDtype) and column.cat.categories.dtype == object:
        return _objects_as_text(column.astype(object), where)
    try:
        found = pa.Array.from_pandas(column)
    except (pa.ArrowException, TypeError, ValueError):
        raise UnreadableFleetError(
            f"{where} is of type {column.dtype}; text, numbers and dates can be read"
        ) from None
    chunks = found if isinstance(found, pa.ChunkedArray) else pa.chunked_array([found])
    return arrow_as_text(chunks, where)


def _objects_as_text(column: "pd.Series[str]", where: str) -> pa.Array:
    """Write cell by cell what may be of any type; numbers, which take longest, all at once."""
    texts = np.full(len(column), "", dtype=object)
    values = column.to_numpy(dtype=object)
    filled = np.flatnonzero(column.notna().to_numpy())
    fractions = [place for place in filled if isinstance(values[place], float | np.floating)]
    numbers = pa.array([float(values[place]) for place in fractions], pa.float64())
    texts[fractions] = arrow_as_text(pa.chunked_array([numbers]), where).to_pylist()
    for place in np.setdiff1d(filled, fractions):
        text = _text(values[place])
        if text is None:
            label, kind = column.index.tolist()[place], type(values[place]).__name__
            raise UnreadableFleetError(
                f"{where}: at index label {label!r} stands a {kind}; text, numbers and dates can "
                "be read"
            )
        texts[place] = text
    return pa.array(texts, pa.string())


def _text(value: object) -> str | None:
    """Write one value that is neither missing nor a fraction; None where it is of another type."""
    if isinstance(value, str):
        return value
    if isinstance(value, np.generic):
        value = pd.Timestamp(value) if isinstance(value, np.datetime64) else value.item()
    if isinstance(value, int | Decimal):
        return str(value).lower()  # only True and False have letters
    if isinstance(value, dt.datetime) and value.timetz() == dt.time():
        return value.date().isoformat()
    return value.isoformat() if isinstance(value, dt.date) else None
