"""Run the tests of a package with a mutant in the code, each in a copy of the tree."""

import compileall
import json
import os
import resource
import shutil
import signal
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from importlib import import_module
from multiprocessing import get_context
from multiprocessing.connection import wait
from pathlib import Path

import pytest
from hypothesis import Phase, settings
from mutations import Mutant
from quickest_first import QuickestFirst

ROOT = Path(__file__).resolve().parent.parent
PATIENCE = 4.0
"""A mutant that works so many times as long as the package's tests do, and a minute, loops. [-]"""

SURVIVED, KILLED, ENDLESS = "SURVIVED", "killed", "killed, it did not end"
WORK_DONE = "work_done.json"
"""File in a copy that tells how long the processor worked in a run that came to an end."""

ONLY_WHETHER_THEY_FAIL = (
    *("-x", "-q", "-n", "0", "--tb=no", "--assert=plain", "-p", "no:cacheprovider"),
    "--hypothesis-profile=mutants",
)
"""The first failure ends a run; nobody reads how a test fails, or waits for a smaller example."""

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

    def tests(self, copy: Path) -> list[str]:
        """Return the examples and tests there are in a copy, those that name the module first."""
        tests = sorted((copy / "tests" / self.package).glob("**/test_*.py"))
        if self.mutant:
            name = f"{self.package}.{self.mutant.path.stem}"
            tests.sort(key=lambda path: name not in path.read_text(encoding="utf-8"))
        examples = self.mutant.path if self.mutant else Path("scoring") / self.package
        return [str(examples), *(str(path.relative_to(copy)) for path in tests)]


@dataclass(frozen=True)
class Outcome:
    """What became of a trial: ``SURVIVED``, ``KILLED`` or ``ENDLESS``.

    ``seconds`` are those of the processor: what else the machine does must not count. ``tests``
    are how long each test took, by its name.
    """

    trial: Trial
    words: str
    seconds: float
    tests: dict[str, float]


def try_all(mutants: list[Mutant], at_once: int, limit: int | None) -> Iterator[Outcome]:
    """Try each mutant, some at a time; they come as they end.

    Parameters
    ----------
    mutants : list[Mutant]
        What is tried.
    at_once : int
        How many are tried at a time, each in a copy of the tree.
    limit : int or None
        What a mutant may take of the processor [s]. None: run the tests of each package as it
        stands, and take a multiple of what they take.

    Raises
    ------
    RuntimeError
        If tests fail before anything is changed.
    """
    for heavy in ("numpy", "pandas", "pyarrow", "scipy.optimize", "scipy.sparse.csgraph"):
        import_module(heavy)
    with ExitStack() as stack:
        copies = [stack.enter_context(_copy_of_the_tree()) for _ in range(at_once)]
        packages = sorted({one.path.parts[1] for one in mutants})
        limits = dict.fromkeys(packages, limit or 0)
        took = dict[str, float]()
        unchanged = [] if limit else [Trial(package) for package in packages]
        for outcome in _in_turn(unchanged, copies, {}, {}):
            if outcome.words != SURVIVED:
                raise RuntimeError(f"tests/{outcome.trial.package} fail before anything is changed")
            limits[outcome.trial.package] = int(60 + PATIENCE * outcome.seconds)
            took |= outcome.tests
        trials = [Trial(one.path.parts[1], one) for one in mutants]
        yield from _in_turn(trials, copies, limits, took)


@contextmanager
def _copy_of_the_tree() -> Iterator[Path]:
    """Give a copy of the work tree, as it is now."""
    nothing_of = shutil.ignore_patterns(".*", "__pycache__", "build", "dist")
    with tempfile.TemporaryDirectory(prefix="mutants_") as folder:
        copy = Path(folder) / "tree"
        shutil.copytree(ROOT, copy, ignore=nothing_of)
        for part in ("scoring", "demo_data", "tests"):
            compileall.compile_dir(copy / part, quiet=2)
        yield copy


def _in_turn(
    trials: list[Trial], copies: list[Path], limits: dict[str, int], took: dict[str, float]
) -> Iterator[Outcome]:
    """Run trials, as many at a time as there are copies."""
    waiting, free, running = trials[::-1], list(copies), list[_Run]()
    while waiting or running:
        while waiting and free:
            trial = waiting.pop()
            limit = limits.get(trial.package, resource.RLIM_INFINITY)
            running.append(_Run(trial, free.pop(), limit, took))
        wait([run.process.sentinel for run in running])
        for run in list(running):
            if outcome := run.outcome():
                running.remove(run)
                free.append(run.copy)
                yield outcome


class _Run:
    """One run of a trial in a copy of the tree."""

    def __init__(self, trial: Trial, copy: Path, limit: int, took: dict[str, float]) -> None:
        self.copy, self._trial, self._source = copy, trial, b""
        if mutant := trial.mutant:
            path = copy / mutant.path
            for compiled in path.parent.glob(f"__pycache__/{path.stem}.*"):
                compiled.unlink()  # two of one size and second would be taken for one another
            self._source = path.read_bytes()
            path.write_text(mutant.source, encoding="utf-8")
        never_ends = {"seconds": limit, "tests": {}}
        (copy / WORK_DONE).write_text(json.dumps(never_ends), encoding="utf-8")
        self.process = FORK.Process(target=_run_tests, args=(copy, trial.tests(copy), limit, took))
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
        used = json.loads((self.copy / WORK_DONE).read_text(encoding="utf-8"))
        return Outcome(self._trial, words, float(used["seconds"]), used["tests"])


def _run_tests(copy: Path, tests: list[str], limit: int, took: dict[str, float]) -> None:
    """Run tests in a copy; the exit code of this process is pytest's, or the limit's signal."""
    resource.setrlimit(resource.RLIMIT_CPU, (limit, resource.RLIM_INFINITY))
    begun = time.process_time()
    os.chdir(copy)
    os.environ["PYTHONPATH"] = sys.path[0] = str(copy)
    sys.dont_write_bytecode = True
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.dup2(nowhere, 2)
    order = QuickestFirst(took)
    code = pytest.main([*ONLY_WHETHER_THEY_FAIL, *tests], plugins=[order])
    used = {"seconds": time.process_time() - begun, "tests": order.took}
    (copy / WORK_DONE).write_text(json.dumps(used), encoding="utf-8")
    sys.exit(code)
