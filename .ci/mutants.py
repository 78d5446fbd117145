"""Make small slips in the code and tell which ones the tests of its own package notice.

Run as ``python .ci/mutants.py --seed 7 --count 40 rules planning``. The work tree is never
touched: each slip, a mutant, stands alone in a copy of it. A mutant is killed when the tests in
``tests/PACKAGE`` or the examples in the mutated module fail, or do not end in time. One that is
reached only while its module is imported counts the same: each run imports everything anew. What
survives is code that nobody would miss: exits with the number of survivors.

A library (mutmut, cosmic-ray) would keep a data base, want a configuration of its own and mutate
whole modules in their order; a random draw, each package in turn, takes fewer lines than that.
"""

import argparse
import compileall
import os
import random
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from pathlib import Path
from queue import SimpleQueue

from mutations import Mutant, mutants_of

ROOT = Path(__file__).resolve().parent.parent
PACKAGES = ("mechanics", "rules", "handbook", "timeline", "planning")
AT_ONCE = 2
PATIENCE = 10.0
"""A mutant that takes so many times as long as the package's tests do, and a minute, loops. [-]"""


@dataclass(frozen=True)
class Outcome:
    """What became of a mutant: killed, survived, or killed as it did not end."""

    mutant: Mutant
    words: str
    seconds: float


def draw(packages: list[str], count: int, seed: int) -> list[Mutant]:
    """Draw mutants: each package in turn, each kind of change as likely, one a line of code."""
    chance = random.Random(seed)  # noqa: S311 - a draw, no secret
    left = {package: _by_kind(package) for package in packages}
    drawn: list[Mutant] = []
    lines: set[tuple[Path, int]] = set()
    while len(drawn) < count and any(left.values()):
        for package in packages:
            while left[package] and len(drawn) < count:
                kind = chance.choice(sorted(left[package]))
                of_kind = left[package][kind]
                one = of_kind.pop(chance.randrange(len(of_kind)))
                if not of_kind:
                    del left[package][kind]
                if (one.path, one.line) not in lines:
                    lines.add((one.path, one.line))
                    drawn.append(one)
                    break
    return drawn


def _by_kind(package: str) -> dict[str, list[Mutant]]:
    kinds: dict[str, list[Mutant]] = {}
    for path in sorted((ROOT / "scoring" / package).rglob("*.py")):
        for one in mutants_of(path.relative_to(ROOT), path.read_bytes()):
            kinds.setdefault(one.kind, []).append(one)
    return kinds


@contextmanager
def _copy_of_the_tree() -> Iterator[Path]:
    """Give a copy of the work tree, as it is now."""
    nothing_of = shutil.ignore_patterns(".*", "__pycache__", "build", "dist")
    with tempfile.TemporaryDirectory(prefix="mutants_") as folder:
        copy = Path(folder) / "tree"
        shutil.copytree(ROOT, copy, ignore=nothing_of)
        compileall.compile_dir(copy / "scoring", quiet=2)
        yield copy


def _tests_of(copy: Path, package: str, module: Path) -> list[str]:
    """Return the examples in a module and the tests of its package, those that name it first."""
    tests = sorted((copy / "tests" / package).glob("**/test_*.py"))
    name = f"{package}.{module.stem}"
    tests.sort(key=lambda path: name not in path.read_text(encoding="utf-8"))
    return [str(module), *(str(path.relative_to(copy)) for path in tests)]


def _pass(copy: Path, tests: list[str], limit: float | None) -> bool:
    """Run tests in a copy."""
    options = ["-x", "-q", "-n", "0", "-p", "no:cacheprovider"]
    done = subprocess.run(
        [sys.executable, "-m", "pytest", *options, *tests],
        cwd=copy,
        env={**os.environ, "PYTHONPATH": str(copy), "PYTHONDONTWRITEBYTECODE": "1"},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        timeout=limit,
        check=False,
    )
    return done.returncode in {0, 5}  # 5: there is no test


def _fate(mutant: Mutant, copy: Path, limit: float) -> Outcome:
    path, begun = copy / mutant.path, time.monotonic()
    source = path.read_bytes()
    for compiled in path.parent.glob(f"__pycache__/{path.stem}.*"):
        compiled.unlink()  # two of one size and second would be taken for one another
    path.write_bytes(mutant.of(source))
    try:
        passed = _pass(copy, _tests_of(copy, mutant.path.parts[1], mutant.path), limit)
        words = "SURVIVED" if passed else "killed"
    except subprocess.TimeoutExpired:
        words = "killed, it did not end"
    finally:
        path.write_bytes(source)
    return Outcome(mutant, words, time.monotonic() - begun)


def try_all(mutants: list[Mutant]) -> Iterator[Outcome]:
    """Try each mutant in a copy of the tree, two at a time.

    Raises
    ------
    RuntimeError
        If tests fail before anything is changed.
    """
    with ExitStack() as stack, ThreadPoolExecutor(AT_ONCE) as pool:
        free: SimpleQueue[Path] = SimpleQueue()
        for _ in range(AT_ONCE):
            free.put(stack.enter_context(_copy_of_the_tree()))

        def seconds_unchanged(package: str) -> float:
            with _taken_from(free) as copy:
                begun = time.monotonic()
                if not _pass(copy, [f"scoring/{package}", f"tests/{package}"], None):
                    raise RuntimeError(f"tests/{package} fail before anything is changed")
                return time.monotonic() - begun

        packages = sorted({one.path.parts[1] for one in mutants})
        took = dict(zip(packages, pool.map(seconds_unchanged, packages), strict=True))

        def try_one(mutant: Mutant) -> Outcome:
            with _taken_from(free) as copy:
                return _fate(mutant, copy, 60 + PATIENCE * took[mutant.path.parts[1]])

        yield from pool.map(try_one, mutants)


@contextmanager
def _taken_from(free: SimpleQueue[Path]) -> Iterator[Path]:
    """Take a copy of the tree that nobody works in, and give it back."""
    copy = free.get()
    try:
        yield copy
    finally:
        free.put(copy)


def main() -> int:
    """Draw mutants, try them, tell what became of each; return how many survived."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("packages", nargs="*", default=PACKAGES, help="folders of scoring")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--count", type=int, default=40)
    parser.add_argument("--only", type=int, nargs="+", help="numbers of the draw to try")
    parser.add_argument("--list", action="store_true", help="draw, and try nothing")
    asked = parser.parse_args()
    drawn = draw(list(asked.packages), asked.count, asked.seed)
    numbers = asked.only or list(range(1, len(drawn) + 1))
    picked = [drawn[number - 1] for number in numbers]
    if asked.list:
        for number, one in zip(numbers, picked, strict=True):
            print(number, _told(one))
        return 0
    survived = 0
    for number, outcome in zip(numbers, try_all(picked), strict=True):
        survived += outcome.words == "SURVIVED"
        print(f"{number:3} {outcome.words:9} {_told(outcome.mutant)}", end="", flush=True)
        print(f"  ({outcome.seconds:.0f} s)", flush=True)
    print(f"\n{len(picked) - survived} of {len(picked)} mutants killed by their own tests")
    return survived


def _told(one: Mutant) -> str:
    return f"{one.path}:{one.line} [{one.kind}] {one.before} -> {one.after}"


if __name__ == "__main__":
    sys.exit(main())
