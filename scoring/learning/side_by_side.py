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


def side_by_side(
    answer: Callable[[Asked], Answer], asked: Sequence[Asked], *, first_alone: bool = False
) -> Iterator[Answer]:
    """Answer each of what is asked, two at a time, in order.

    Parameters
    ----------
    answer : callable
        What to do with each; it changes nothing that another needs.
    asked : sequence
        What is asked.
    first_alone : bool
        Whether the first is answered before the others begin: what is worked out once for all and
        kept is there for them.

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
    alone = min(len(asked), 1 if first_alone else 0)
    if workers == 1 or len(asked) - alone < 2:
        alone = len(asked)
    yield from map(answer, asked[:alone])
    if alone < len(asked):
        with ThreadPoolExecutor(workers) as pool:
            yield from pool.map(answer, asked[alone:])
