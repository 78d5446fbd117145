"""Check everything: format, lint, types, import directions, reach, tests. Exits with the failures.

Run as ``python .ci/check.py``; works without a POSIX shell. Give ``--fast`` to leave out the
tests that are marked slow. The tests run beside the other steps; what they say is kept and told
after what the others say.
"""

import os
import subprocess
import sys
from io import BufferedReader
from pathlib import Path
from queue import SimpleQueue
from subprocess import PIPE, STDOUT
from threading import Thread

ROOT = Path(__file__).resolve().parent.parent

EACH_ALONE = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")
"""A process of the tests for each core: more threads in each would only wait for one another."""

NOT_KEPT = "PYTHONDONTWRITEBYTECODE"


def steps() -> dict[str, list[str]]:
    """Return the steps beside the tests, and the command of each."""
    python = [sys.executable, "-m"]
    return {
        "format": [*python, "ruff", "format", "--check", "."],
        "lint": [*python, "ruff", "check", "."],
        "types": [*python, "mypy"],
        "imports": [str(Path(sys.executable).parent / "lint-imports")],
        "reach": [sys.executable, ".ci/reach.py"],
    }


def tests(*, fast: bool) -> list[str]:
    """Return the command of the tests."""
    colour = ["--color=yes"] if sys.stdout.isatty() else []
    marks = ["-m", "not slow and not long"] if fast else []
    # One more than cores, for tests in a browser wait for its pages. A worker takes tests as they
    # stand, so that what a module prepares is prepared once.
    workers = str((os.cpu_count() or 1) + 1)
    return [sys.executable, "-m", "pytest", "-n", workers, "--dist", "worksteal", *colour, *marks]


def environment() -> dict[str, str]:
    """Return the environment of the steps; what Python compiled is kept, whatever a container says.

    Without it each of the tests' hundreds of processes compiles all that it imports anew, which is
    more work than what most of them are started for.
    """
    kept = {name: value for name, value in os.environ.items() if name != NOT_KEPT}
    return dict.fromkeys(EACH_ALONE, "1") | kept


def main() -> int:
    """Run every step, tell which failed, and return their number."""
    failed = []
    command = tests(fast="--fast" in sys.argv[1:])
    around = environment()
    with subprocess.Popen(command, cwd=ROOT, env=around, stdout=PIPE, stderr=STDOUT) as testing:
        said: SimpleQueue[bytes] = SimpleQueue()
        Thread(target=keep, args=(testing.stdout, said)).start()
        for name, words in steps().items():
            print(f"\n== {name}", flush=True)
            if subprocess.run(words, cwd=ROOT, env=around, check=False).returncode != 0:
                failed.append(name)
        print("\n== tests", flush=True)
        while some := said.get():
            sys.stdout.buffer.write(some)
            sys.stdout.buffer.flush()
    if testing.returncode != 0:
        failed.append("tests")
    print(f"\nfailed: {', '.join(failed)}" if failed else "\nall checks passed", flush=True)
    return len(failed)


def keep(stream: BufferedReader, said: SimpleQueue[bytes]) -> None:
    """Keep what is said, so that who says it never waits for a reader; nothing is the end."""
    while some := stream.read1():
        said.put(some)
    said.put(b"")


if __name__ == "__main__":
    sys.exit(main())
