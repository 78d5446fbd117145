"""The last few results by what was asked, for people who go back and forth, and for all at once."""

import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable
from typing import Generic, TypeVar

Made = TypeVar("Made")


class LastFew(Generic[Made]):
    """Results by what was asked; the one that was asked for longest ago goes first.

    Two who ask the same at the same moment may both make it: that is rare, and costs no more than
    keeping nothing.

    Parameters
    ----------
    kept : int
        So many are kept.

    Examples
    --------
    >>> squares = LastFew(2)
    >>> [squares.get(n, lambda n=n: n * n) for n in (1, 2, 1, 3)]
    [1, 4, 1, 9]
    >>> squares.get(1, lambda: 1 / 0)  # asked for after 2, which is gone
    1
    """

    def __init__(self, kept: int) -> None:
        self._kept = kept
        self._made: OrderedDict[Hashable, Made] = OrderedDict()
        self._lock = threading.Lock()

    def get(self, asked: Hashable, make: Callable[[], Made]) -> Made:
        """Return a result; make it where it is not there."""
        with self._lock:
            if asked in self._made:
                self._made.move_to_end(asked)
                return self._made[asked]
        made = make()
        with self._lock:
            self._made[asked] = made
            while len(self._made) > self._kept:
                self._made.popitem(last=False)
        return made
