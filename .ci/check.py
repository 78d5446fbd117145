"""Check everything: format, lint, types, import directions, reach, tests. Exits with the failures.

Run as ``python .ci/check.py``; works without a POSIX shell. Give ``--fast`` to leave out the
tests that are marked slow.
"""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent


def steps(*, fast: bool) -> dict[str, list[str]]:
    """Return the steps and the command of each."""
    python = [sys.executable, "-m"]
    tests = [*python, "pytest", "-n", "auto"] + (["-m", "not slow and not long"] if fast else [])
    return {
        "format": [*python, "ruff", "format", "--check", "."],
        "lint": [*python, "ruff", "check", "."],
        "types": [*python, "mypy"],
        "imports": [str(Path(sys.executable).parent / "lint-imports")],
        "reach": [sys.executable, ".ci/reach.py"],
        "tests": tests,
    }


def main() -> int:
    """Run every step, tell which failed, and return their number."""
    failed = []
    for name, command in steps(fast="--fast" in sys.argv[1:]).items():
        print(f"\n== {name}", flush=True)
        if subprocess.run(command, cwd=ROOT, check=False).returncode != 0:
            failed.append(name)
    print(f"\nfailed: {', '.join(failed)}" if failed else "\nall checks passed", flush=True)
    return len(failed)


if __name__ == "__main__":
    sys.exit(main())
