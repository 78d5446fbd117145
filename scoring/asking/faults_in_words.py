"""A fault in words: where, what was given, what is wrong, what would be right."""

import re
from collections.abc import Hashable, Iterator, Mapping, Sequence
from contextlib import contextmanager

import numpy as np
import pandas as pd

from scoring.asking.frames_as_text import FIRST_ROW, called
from scoring.errors import FaultyRecordsError
from scoring.intake.faults import FAULT_COLUMNS

MOST_FAULTS = 20
"""Faults told in one message; the table has all. Ours."""

HEADINGS = 1
"""The row of the headings; no record stands there."""


def fault_line(fault: Mapping[Hashable, object]) -> str:
    """Write one fault.

    Parameters
    ----------
    fault : mapping
        A row of a table of faults.

    Examples
    --------
    >>> fault_line({"source": "units.csv", "row": 7, "column": "site", "value": "",
    ...             "wrong": "is empty", "right": "text"})
    'units.csv, row 7, column site: is empty; right is text'
    """
    where = str(fault["source"])
    if fault.get("row", HEADINGS) != HEADINGS:
        where += f", row {fault['row']}"
    if fault.get("index_label") is not None:
        where += f", index label {fault['index_label']!r}"
    where += f", column {fault['column']}" if fault["column"] else ""
    value = str(fault["value"])
    shown = value if len(value) <= 60 else value[:57] + "..."
    given = f"{shown!r} " if shown else ""
    return f"{where}: {given}{fault['wrong']}; right is {fault['right']}"


def faulty_records(faults: pd.DataFrame, how_many: int, advice: str) -> FaultyRecordsError:
    """Return the error that tells the first faults, how many there are, and what to do."""
    lines = [fault_line(fault) for fault in faults.head(MOST_FAULTS).to_dict("records")]
    more = how_many - len(lines)
    lines += [f"and {more} more"] if more else []
    count = "1 fault" if how_many == 1 else f"{how_many} faults"
    return FaultyRecordsError("\n  ".join([f"{count}; {advice}", *lines]))


def with_labels(faults: pd.DataFrame, labels: Mapping[str, Sequence[object]]) -> pd.DataFrame:
    """Say of faults in frames at which label of the caller's index they stand.

    Parameters
    ----------
    faults : DataFrame
        As intake found them, rows counted from the top of each frame.
    labels : mapping of str to sequence
        The index of each frame, by table.

    Returns
    -------
    DataFrame
        With ``index_label`` in the place of ``row``, None where the headings are meant; rows that
        words name are named by their labels too.
    """
    told = faults.assign(index_label=np.full(len(faults), None, dtype=object))
    for name, index in labels.items():
        here = (faults["table"] == name).to_numpy() & (faults["row"] != HEADINGS).to_numpy()
        places = faults["row"].to_numpy()[here] - FIRST_ROW
        told.loc[here, "index_label"] = pd.Series(
            [index[place] for place in places], index=faults.index[here], dtype=object
        )
        for words in ("wrong", "right"):
            told[words] = [_by_labels(text, name, index) for text in told[words]]
    return told[["index_label" if name == "row" else name for name in FAULT_COLUMNS]]


@contextmanager
def told_by_labels(frame: pd.DataFrame | None, name: str) -> Iterator[None]:
    """Have an error that names rows of a caller's frame name them by their labels.

    Raises
    ------
    FaultyRecordsError
        As what is done inside raises it, in other words.
    """
    try:
        yield
    except FaultyRecordsError as error:
        index = [] if frame is None else frame.index.tolist()
        raise FaultyRecordsError(_by_labels(str(error), name, index)) from None


def _by_labels(text: str, name: str, index: Sequence[object]) -> str:
    """Name the rows of a frame that words speak of by their labels."""
    frame = re.escape(called(name))

    def by_label(found: re.Match[str]) -> str:
        place = int(found["row"] or found["number"]) - FIRST_ROW
        return f"{found['before'] or ''}index label {index[place]!r}{found['after'] or ''}"

    pattern = rf"(?P<before>{frame}, )row (?P<row>\d+)|row (?P<number>\d+)(?P<after> of {frame})"
    return re.sub(pattern, by_label, text)
