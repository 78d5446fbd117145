"""Which tests reach a line, and how long each takes: noted once, then the likeliest come first."""

import ast
import time
from collections.abc import Generator
from dataclasses import dataclass
from pathlib import Path

import pytest
from coverage import Coverage

STEPS = (0.03, 0.3)
"""Tests up to so long come before the others, file by file in each group. [s]"""

NOT_KNOWN = 100.0
"""What the tests of a package take, if nothing was noted. [s]"""

Lines = dict[str, dict[str, list[str]]]
"""Tests by line, by module."""


@dataclass(frozen=True)
class Reach:
    """What was noted of the tests of a package.

    Attributes
    ----------
    took : dict[str, float]
        Processor time of each test by its name, with what is prepared for it. [s]
    lines : dict[str, dict[str, list[str]]]
        By module and line, the tests that came there.
    """

    took: dict[str, float]
    lines: Lines

    def tests_of(self, path: Path, line: int, source: str) -> tuple[set[str], set[str]]:
        """Return the tests to try first, and the files of tests that are to be tried at all.

        Parameters
        ----------
        path, line, source : Path, int, str
            A module, one of its lines, and its text.

        Returns
        -------
        tests, files : set[str]
            The tests that run the function around the line, and their files: what a module of
            tests prepares once is noted for its first test alone. Outside a function, or where a
            function keeps what it returned, the tests that come to the module, and no files: all.
        """
        noted = self.lines.get(path.as_posix(), {})
        span = _function_around(line, ast.parse(source))
        if span is None:
            return {test for tests in noted.values() for test in tests}, set()
        tests = {test for one in span for test in noted.get(str(one), [])}
        return tests, {_file(test) for test in tests}


def _file(test: str) -> str:
    return test.partition("::")[0]


def _function_around(line: int, module: ast.Module) -> range | None:
    """Return the lines of the outermost function, None where it is not run each time."""
    for node in ast.walk(module):
        if isinstance(node, ast.FunctionDef) and node.body[0].lineno <= line <= (
            node.end_lineno or 0
        ):
            kept = any("cache" in ast.unparse(one) for one in node.decorator_list)
            return None if kept else range(node.body[0].lineno, (node.end_lineno or 0) + 1)
    return None


class NotesReach:
    """A plug-in for pytest that notes what each test takes and where it comes.

    Parameters
    ----------
    root, package : Path, str
        The tree, and the package of scoring whose lines are noted.
    """

    def __init__(self, root: Path, package: str) -> None:
        self._root = root
        folder = str(root / "scoring" / package)
        self._coverage = Coverage(data_file=None, include=[f"{folder}/*"], config_file=False)
        self._took: dict[str, float] = {}

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Generator[None, object, object]:
        """Note one test, with what is prepared for it."""
        begun = time.process_time()
        self._coverage.start()
        self._coverage.switch_context(item.nodeid)
        answer = yield
        self._coverage.stop()
        self._took[item.nodeid] = time.process_time() - begun
        return answer

    @staticmethod
    def worth_starting(stages: list[list[str]]) -> list[list[str]]:
        """Return the files that are started, stage by stage: all of them."""
        return stages

    def noted(self) -> Reach:
        """Return what was noted."""
        data = self._coverage.get_data()
        lines: Lines = {}
        for file in data.measured_files():
            path = Path(file).relative_to(self._root.resolve()).as_posix()
            lines[path] = {
                str(line): [test for test in tests if test]
                for line, tests in data.contexts_by_lineno(file).items()
            }
        return Reach(self._took, lines)


class LikeliestFirst:
    """A plug-in for pytest: tests that reach a line come first, the quickest of them before others.

    Parameters
    ----------
    reach : Reach
        What was noted; a test that was not there then comes first of all.
    tests, files : set[str]
        The tests that reach the line; the files that are run at all, none for all.
    """

    def __init__(self, reach: Reach, tests: set[str], files: set[str]) -> None:
        self._took, self._tests, self._files = reach.took, tests, files

    @property
    def seconds(self) -> float:
        """Processor time that the tests that are run take unchanged, as far as is known [s]."""
        if not self._took:
            return NOT_KNOWN
        return sum(took for test, took in self._took.items() if self._may_reach(test))

    def worth_starting(self, stages: list[list[str]]) -> list[list[str]]:
        """Return the files that may reach the line, in one stage; stage by stage if none is known.

        In one, for what is quick comes first then, in whichever file it stands.
        """
        if not self._files:
            return stages
        known = {_file(test) for test in self._took}
        every = [one for stage in stages for one in stage]
        return [[one for one in every if one not in known or one in self._files]]

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Leave out what cannot reach the line, and put the others in order."""
        items[:] = [item for item in items if self._may_reach(item.nodeid)]
        items.sort(key=self._place)

    def _may_reach(self, test: str) -> bool:
        return not self._files or test not in self._took or _file(test) in self._files

    def _place(self, item: pytest.Item) -> tuple[bool, int]:
        test = item.nodeid
        reaches = test in self._tests or test not in self._took
        return not reaches, sum(self._took.get(test, 0.0) > step for step in STEPS)
