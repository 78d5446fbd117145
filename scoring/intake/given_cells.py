"""The cells under one heading, read for one column of the contract, in the unit as given."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract import Column, Kind
from scoring.intake.cells import DistinctTexts, ReadCells
from scoring.intake.headings import Source


@dataclass(frozen=True)
class GivenCells:
    """The cells under one heading, read for one column.

    Attributes
    ----------
    column : Column
        The column of the contract.
    source : Source
        The heading that fills it.
    distinct : DistinctTexts
        The cells as found.
    read : ReadCells
        What they say.
    """

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

    @property
    def blank(self) -> NDArray[np.bool_]:
        """Which rows are empty, shape (n_rows,)."""
        blank: NDArray[np.bool_] = self.distinct.blank[self.distinct.codes]
        return blank


def in_contract_unit(given: GivenCells) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return values and half a unit in the last digit written, in the contract's unit."""
    conversion = given.source.conversion
    if conversion is None:
        return given.read.found, given.read.half_digit
    values = (given.read.found - conversion.offset) * conversion.factor
    return values, given.read.half_digit * conversion.factor


def outside_allowed(column: Column, values: NDArray[np.float64]) -> NDArray[np.bool_]:
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


def clash_words(
    given: GivenCells,
    here: NDArray[np.float64],
    there: NDArray[np.float64],
    other_headings: NDArray[np.object_],
) -> NDArray[np.object_]:
    """Say how values under one heading differ from those under others in the same rows."""
    unit = given.column.unit
    as_given = f"{given.source.unit_of(given.column)} " if given.source.conversion else ""
    converted = pd.Series(here).map("{:.6g}".format).astype(object)
    standing = pd.Series(there).map("{:.6g}".format).astype(object)
    words = (
        f"{as_given}is "
        + converted
        + f" {unit} and differs from "
        + pd.Series(other_headings, dtype=object)
        + ", "
        + standing
        + f" {unit}, in the same row"
    )
    return words.to_numpy(dtype=object)
