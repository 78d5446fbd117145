"""One table: text cells under understood headings become typed columns."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
import pyarrow as pa
import pyarrow.compute as pc
from numpy.typing import NDArray

from scoring.contract import Column, Kind, Table
from scoring.intake.blank_cells import filled_without_heading, without_blank_rows
from scoring.intake.cells import DistinctTexts, read_cells
from scoring.intake.explain_cell import what_is_wrong
from scoring.intake.faults import Faults
from scoring.intake.given_cells import (
    GivenCells,
    clash_words,
    in_contract_unit,
    outside_allowed,
)
from scoring.intake.headings import Source, understand_headings
from scoring.intake.raw import RawTable
from scoring.records import ROW, TEXT, choice_dtype, timed

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

    @property
    def holds_no_rows(self) -> bool:
        """Whether there is no row at all, not even one of odd length."""
        return self.frame.empty and not self.raw.ragged


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
    raw = without_blank_rows(raw)
    headings = understand_headings(raw.headings, table, mapping, faults)
    reader = _Reader(raw, faults)
    reader.add_odd_rows()
    reader.add_troubles(headings.kinds(table))
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
    frame = pd.DataFrame(columns, index=pd.RangeIndex(len(raw.rows)), copy=False)
    aside = (*headings.aside, *filled_without_heading(raw))
    return ReadTable(frame, reader.bad, aside, tuple(assumptions), raw)


class _Reader:
    """Reads the columns of one table and marks the rows that have a fault."""

    def __init__(self, raw: RawTable, faults: Faults) -> None:
        self.raw = raw
        self.faults = faults
        self.bad: NDArray[np.bool_] = np.zeros(len(raw.rows), dtype=bool)
        self.reported: dict[str, list[int]] = {}  # rows, by heading, of which enough was said

    def add_odd_rows(self) -> None:
        """Add a fault for each row with more or fewer cells than headings."""
        for odd in self.raw.ragged:
            self.faults.add_one(
                odd.row,
                "",
                ",".join(odd.cells),
                f"has {len(odd.cells)} cells where the headings are {odd.width}",
                "one cell for each heading; put text that has a comma in double quotes",
            )

    def add_troubles(self, kinds: dict[str, Kind]) -> None:
        """Add what the file's reader found wrong, as far as it matters to the column."""
        troubles = [
            t for t in self.raw.troubles if not t.only_in or kinds.get(t.heading) in t.only_in
        ]
        for t in troubles:
            self.faults.add_one(t.row, t.heading, t.value, t.wrong, t.right)
            self.reported.setdefault(t.heading, []).append(t.row)
        self.bad |= np.isin(self.raw.rows, [trouble.row for trouble in troubles])

    def read_column(self, column: Column, sources: list[Source]) -> dict[str, object]:
        """Read a column from the heading or headings that fill it."""
        given = [self._read_cells(column, source) for source in sources]
        if column.required and given and all(g.distinct.blank.any() for g in given):
            blank = np.logical_and.reduce([g.blank for g in given])
            self._fault(given[0], blank, "is empty")
        if column.is_numeric:
            return {column.name: self._combine_numbers(given)}
        if not given:
            return _all_missing(column, len(self.raw.rows))
        return _spread(given[0])

    def _read_cells(self, column: Column, source: Source) -> GivenCells:
        cells = self.raw.cells[source.place]
        distinct = DistinctTexts.of(cells, row_by_row=column.kind is Kind.IDENTIFIER)
        fractions = source.conversion is not None and source.conversion.suffix == "_in"
        given = GivenCells(
            column, source, distinct, read_cells(distinct, column, fractions=fractions)
        )
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

    def _combine_numbers(self, given: list[GivenCells]) -> NDArray[np.float64]:
        """Convert each source to the contract's unit; where two are filled they must agree."""
        if len(given) == 1:
            return self._in_contract_unit(given[0])
        values = np.full(len(self.raw.rows), np.nan)
        rounding = np.zeros(len(self.raw.rows))
        filled_by = np.zeros(len(self.raw.rows), dtype=np.int64)
        for place, one in enumerate(given):
            here = self._in_contract_unit(one)
            if place > 0:
                self._fault_clashes(given, place, here, values, rounding, filled_by)
            new = np.isnan(values)
            values[new] = here[new]
            rounding[new] = in_contract_unit(one)[1][one.distinct.codes[new]]
            filled_by[new] = place
        return values

    def _in_contract_unit(self, one: GivenCells) -> NDArray[np.float64]:
        """Convert one source to the contract's unit; what is not allowed is missing."""
        converted, _ = in_contract_unit(one)
        outside = outside_allowed(one.column, converted)
        if outside.any():
            unit = one.source.unit_of(one.column)
            self._fault(
                one, outside[one.distinct.codes], f"{unit} is outside what is allowed".strip()
            )
            converted = np.where(outside, np.nan, converted)
        values: NDArray[np.float64] = converted[one.distinct.codes]
        return values

    def _fault_clashes(  # noqa: PLR0913, PLR0917 - two values, each with its rounding and heading
        self,
        given: list[GivenCells],
        place: int,
        here: NDArray[np.float64],
        values: NDArray[np.float64],
        rounding: NDArray[np.float64],
        filled_by: NDArray[np.int64],
    ) -> None:
        """Add a fault where two units of measure in one row differ by more than rounding."""
        one = given[place]
        allowed = np.fmax(rounding, in_contract_unit(one)[1][one.distinct.codes])
        allowed = np.fmin(allowed, LARGEST_ROUNDING * np.abs(values))
        clash = np.abs(here - values) > allowed * (1 + 1e-9)
        if clash.any():
            headings = np.array([g.source.heading for g in given], dtype=object)
            wrong = clash_words(one, here[clash], values[clash], headings[filled_by[clash]])
            self._fault(one, clash, wrong, "one of the two, or both the same")

    def _fault(
        self,
        given: GivenCells,
        where: NDArray[np.bool_],
        wrong: str | NDArray[np.object_],
        right: str = "",
    ) -> None:
        if given.source.heading in self.reported:
            new = ~np.isin(self.raw.rows, self.reported[given.source.heading])
            wrong = wrong if isinstance(wrong, str) else wrong[new[where]]
            where = where & new
        if where.any():
            self.faults.add(
                self.raw.rows[where],
                given.source.heading,
                given.distinct.at(where),
                wrong,
                right or given.right,
            )
            self.bad |= where


def _spread(given: GivenCells) -> dict[str, object]:
    """Spread the values of the distinct texts over the rows."""
    column, read, codes = given.column, given.read, given.distinct.codes
    if column.kind is Kind.CHOICE:
        return {column.name: _categories(column, read.found[codes])}
    if column.kind is Kind.DATE:
        return {column.name: read.found[codes], timed(column.name): read.timed[codes]}
    missing = given.distinct.blank | read.bad
    texts = pc.if_else(pa.array(missing), None, read.found) if missing.any() else read.found
    if not given.distinct.row_by_row:
        texts = texts.take(pa.array(codes))
    return {column.name: TEXT.__from_arrow__(texts)}  # type: ignore[attr-defined]


def _all_missing(column: Column, size: int) -> dict[str, object]:
    if column.kind is Kind.CHOICE:
        return {column.name: _categories(column, np.full(size, -1))}
    if column.kind is Kind.DATE:
        never = np.full(size, np.datetime64("NaT"), dtype="datetime64[s]")
        return {column.name: never, timed(column.name): np.zeros(size, dtype=bool)}
    nothing = pd.Series([None], dtype=TEXT).array
    return {column.name: nothing.take(np.zeros(size, dtype=np.int64))}


def _categories(column: Column, codes: NDArray[np.int64]) -> pd.Categorical:
    return pd.Categorical.from_codes(codes, dtype=choice_dtype(column.allowed))
