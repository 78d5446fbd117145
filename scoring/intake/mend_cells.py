"""Cells that a person put right: faulty rows laid out to be mended, and tables with what they say.

What was read stays as it was; mends lie beside it, by row, and are put in when it is checked again.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
import pandas as pd
import pyarrow as pa
from numpy.typing import NDArray

from scoring.contract import TABLE_BY_NAME
from scoring.intake.as_given import AsGiven
from scoring.intake.check_fleet import CheckedFleet
from scoring.intake.raw import RawTable
from scoring.records import SOURCE_STEP

Place = tuple[int, int]
"""A row of a table as found: its number, and which it is of several from the same row."""

Mends = Mapping[str, Mapping[Place, Mapping[str, str]]]
"""By table, row and heading: what stands there instead."""


@dataclass(frozen=True)
class FaultyRows:
    """The faulty rows of one table.

    Attributes
    ----------
    table : str
        The table.
    cells : DataFrame
        One row each, indexed by its ``Place``; a column for each heading, text. The headings at
        which something is wrong come first, those with nothing in any of these rows are left out.
    faults : list of list of int
        Of each row the places of its faults among those of the fleet.
    headings : list of list of str
        Of each of these the heading under which it is wrong; empty where the whole row is.
    """

    table: str
    cells: pd.DataFrame
    faults: list[list[int]]
    headings: list[list[str]]


def faulty_rows(raw: RawTable, checked: CheckedFleet) -> FaultyRows | None:
    """Lay out the rows of a table in which a fault was told; None where there is none.

    Parameters
    ----------
    raw : RawTable
        The table that was checked.
    checked : CheckedFleet
        What was found.

    Examples
    --------
    >>> from scoring.intake.check_fleet import check_fleet
    >>> raw = RawTable.from_rows("units", "units.csv", ["unit_id", "site"], [["U-1", ""]])
    >>> faulty_rows(raw, check_fleet({"units": raw}, pd.Timestamp("2026-01-01"))) is None
    True
    """
    if raw.name in checked.unusable or len(set(raw.headings)) < len(raw.headings):
        return None
    faults = checked.faults
    here = np.flatnonzero((faults["table"] == raw.name).to_numpy())
    if not len(here):
        return None
    of_source = {source: place for place, source in enumerate(raw.sources)}
    source = faults["source"].iloc[here].map(of_source).fillna(0).to_numpy(dtype=np.int64)
    numbers = source * SOURCE_STEP + faults["row"].iloc[here].to_numpy(dtype=np.int64)
    wrong = [
        _heading_of(raw, one, str(column))
        for one, column in zip(source.tolist(), faults["column"].iloc[here], strict=True)
    ]
    told: dict[int, list[int]] = {}
    under: dict[int, list[str]] = {}
    for number, place, heading in zip(numbers.tolist(), here.tolist(), wrong, strict=True):
        told.setdefault(number, []).append(place)
        under.setdefault(number, []).append(heading)
    whole = _with_ragged(raw, set(told))
    at = np.flatnonzero(np.isin(whole.rows, list(told)))
    if not len(at):
        return None
    some = pa.array(at)
    cells = pd.DataFrame(
        {h: c.take(some).to_pylist() for h, c in zip(whole.headings, whole.cells, strict=True)},
        dtype=object,
    )
    places = _places(whole.rows)
    cells.index = pd.Index([places[one] for one in at.tolist()], tupleize_cols=False)
    known = TABLE_BY_NAME[raw.name].column_by_name
    first = [h for h in dict.fromkeys(wrong) if h in cells or h in known]
    absent = [h for h in first if h not in cells]
    cells = cells.assign(**dict.fromkeys(absent, ""))
    key = [h for h in (TABLE_BY_NAME[raw.name].key, "unit_id") if h in cells and h not in first]
    rest = [h for h in cells if h not in {*first, *key} and (cells[h] != "").any()]
    return FaultyRows(
        raw.name,
        cells[[*dict.fromkeys((*first, *key, *rest))]],
        [told[int(whole.rows[one])] for one in at],
        [under[int(whole.rows[one])] for one in at],
    )


def with_mends(tables: Mapping[str, RawTable], mends: Mends) -> dict[str, RawTable]:
    """Return tables with what a person put right; a mend of a row that is not there is left alone.

    Parameters
    ----------
    tables : mapping of str to RawTable
        As found.
    mends : mapping
        What stands where instead. A row with more or fewer cells than there are headings becomes a
        whole one, with the cells below the headings.

    Examples
    --------
    >>> raw = RawTable.from_rows("units", "units.csv", ["unit_id", "site"], [["U-1", ""], ["U-2"]])
    >>> mended = with_mends({"units": raw}, {"units": {(2, 0): {"site": "Quay"}, (3, 0): {}}})
    >>> mended["units"].column("site"), mended["units"].ragged
    (['Quay', ''], ())
    """
    return {name: _mended(raw, mends.get(name, {})) for name, raw in tables.items()}


def _mended(raw: RawTable, mends: Mapping[Place, Mapping[str, str]]) -> RawTable:
    if not mends:
        return raw
    whole = _with_ragged(raw, {number for number, _ in mends})
    at = {place: one for one, place in enumerate(_places(whole.rows))}
    known = TABLE_BY_NAME[raw.name].column_by_name
    by_heading: dict[str, dict[int, str]] = {}
    for place, said in mends.items():
        for heading, text in said.items():
            if place in at and (heading in whole.headings or heading in known):
                by_heading.setdefault(heading, {})[at[place]] = text
    headings = (*whole.headings, *(h for h in by_heading if h not in whole.headings))
    blank = pa.array([""] * len(whole.rows), pa.string())
    cells = (*whole.cells, *(blank for _ in headings[len(whole.headings) :]))
    put = tuple(
        _put(column, by_heading.get(heading, {}))
        for heading, column in zip(headings, cells, strict=True)
    )
    spots = {(int(whole.rows[one]), h) for h, said in by_heading.items() for one in said}
    rows = {number for number, _ in spots}
    troubles = tuple(
        t
        for t in whole.troubles
        if (t.row, t.heading) not in spots and (t.heading or t.row not in rows)
    )
    given = tuple(_as_given_now(look, n, spots) for n, look in enumerate(whole.given))
    return replace(whole, headings=headings, cells=put, troubles=troubles, given=given)


def _put(column: pa.Array, said: Mapping[int, str]) -> pa.Array:
    if not said:
        return column
    texts = column.to_pylist()
    for one, text in said.items():
        texts[one] = text
    return pa.array(texts, pa.string())


def _as_given_now(look: AsGiven | None, place: int, spots: set[tuple[int, str]]) -> AsGiven | None:
    """Let a mended cell be told as it was mended, no longer as it was found."""
    if look is None or not len(look.rows):
        return look
    cells = dict(look.cells)
    for column, texts in look.cells.items():
        numbers = [n - place * SOURCE_STEP for n, h in spots if h == column]
        at = np.flatnonzero(np.isin(look.rows, numbers))
        cells[column] = _put(texts, dict.fromkeys(at.tolist(), ""))
    return replace(look, cells=cells)


def _with_ragged(raw: RawTable, numbers: set[int]) -> RawTable:
    """Make whole rows of some that have more or fewer cells than there are headings."""
    odd = [one for one in raw.ragged if one.row in numbers]
    if not odd:
        return raw
    width = len(raw.headings)
    texts = [[*one.cells, *[""] * width][:width] for one in odd]
    rows = np.concatenate([raw.rows, np.array([one.row for one in odd], dtype=np.int64)])
    order = np.argsort(rows, kind="stable")
    columns = zip(raw.cells, zip(*texts, strict=True), strict=True)
    return replace(
        raw,
        cells=tuple(
            pa.concat_arrays([cells, pa.array(more, pa.string())]).take(pa.array(order))
            for cells, more in columns
        ),
        rows=rows[order],
        ragged=tuple(one for one in raw.ragged if one.row not in numbers),
    )


def _places(rows: NDArray[np.int64]) -> list[Place]:
    """Return the place of each row: several may come from one row of a source."""
    turns = pd.Series(rows).groupby(rows).cumcount().to_numpy()
    return list(zip(rows.tolist(), turns.tolist(), strict=True))


def _heading_of(raw: RawTable, source: int, column: str) -> str:
    """Return the heading among the cells that was read from a heading of the source."""
    look = raw.given[source] if source < len(raw.given) else None
    if look is None or column in raw.headings:
        return column
    return next((ours for ours, theirs in look.headings.items() if theirs == column), column)
