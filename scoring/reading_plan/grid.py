"""A grid of cell texts with their addresses: a sheet, a text file, the answer to a query."""

from dataclasses import dataclass
from typing import Any

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc
from numpy.typing import NDArray

from scoring.intake import RawTrouble


@dataclass(frozen=True)
class Grid:
    """Cell texts with their addresses.

    Attributes
    ----------
    file, sheet : str
        As a person knows them; no sheet where a file has none.
    columns : tuple of pyarrow string arrays
        One for each place, an empty string for an empty cell.
    rows : ndarray of int64, shape (n_rows,)
        Rows as a spreadsheet counts them.
    typed : bool
        Whether numbers and dates came as such, so that how they are written is known.
    encoding, delimiter : str
        Of a text file; empty elsewhere.
    troubles : tuple of RawTrouble
        What the reader found odd; the heading is the place of the column, 1 first.
    merged : tuple of tuple of int
        Areas of merged cells: first row, first column, last row, last column.
    folder : str
        Name of the folder or plant that it lies in.
    """

    file: str
    sheet: str
    columns: tuple[Any, ...]
    rows: NDArray[np.int64]
    typed: bool = False
    encoding: str = ""
    delimiter: str = ""
    troubles: tuple[RawTrouble, ...] = ()
    merged: tuple[tuple[int, int, int, int], ...] = ()
    folder: str = ""

    @property
    def name(self) -> str:
        """The source as messages call it."""
        return f"{self.file}, sheet {self.sheet}" if self.sheet else self.file

    @property
    def stem(self) -> str:
        """The file without its ending."""
        return self.file.rpartition(".")[0] or self.file

    def row_texts(self, place: int) -> list[str]:
        """Return the cells of one row, without surrounding spaces."""
        return [str(column[place]).strip() for column in self.columns]

    def filled(self) -> NDArray[np.int64]:
        """Count the filled cells of each row, shape (n_rows,)."""
        count = np.zeros(len(self.rows), dtype=np.int64)
        for column in self.columns:
            count += pc.not_equal(pc.utf8_trim_whitespace(column), "").to_numpy(
                zero_copy_only=False
            )
        return count

    @classmethod
    def from_rows(cls, file: str, sheet: str, rows: list[list[str]], **more: Any) -> "Grid":  # noqa: ANN401
        """Build a grid from lists of text; short rows are filled up with empty cells.

        Examples
        --------
        >>> grid = Grid.from_rows("a.csv", "", [["Tag", "Date"], ["C1"]])
        >>> grid.row_texts(1), grid.rows.tolist()
        (['C1', ''], [1, 2])
        """
        width = max((len(row) for row in rows), default=0)
        even = [row + [""] * (width - len(row)) for row in rows]
        columns = tuple(pa.array(column, pa.string()) for column in zip(*even, strict=True))
        return cls(file, sheet, columns, np.arange(1, len(rows) + 1, dtype=np.int64), **more)


@dataclass(frozen=True)
class Distinct:
    """The distinct texts of some cells, and which one each cell holds."""

    texts: list[str]
    codes: NDArray[np.int64]

    @classmethod
    def of(cls, cells: Any) -> "Distinct":  # noqa: ANN401 - pyarrow ships no types
        """Encode cells, without surrounding spaces."""
        encoded = pc.utf8_trim_whitespace(cells).dictionary_encode()
        codes = encoded.indices.to_numpy(zero_copy_only=False).astype(np.int64)
        return cls(encoded.dictionary.to_pylist(), codes)

    @property
    def filled(self) -> list[str]:
        """The texts that are not empty."""
        return [text for text in self.texts if text]

    def spread(self, texts: list[str]) -> NDArray[np.object_]:
        """Give each cell the text that stands for its own."""
        return np.array([*texts, ""], dtype=object)[:-1][self.codes]
