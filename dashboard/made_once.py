"""Results that are made when they are first asked for, once, whoever asks meanwhile."""

import threading
from collections import defaultdict
from collections.abc import Callable, Collection, Mapping
from typing import TypeVar

Made = TypeVar("Made")


class MadeOnce:
    """Results by name; whoever asks for one that is being made waits for it.

    Examples
    --------
    >>> results = MadeOnce()
    >>> results.get("four", lambda: 2 + 2), results.get("four", lambda: 1 / 0)
    (4, 4)
    """

    def __init__(self) -> None:
        self._made: dict[str, object] = {}
        self._making: defaultdict[str, threading.RLock] = defaultdict(threading.RLock)
        self._begun: list[str] = []

    def get(self, name: str, make: Callable[[], Made]) -> Made:
        """Return a result; make it where it is not there."""
        if name not in self._made:
            with self._making[name]:
                if name not in self._made:
                    self._begun.append(name)
                    try:
                        self._made[name] = make()
                    finally:
                        self._begun.remove(name)
        return self._made[name]  # type: ignore[return-value]  # what make returned

    def has(self, name: str) -> bool:
        """Tell whether a result is there."""
        return name in self._made

    def made(self, names: Collection[str]) -> dict[str, object]:
        """Return those results of some names that are there."""
        return {name: made for name, made in list(self._made.items()) if name in names}

    def take(self, made: Mapping[str, object]) -> None:
        """Take results that were made before."""
        self._made.update(made)

    def in_the_making(self) -> list[str]:
        """Return the names of what is being made, what was begun last at the end."""
        return list(self._begun)
