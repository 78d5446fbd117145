"""A data set: a folder that holds each table as a Parquet file, or as a folder of such files.

Files of a table may lie in folders named ``column=value`` (hive partitions), in any number.
"""

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import unquote

import numpy as np
import pyarrow as pa
import pyarrow.parquet as pq

from scoring.contract import FLEET_TABLES, TABLE_BY_NAME, Kind
from scoring.errors import UnreadableFleetError
from scoring.files.arrow_as_text import arrow_as_encoded_text, arrow_as_text
from scoring.files.table_bounds import require_few_columns
from scoring.records import SOURCE_STEP

ROWS_AT_ONCE = 100_000
"""Rows read at once. Ours."""

ROW_OF_SOURCE = " row"
"""Column beside the cells: where each row stands, as ``RawTable.rows`` counts; no heading can be
called so, for headings are without surrounding spaces."""

Stretch = dict[int, list[int]]
"""Row groups that follow each other, by the place of their file."""

_NULL_OF_HIVE = "__HIVE_DEFAULT_PARTITION__"


@dataclass(frozen=True)
class TableFiles:
    """The files of one table.

    Attributes
    ----------
    name : str
        The table of the contract.
    paths : tuple of Path
        In the order of their names.
    sources : tuple of str
        What messages call them.
    headings : tuple of str
        Of all of them together, those of the first file first.
    groups : tuple of tuple of int
        How many rows each row group of each file has.
    """

    name: str
    paths: tuple[Path, ...]
    sources: tuple[str, ...]
    headings: tuple[str, ...]
    groups: tuple[tuple[int, ...], ...]

    @classmethod
    def of(cls, name: str, below: Path) -> "TableFiles":
        """Look into all files of a table.

        Raises
        ------
        UnreadableFleetError
            If one cannot be read.
        """
        paths = _files(below)
        sources = [str(path.relative_to(below.parent)) for path in paths]
        headings: dict[str, None] = {}
        groups = []
        for path, source in zip(paths, sources, strict=True):
            with _opened(path, source) as file:
                metadata = file.metadata
                require_few_columns(metadata.num_columns, source)
                rows = (metadata.row_group(n).num_rows for n in range(metadata.num_row_groups))
                groups.append(tuple(rows))
                found = [heading.strip() for heading in file.schema_arrow.names]
            if len(set(found)) < len(found):
                raise UnreadableFleetError(f"{source} has a heading twice; give each column once")
            headings |= dict.fromkeys([*found, *_partition(path, below)])
        return cls(name, tuple(paths), tuple(sources), tuple(headings), tuple(groups))

    @property
    def rows(self) -> int:
        """How many rows all files have."""
        return sum(map(sum, self.groups))

    def stretches(self, rows: int) -> list["Stretch"]:
        """Part the files, in their order, into stretches of about so many rows each.

        Parameters
        ----------
        rows : int
            At least so many has each but the last; row groups stay whole.

        Returns
        -------
        list of Stretch
            At least one.
        """
        stretches: list[Stretch] = [{}]
        size = 0
        for place, groups in enumerate(self.groups):
            for number, count in enumerate(groups):
                if size >= rows:
                    stretches.append({})
                    size = 0
                stretches[-1].setdefault(place, []).append(number)
                size += count
        return stretches

    @property
    def whole(self) -> "Stretch":
        """All row groups of all files."""
        return {place: list(range(len(groups))) for place, groups in enumerate(self.groups)}

    def batches(
        self, below: Path, stretch: "Stretch", columns: tuple[str, ...] | None = None
    ) -> Iterator[pa.Table]:
        """Yield the rows as text cells, some at a time, each with where it stands.

        Ids are text, all else is encoded text: few of its cells are distinct.

        Parameters
        ----------
        below : Path
            The file or folder of the table.
        stretch : dict of int to list of int
            Which row groups of which files.
        columns : tuple of str, optional
            Headings wanted; by default all.

        Raises
        ------
        UnreadableFleetError
            If a file cannot be read.
        """
        wanted = self.headings if columns is None else columns
        ids = _ids_of(self.name)
        for place, groups in stretch.items():
            path, source = self.paths[place], self.sources[place]
            fixed = _partition(path, below)
            first = 2 + SOURCE_STEP * place + sum(self.groups[place][: groups[0]])
            with _opened(path, source, ids) as file:
                own = {name.strip(): name for name in file.schema_arrow.names}
                read = [own[heading] for heading in wanted if heading in own]
                for batch in file.iter_batches(ROWS_AT_ONCE, groups, read):
                    rows = batch.num_rows
                    cells = {}
                    for heading in wanted:
                        as_text = arrow_as_text if heading in ids else arrow_as_encoded_text
                        if heading in own:
                            column = pa.chunked_array([batch.column(own[heading])])
                            cells[heading] = as_text(column, f"{source}, column {heading}")
                        else:
                            said = pa.repeat(fixed.get(heading, ""), rows)
                            cells[heading] = as_text(pa.chunked_array([said]), heading)
                    cells[ROW_OF_SOURCE] = pa.array(np.arange(first, first + rows))
                    first += rows
                    yield pa.table(cells)


def find_data_set(where: str) -> dict[str, Path] | None:
    """Tell where each table of a data set lies.

    Parameters
    ----------
    where : str
        As a person gave it.

    Returns
    -------
    dict of str to Path or None
        The file or folder of each table that is there; None where this is no data set: there is no
        Parquet of units, or a table is there in another format.

    Examples
    --------
    >>> find_data_set("demo:small_quarry") is None
    True
    """
    folder = Path(where)
    if not folder.is_dir():
        return None
    found = {}
    for table in FLEET_TABLES:
        file, below = folder / f"{table.name}.parquet", folder / table.name
        if (folder / f"{table.name}.csv").exists():
            return None
        if file.is_file():
            found[table.name] = file
        elif below.is_dir() and any(below.rglob("*.parquet")):
            found[table.name] = below
    needed = [table.name for table in FLEET_TABLES if table.needed]
    return found if all(name in found for name in needed) else None


def rows_of(below: Path) -> int:
    """Return how many rows a file, or all files of a folder, hold.

    Raises
    ------
    UnreadableFleetError
        If one cannot be read.
    """
    count = 0
    for path in _files(below):
        with _opened(path, path.name) as file:
            count += file.metadata.num_rows
    return count


def _ids_of(table: str) -> set[str]:
    columns = TABLE_BY_NAME[table].columns
    return {column.name for column in columns if column.kind is Kind.IDENTIFIER}


def _files(below: Path) -> list[Path]:
    return [below] if below.is_file() else sorted(below.rglob("*.parquet"))


def _partition(path: Path, below: Path) -> dict[str, str]:
    """Return what the folders of a file say of all its rows."""
    if path == below:
        return {}
    parts = [part.split("=", 1) for part in path.relative_to(below).parts[:-1] if "=" in part]
    return {
        unquote(name): "" if value == _NULL_OF_HIVE else unquote(value) for name, value in parts
    }


def _opened(path: Path, source: str, ids: Collection[str] | None = None) -> pq.ParquetFile:
    """Open a file; where ids are named, all other text comes encoded, as most files keep it."""
    try:
        file = pq.ParquetFile(path)
        if ids is None:
            return file
        encoded = [
            field.name
            for field in file.schema_arrow
            if pa.types.is_string(field.type) and field.name.strip() not in ids
        ]
        file.close()
        return pq.ParquetFile(path, metadata=file.metadata, read_dictionary=encoded)
    except (pa.ArrowException, OSError) as error:
        raise UnreadableFleetError(
            f"{source} cannot be read as Parquet ({error}); write it anew"
        ) from None
