"""Work done side by side on two cores: threads, for most of it is arithmetic that lets others run.

Each piece is worked out as it would be alone, and the answers come in the order of what was asked:
the numbers are the same whatever cores there are.
"""

import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

Asked = TypeVar("Asked")
Answer = TypeVar("Answer")

MOST_WORKERS = 2
"""No more pieces at a time, whatever cores there are: each holds its own part of memory. Ours."""


def side_by_side(answer: Callable[[Asked], Answer], asked: Sequence[Asked]) -> Iterator[Answer]:
    """Answer each of what is asked, two at a time, in order.

    Parameters
    ----------
    answer : callable
        What to do with each; it changes nothing that another needs.
    asked : sequence
        What is asked.

    Yields
    ------
    Answer
        As soon as it and all before it are there.

    Examples
    --------
    >>> list(side_by_side(lambda number: number**2, [1, 2, 3]))
    [1, 4, 9]
    """
    workers = min(MOST_WORKERS, os.cpu_count() or 1)
    if workers == 1 or len(asked) < 2:
        yield from map(answer, asked)
        return
    with ThreadPoolExecutor(workers) as pool:
        yield from pool.map(answer, asked)
