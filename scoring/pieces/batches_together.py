"""Batches of a table by the way from files to pieces: the next is read while one is cut."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor

import pyarrow as pa


def read_ahead(batches: Iterator[pa.Table], rows: int) -> Iterator[pa.Table]:
    """Yield batches joined to at least so many rows, and read the next in a thread beside.

    Parameters
    ----------
    batches : iterator of pyarrow.Table
        Of one schema; small where there are many files.
    rows : int
        How many rows there should be at a time; the last have fewer.

    Yields
    ------
    pyarrow.Table
        All rows in their order.

    Examples
    --------
    >>> few = (pa.table({"n": [number]}) for number in range(5))
    >>> [together["n"].to_pylist() for together in read_ahead(few, 2)]
    [[0, 1], [2, 3], [4]]
    """

    def some() -> pa.Table | None:
        taken: list[pa.Table] = []
        while sum(map(len, taken)) < rows:
            batch = next(batches, None)
            if batch is None:
                break
            taken.append(batch)
        return pa.concat_tables(taken) if taken else None

    with ThreadPoolExecutor(1) as beside:
        coming = beside.submit(some)
        while (here := coming.result()) is not None:
            coming = beside.submit(some)
            yield here
