"""What tests do where nothing is changed, kept for the next run of the mutants."""

import json
from dataclasses import asdict
from hashlib import sha256
from pathlib import Path

from tests_that_reach import Reach

FOLDER = ".mutants_cache"


def noted_before(root: Path, packages: list[str], *, tests_pass: bool) -> dict[str, Reach]:
    """Return what still holds of what was noted, by package.

    Parameters
    ----------
    root, packages : Path, list[str]
        The work tree, and folders of scoring.
    tests_pass : bool
        It holds although tests have changed. A test that comes to other lines than it did may then
        not be tried where it now comes: too few mutants are killed, never too many.
    """
    found = {}
    for package in packages:
        file = root / FOLDER / f"{package}.json"
        noted = json.loads(file.read_text(encoding="utf-8")) if file.exists() else {}
        same_tests = tests_pass or noted.get("tests") == _digest(root / "tests" / package)
        if noted.get("sources") == _digest(root / "scoring") and same_tests:
            found[package] = Reach(noted["took"], noted["lines"])
    return found


def note(root: Path, package: str, stands: Reach) -> None:
    """Keep what the tests of a package do."""
    told = {
        "sources": _digest(root / "scoring"),
        "tests": _digest(root / "tests" / package),
        **asdict(stands),
    }
    (root / FOLDER).mkdir(exist_ok=True)
    (root / FOLDER / f"{package}.json").write_text(json.dumps(told), encoding="utf-8")


def _digest(folder: Path) -> str:
    """Return what tells one state of a folder's modules from another."""
    whole = sha256()
    for path in sorted(folder.rglob("*.py")):
        whole.update(path.relative_to(folder).as_posix().encode() + path.read_bytes())
    return whole.hexdigest()
