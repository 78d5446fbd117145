"""Mutants that a person judged to change nothing: each line of source, what it becomes, and why."""

import tomllib
from dataclasses import dataclass
from pathlib import Path

from mutations import Mutant

JUDGED = Path("tests") / "mutants" / "judged_equivalent.toml"


@dataclass(frozen=True)
class Judged:
    """One line of a module, and what it may become without any difference.

    Attributes
    ----------
    path, line, why : str
        The module, its line as it stands without what surrounds it, and the reason.
    becomes : tuple[str, ...]
        The changed lines that make no difference.
    """

    path: str
    line: str
    becomes: tuple[str, ...]
    why: str


def judged(root: Path) -> list[Judged]:
    """Read what was judged."""
    tables = tomllib.loads((root / JUDGED).read_text(encoding="utf-8"))
    return [
        Judged(path, one["line"], tuple(one["becomes"]), one["why"])
        for path, entries in tables.items()
        for one in entries
    ]


def why_equivalent(mutant: Mutant, known: list[Judged]) -> str | None:
    """Return why a mutant changes nothing, None where nobody judged it."""
    for one in known:
        same = one.path == mutant.path.as_posix() and one.line == mutant.before
        if same and mutant.after in one.becomes:
            return one.why
    return None
