"""Where the pieces of a fleet lie: their good rows, what is learned from, and what was ranked."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pyarrow as pa
from numpy.typing import NDArray

from scoring.errors import FixableError
from scoring.learning.failure_rows import FailureRows
from scoring.pieces.piece_files import keep_object, keep_table, kept_object, room_for_numbers
from scoring.records import Fleet

UNITS_OF_A_PIECE = 10_000
"""So many units are judged at once: some hundred megabytes. Ours."""


def pieces_of(units: int) -> int:
    """Return into how many pieces so many units are parted, at least 1.

    Examples
    --------
    >>> pieces_of(0), pieces_of(34_000)
    (1, 3)
    """
    return max(1, round(units / UNITS_OF_A_PIECE))


@dataclass(frozen=True)
class PieceFolder:
    """A folder with the pieces of a fleet; each step finds there what an earlier one kept.

    Attributes
    ----------
    folder : Path
        A folder that this run made for itself.
    pieces : int
        How many there are, counted from 0.
    """

    folder: Path
    pieces: int

    def keep_good_rows(self, number: int, fleet: Fleet) -> None:
        """Keep the checked rows of a piece."""
        keep_object(fleet, self._place("good", number, "pickle"))

    def good_rows(self, number: int) -> Fleet:
        """Return the checked rows of a piece."""
        fleet: Fleet = kept_object(self._place("good", number, "pickle"))
        return fleet

    def keep_failure_rows(self, number: int, rows: FailureRows) -> None:
        """Keep what a piece adds to what is learned from."""
        keep_object(rows, self._place("rows", number, "pickle"))

    def hand_over_failure_rows(self, number: int) -> FailureRows:
        """Return what a piece adds to what is learned from, and keep it no longer."""
        place = self._place("rows", number, "pickle")
        rows: FailureRows = kept_object(place)
        place.unlink()
        return rows

    def room(self, shape: tuple[int, ...], kind: np.dtype[Any]) -> NDArray[Any]:
        """Return zeros of a shape that lie beside the pieces, in memory only where in use.

        Raises
        ------
        FixableError
            If there is no room for them.
        """
        try:
            return room_for_numbers(self.folder, shape, kind)
        except OSError as error:
            raise FixableError(
                f"{self.folder} has no room for what is learned from "
                f"({error.strerror or error}); name another folder: --scratch"
            ) from None

    def keep_ranked(self, number: int, ranking: pd.DataFrame) -> None:
        """Keep the ranked rows of a piece, in the order of their ranks."""
        rows = pa.Table.from_pandas(ranking, preserve_index=False)
        keep_table(rows, self._place("ranked", number, "arrow"))

    @property
    def ranked(self) -> Sequence[Path]:
        """Where the ranked rows of all pieces lie."""
        return [self._place("ranked", number, "arrow") for number in range(self.pieces)]

    def _place(self, what: str, number: int, suffix: str) -> Path:
        return self.folder / f"{what}-{number:06}.{suffix}"
