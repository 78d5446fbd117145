"""Run the tests of a package with a mutant in the code, each in a copy of the tree."""

import compileall
import json
import os
import re
import resource
import shutil
import signal
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from importlib import import_module
from multiprocessing import get_context
from multiprocessing.connection import wait
from pathlib import Path

import pytest
from hypothesis import Phase, settings
from mutations import Mutant
from tests_that_reach import LikeliestFirst, NotesReach, Reach

ROOT = Path(__file__).resolve().parent.parent
PATIENCE = 4.0
"""A mutant that works so many times as long as its tests do unchanged, and `BESIDES`, loops. [-]"""

BESIDES = 20.0
"""What a run takes besides its tests, several times over: import, collection, examples. [s]"""

SURVIVED, KILLED, ENDLESS = "SURVIVED", "killed", "killed, it did not end"
WORK_DONE = "work_done.json"
"""File in a copy that tells of a run that came to an end: processor time, and what was noted."""

ONLY_WHETHER_THEY_FAIL = (
    *("-o", "addopts=", "--doctest-modules", "--ignore-glob=*/conftest.py", "-m", "not long"),
    *("-x", "-q", "--tb=no", "--assert=plain", "-p", "no:cacheprovider"),
    *("-p", "_hypothesis_pytestplugin", "--hypothesis-profile=mutants"),
)
"""The first failure ends a run; nobody reads how a test fails, or waits for a smaller example."""

HEAVY = (
    *("numpy", "pandas", "pyarrow.csv", "pyarrow.parquet", "openpyxl", "PIL.Image"),
    *("scipy.optimize", "scipy.sparse.csgraph", "scipy.stats", "scipy.integrate"),
)
"""What is imported once for all runs."""

settings.register_profile(
    "mutants", settings.get_profile("ci"), phases=[Phase.explicit, Phase.generate]
)

NO_TEST = 5
"""What pytest exits with where there is no test."""

FORK = get_context("fork")
"""Each run is a copy of this process, so that what takes seconds to import is there already."""


@dataclass(frozen=True)
class Trial:
    """The tests of a package, with a mutant in it or as it stands."""

    package: str
    mutant: Mutant | None = None

    def stages(self, copy: Path) -> list[list[str]]:
        """Return the examples and tests there are in a copy, stage by stage.

        A stage is begun only if those before it noticed nothing, for what is started costs more
        than what fails at once: the examples and tests that name the module of a mutant, then tests
        that name what takes something from it, then all others.
        """
        files = sorted((copy / "tests" / self.package).glob("**/test_*.py"))
        tests = {str(path.relative_to(copy)): path.read_text(encoding="utf-8") for path in files}
        if self.mutant is None:
            return [[f"scoring/{self.package}", *tests]]
        first = [name for name in tests if _names(tests[name], {self.mutant.path})]
        takers = _takers(copy, self.mutant.path)
        second = [name for name in tests if name not in first and _names(tests[name], takers)]
        third = [name for name in tests if name not in {*first, *second}]
        return [[self.mutant.path.as_posix(), *first], second, third]


def _names(text: str, modules: set[Path]) -> bool:
    """Whether a text names one of some modules, as an import does."""
    return any(
        re.search(rf"\b{one.parent.name}(\.| import .*\b){one.stem}\b", text) for one in modules
    )


def _takers(copy: Path, module: Path) -> set[Path]:
    """Return the modules of the same package that take something from one."""
    return {
        path.relative_to(copy)
        for path in (copy / module).parent.glob("*.py")
        if _names(path.read_text(encoding="utf-8"), {module})
    }


@dataclass(frozen=True)
class Outcome:
    """What became of a trial: ``SURVIVED``, ``KILLED`` or ``ENDLESS``.

    ``seconds`` are those of the processor: what else the machine does must not count. ``reach``
    is what was noted of the tests, where nothing was changed.
    """

    trial: Trial
    words: str
    seconds: float
    reach: Reach


def as_they_stand(packages: list[str], at_once: int) -> dict[str, Reach]:
    """Run the tests of packages as they stand.

    Raises
    ------
    RuntimeError
        If tests fail.
    """
    stands = {}
    with _copies(at_once) as copies:
        for outcome in _in_turn([Trial(package) for package in packages], copies, {}):
            if outcome.words != SURVIVED:
                raise RuntimeError(f"tests/{outcome.trial.package} fail before anything is changed")
            stands[outcome.trial.package] = outcome.reach
    return stands


def try_all(mutants: list[Mutant], at_once: int, stands: dict[str, Reach]) -> Iterator[Outcome]:
    """Try each mutant, some at a time; they come as they end.

    Parameters
    ----------
    mutants : list[Mutant]
        What is tried.
    at_once : int
        How many are tried at a time, each in a copy of the tree.
    stands : dict of str to Unchanged
        What the tests of each package take, and where they come, where nothing is changed.
    """
    with _copies(at_once) as copies:
        yield from _in_turn([Trial(one.path.parts[1], one) for one in mutants], copies, stands)


@contextmanager
def _copies(count: int) -> Iterator[list[Path]]:
    """Give copies of the work tree, as it is now, with what Python compiled of it."""
    for heavy in HEAVY:
        import_module(heavy)
    nothing_of = shutil.ignore_patterns(".*", "build", "dist")
    with tempfile.TemporaryDirectory(prefix="mutants_") as folder:
        copies = [Path(folder) / f"tree_{place}" for place in range(count)]
        for copy in copies:
            shutil.copytree(ROOT, copy, ignore=nothing_of)
            compileall.compile_dir(copy / "scoring", quiet=2)
        yield copies


def _in_turn(
    trials: list[Trial], copies: list[Path], stands: dict[str, Reach]
) -> Iterator[Outcome]:
    """Run trials, as many at a time as there are copies."""
    waiting, free, running = trials[::-1], list(copies), list[_Run]()
    while waiting or running:
        while waiting and free:
            trial = waiting.pop()
            running.append(_Run(trial, free.pop(), stands.get(trial.package)))
        wait([run.process.sentinel for run in running])
        for run in list(running):
            if outcome := run.outcome():
                running.remove(run)
                free.append(run.copy)
                yield outcome


class _Run:
    """One run of a trial in a copy of the tree."""

    def __init__(self, trial: Trial, copy: Path, stands: Reach | None) -> None:
        self.copy, self._trial, self._source = copy, trial, b""
        if mutant := trial.mutant:
            path = copy / mutant.path
            for compiled in path.parent.glob(f"__pycache__/{path.stem}.*"):
                compiled.unlink()  # two of one size and second would be taken for one another
            self._source = path.read_bytes()
            path.write_text(mutant.source, encoding="utf-8")
        (copy / WORK_DONE).unlink(missing_ok=True)
        plugin = _plugin(trial, copy, self._source.decode(), stands)
        stages = plugin.worth_starting(trial.stages(copy))
        self._limit = resource.RLIM_INFINITY
        if isinstance(plugin, LikeliestFirst):
            self._limit = int(BESIDES + PATIENCE * plugin.seconds)
        asked = copy, stages, self._limit, plugin
        self.process = FORK.Process(target=_run_tests, args=asked)
        self.process.start()

    def outcome(self) -> Outcome | None:
        """Tell what came out, None while it runs; the copy is then as it was."""
        if self.process.is_alive():
            return None
        self.process.join()
        words = SURVIVED if self.process.exitcode in {0, NO_TEST} else KILLED
        if self.process.exitcode in {-signal.SIGXCPU, -signal.SIGKILL}:
            words = ENDLESS
        if mutant := self._trial.mutant:
            (self.copy / mutant.path).write_bytes(self._source)
        if words == ENDLESS:
            return Outcome(self._trial, words, self._limit, Reach({}, {}))
        done = json.loads((self.copy / WORK_DONE).read_text(encoding="utf-8"))
        return Outcome(self._trial, words, done["seconds"], Reach(done["took"], done["lines"]))


Plugin = NotesReach | LikeliestFirst


def _plugin(trial: Trial, copy: Path, source: str, stands: Reach | None) -> Plugin:
    if stands is None or trial.mutant is None:
        return NotesReach(copy, trial.package)
    tests, files = stands.tests_of(trial.mutant.path, trial.mutant.line, source)
    return LikeliestFirst(stands, tests, files)


def _run_tests(copy: Path, stages: list[list[str]], limit: int, plugin: Plugin) -> None:
    """Run tests in a copy; the exit code of this process is pytest's, or the limit's signal."""
    resource.setrlimit(resource.RLIMIT_CPU, (limit, resource.RLIM_INFINITY))
    begun = time.process_time()
    os.chdir(copy)
    os.environ["PYTHONPATH"] = sys.path[0] = str(copy)
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"  # only what these tests need
    sys.dont_write_bytecode = True
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.dup2(nowhere, 2)
    code: int = NO_TEST
    for tests in filter(None, stages):
        code = pytest.main([*ONLY_WHETHER_THEY_FAIL, *tests], plugins=[plugin])
        if code not in {0, NO_TEST}:
            break
    reach = plugin.noted() if isinstance(plugin, NotesReach) else Reach({}, {})
    done = {"seconds": time.process_time() - begun, "took": reach.took, "lines": reach.lines}
    (copy / WORK_DONE).write_text(json.dumps(done), encoding="utf-8")
    sys.exit(code)
