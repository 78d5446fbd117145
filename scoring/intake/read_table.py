"""One table: text cells under understood headings become typed columns."""

from dataclasses import dataclass, replace

import numpy as np
import pandas as pd
import pyarrow as pa
from numpy.typing import NDArray

from scoring.contract import Column, Kind, Table
from scoring.intake.cells import DistinctTexts, ReadCells, read_cells, what_is_wrong
from scoring.intake.faults import Faults
from scoring.intake.headings import Source, understand_headings
from scoring.intake.raw import RawTable
from scoring.records import ROW, TEXT, timed

LARGEST_ROUNDING = 0.01
"""Two units of measure in one row never differ by more than this share; planning value of ours."""


@dataclass(frozen=True)
class ReadTable:
    """A table after its cells were read.

    Attributes
    ----------
    frame : DataFrame
        All rows, typed; what could not be read is missing.
    bad : ndarray of bool, shape (n_rows,)
        Rows with a fault.
    aside : tuple of str
        Headings kept aside.
    assumptions : tuple of str
        What the reading took for granted.
    raw : RawTable
        Where it came from.
    """

    frame: pd.DataFrame
    bad: NDArray[np.bool_]
    aside: tuple[str, ...]
    assumptions: tuple[str, ...]
    raw: RawTable


def read_table(raw: RawTable, table: Table, mapping: dict[str, str], faults: Faults) -> ReadTable:
    """Read every cell of a table, adding a fault for each that is not allowed.

    Parameters
    ----------
    raw : RawTable
        Text cells.
    table : Table
        Its contract.
    mapping : dict of str to str
        A plant's own headings and the columns they stand for.
    faults : Faults
        Collects what is wrong.

    Returns
    -------
    ReadTable
    """
    raw = _without_blank_rows(raw)
    headings = understand_headings(raw.headings, table, mapping, faults)
    reader = _Reader(raw, faults)
    reader.add_what_the_file_reader_found()
    columns: dict[str, object] = {}
    assumptions: list[str] = []
    for column in table.columns:
        sources = headings.sources.get(column.name, [])
        columns.update(reader.read_column(column, sources))
        assumptions.extend(
            f"{s.heading}: {s.conversion.assumption}"
            for s in sources
            if s.conversion and s.conversion.assumption
        )
    columns[ROW] = raw.rows
    frame = pd.DataFrame(columns, index=pd.RangeIndex(len(raw.rows)))
    return ReadTable(frame, reader.bad, tuple(headings.aside), tuple(assumptions), raw)


def _without_blank_rows(raw: RawTable) -> RawTable:
    """Leave out rows in which every cell is empty, as spreadsheets leave them behind."""
    filled = np.zeros(len(raw.rows), dtype=bool)
    for cells in raw.cells:
        distinct = DistinctTexts.of(cells)
        filled |= ~distinct.blank[distinct.codes]
        if filled.all():
            return raw
    cells = tuple(column.filter(pa.array(filled)) for column in raw.cells)
    return replace(raw, cells=cells, rows=raw.rows[filled])


@dataclass(frozen=True)
class _Given:
    """The cells under one heading, read for one column."""

    column: Column
    source: Source
    distinct: DistinctTexts
    read: ReadCells

    @property
    def right(self) -> str:
        """What would be right, in words and with the unit of the heading."""
        allowed = self.column.allowed_words
        conversion = self.source.conversion
        return f"{allowed}, given in {conversion.unit}" if conversion else allowed


class _Reader:
    """Reads the columns of one table and marks the rows that have a fault."""

    def __init__(self, raw: RawTable, faults: Faults) -> None:
        self.raw = raw
        self.faults = faults
        self.bad: NDArray[np.bool_] = np.zeros(len(raw.rows), dtype=bool)

    def add_what_the_file_reader_found(self) -> None:
        for t in self.raw.troubles:
            self.faults.add_one(t.row, t.heading, t.value, t.wrong, t.right)
        self.bad |= np.isin(self.raw.rows, [trouble.row for trouble in self.raw.troubles])
        for row, cells in self.raw.ragged:
            self.faults.add_one(
                row,
                "",
                ",".join(cells),
                f"has {len(cells)} cells where the headings are {len(self.raw.headings)}",
                "one cell for each heading; put text that has a comma in double quotes",
            )

    def read_column(self, column: Column, sources: list[Source]) -> dict[str, object]:
        """Read a column from the heading or headings that fill it."""
        given = [self._read_cells(column, source) for source in sources]
        if column.required and given:
            blank = np.logical_and.reduce([g.distinct.blank[g.distinct.codes] for g in given])
            self._fault(given[0], blank, "is empty")
        if column.is_numeric:
            return {column.name: self._combine_numbers(given)}
        if not given:
            return _all_missing(column, len(self.raw.rows))
        return _spread(given[0])

    def _read_cells(self, column: Column, source: Source) -> _Given:
        distinct = DistinctTexts.of(self.raw.cells[source.place])
        fractions = source.conversion is not None and source.conversion.suffix == "_in"
        given = _Given(column, source, distinct, read_cells(distinct, column, fractions=fractions))
        bad = given.read.bad
        if bad.any():
            reasons = np.full(len(bad), "", dtype=object)
            reasons[bad] = [
                what_is_wrong(text, column)
                for text in distinct.texts.filter(pa.array(bad)).to_pylist()
            ]
            here = bad[distinct.codes]
            self._fault(given, here, reasons[distinct.codes[here]])
        return given

    def _combine_numbers(self, given: list[_Given]) -> NDArray[np.float64]:
        """Convert each source to the contract's unit; where two are filled they must agree."""
        values = np.full(len(self.raw.rows), np.nan)
        rounding = np.zeros(len(self.raw.rows))
        for one in given:
            converted, half_digit = _in_contract_unit(one)
            outside = _outside(one.column, converted)
            unit = one.source.unit_of(one.column)
            self._fault(
                one, outside[one.distinct.codes], f"{unit} is outside what is allowed".strip()
            )
            here = np.where(outside, np.nan, converted)[one.distinct.codes]
            allowed = np.fmax(rounding, half_digit[one.distinct.codes])
            allowed = np.fmin(allowed, LARGEST_ROUNDING * np.abs(values))
            clash = np.abs(here - values) > allowed * (1 + 1e-9)
            self._fault(
                one,
                clash,
                f"differs from {given[0].source.heading} in the same row",
                "one of the two, or both the same",
            )
            values = np.where(np.isnan(values), here, values)
            rounding = half_digit[one.distinct.codes]
        return values

    def _fault(
        self,
        given: _Given,
        where: NDArray[np.bool_],
        wrong: str | NDArray[np.object_],
        right: str = "",
    ) -> None:
        if where.any():
            self.faults.add(
                self.raw.rows[where],
                given.source.heading,
                given.distinct.at(where),
                wrong,
                right or given.right,
            )
            self.bad |= where


def _spread(given: _Given) -> dict[str, object]:
    """Spread the values of the distinct texts over the rows."""
    column, read, codes = given.column, given.read, given.distinct.codes
    if column.kind is Kind.CHOICE:
        return {column.name: _categories(column, read.found[codes])}
    if column.kind is Kind.DATE:
        return {column.name: read.found[codes], timed(column.name): read.timed[codes]}
    texts = np.where(given.distinct.blank | read.bad, None, read.found)
    return {column.name: pd.Series(texts, dtype=TEXT).array.take(codes)}


def _all_missing(column: Column, size: int) -> dict[str, object]:
    if column.kind is Kind.CHOICE:
        return {column.name: _categories(column, np.full(size, -1))}
    if column.kind is Kind.DATE:
        never = np.full(size, np.datetime64("NaT"), dtype="datetime64[s]")
        return {column.name: never, timed(column.name): np.zeros(size, dtype=bool)}
    nothing = pd.Series([None], dtype=TEXT).array
    return {column.name: nothing.take(np.zeros(size, dtype=np.int64))}


def _categories(column: Column, codes: NDArray[np.int64]) -> pd.Categorical:
    dtype = pd.CategoricalDtype(list(column.allowed), ordered=True)
    return pd.Categorical.from_codes(codes.tolist(), dtype=dtype)


def _in_contract_unit(given: _Given) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return values and half a unit in the last digit written, in the contract's unit."""
    conversion = given.source.conversion
    if conversion is None:
        return given.read.found, given.read.half_digit
    values = (given.read.found - conversion.offset) * conversion.factor
    return values, given.read.half_digit * conversion.factor


def _outside(column: Column, values: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Tell which values the contract does not allow; a missing value is not outside."""
    outside = np.zeros(len(values), dtype=bool)
    if column.minimum is not None:
        outside |= values < column.minimum
    if column.above is not None:
        outside |= values <= column.above
    if column.maximum is not None:
        outside |= values > column.maximum
    if column.kind is Kind.COUNT:
        outside |= np.isfinite(values) & (values != np.round(values))
    return outside
