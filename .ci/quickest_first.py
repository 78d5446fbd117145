"""Let the tests that take least come first, as far as what a module prepares allows."""

import time
from collections.abc import Generator

import pytest

STEPS = (0.03, 0.3)
"""Tests up to so long come before the others, file by file in each group. [s]"""


class QuickestFirst:
    """A plug-in for pytest: orders tests by what they took before, and tells what they take now.

    Parameters
    ----------
    known : dict[str, float]
        Processor time of each test by its name, from an earlier run. [s]

    Attributes
    ----------
    took : dict[str, float]
        The same of this run. [s]
    """

    def __init__(self, known: dict[str, float]) -> None:
        self._known = known
        self.took: dict[str, float] = {}

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Put tests in order; those of one file stay together in each group."""
        items.sort(key=lambda item: sum(self._known.get(item.nodeid, 0.0) > step for step in STEPS))

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Generator[None, object, object]:
        """Measure a test, with what is prepared for it."""
        begun = time.process_time()
        answer = yield
        self.took[item.nodeid] = time.process_time() - begun
        return answer
