"""What may be changed in a module, one small slip at a time, and a draw of such mutants.

The slips are those of cosmic-ray, and a few that it lacks (`own_mutations`). A place in the source
where one kind of slip can be made is a site; each site is as likely to be drawn, and one of its
slips is taken. A site is drawn by a hash of its line and the seed: what changes elsewhere in a
module moves no draw, and a larger sample holds the smaller one of the same seed.
"""

import ast
import difflib
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Any

from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.mutating import mutate_code
from cosmic_ray.operators.provider import OperatorProvider
from own_mutations import left_alone, own_changes

NOT_MADE = {
    *("RemoveDecorator", "VariableReplacer", "VariableInserter"),
    *("ReplaceBinaryOperator_BitAnd_Mul", "ReplaceBinaryOperator_BitOr_Add"),
}
"""A decorator declares; the next two put random numbers anywhere and want to be told where; between
booleans, where ``&`` and ``|`` stand in these packages, the last two are the same operation."""

KINDS = {
    "ReplaceBinaryOperator": "arithmetic",
    "ReplaceComparisonOperator": "comparison",
    "ReplaceUnaryOperator": "sign or not",
    "NumberReplacer": "number",
    "AddNot": "condition",
}
"""Kind of slip by the first part of the library's name; else the name is the kind."""

IDENTITY = {"Is", "IsNot"}


@dataclass(frozen=True)
class Slip:
    """One change that can be made: by the library, or between two bytes of the source."""

    operator: str
    occurrence: int = 0
    start: int = 0
    end: int = 0
    new: str = ""

    def of(self, source: str) -> str:
        """Return the module with the change in it."""
        if self.new:
            told = self.new if self.new == "pass" else f"({self.new})"
            data = source.encode()
            return (data[: self.start] + told.encode() + data[self.end :]).decode()
        return str(mutate_code(source, OPERATORS[self.operator](), self.occurrence))


@dataclass(frozen=True)
class Mutant:
    """A module with one slip in it.

    Attributes
    ----------
    path : Path
        The module, from the root of the repository.
    line, kind : int, str
        Where, and what is changed.
    before, after : str
        The lines that change, as they stand and as they become, without what surrounds them.
    source : str
        The whole module, changed.
    """

    path: Path
    line: int
    kind: str
    before: str
    after: str
    source: str


@dataclass(frozen=True)
class Site:
    """A place where one kind of slip can be made, in one way or in several."""

    path: Path
    line: int
    column: int
    kind: str
    key: str
    slips: tuple[Slip, ...]

    def chance(self, seed: int) -> bytes:
        """Return what orders sites in a draw."""
        return sha256(f"{seed} {self.key}".encode()).digest()

    def mutant(self, source: str, seed: int) -> Mutant | None:
        """Return a slip of this place, drawn by the seed; None where none compiles."""
        drawn = sorted(
            self.slips, key=lambda one: sha256(f"{seed} {self.key} {one}".encode()).digest()
        )
        for slip in drawn:
            changed = slip.of(source)
            if ast_or_none(changed) not in {None, ast_or_none(source)}:
                return Mutant(
                    self.path, self.line, self.kind, *lines_that_differ(source, changed), changed
                )
        return None


def draw(root: Path, package: str, count: int, seed: int) -> list[Mutant]:
    """Draw mutants of a package; a larger count only adds to them."""
    sources, sites = dict[Path, str](), list[Site]()
    for file in sorted((root / "scoring" / package).rglob("*.py")):
        path = file.relative_to(root)
        sources[path] = file.read_text(encoding="utf-8")
        sites += sites_of(path, sources[path])
    drawn = list[Mutant]()
    for site in sorted(sites, key=lambda one: one.chance(seed)):
        if len(drawn) == count:
            break
        if mutant := site.mutant(sources[site.path], seed):
            drawn.append(mutant)
    return drawn


def sites_of(path: Path, source: str) -> list[Site]:
    """Return every place of a module where a slip can be made."""
    found = dict[tuple[int, int, str], list[Slip]]()
    for line, column, kind, slip in [*_of_the_library(source), *_own(source)]:
        found.setdefault((line, column, kind), []).append(slip)
    rows, seen, sites = source.splitlines(), Counter[str](), list[Site]()
    for (line, column, kind), slips in sorted(found.items()):
        key = f"{path.as_posix()} {rows[line - 1]} {column} {kind}"
        seen[key] += 1
        sites.append(Site(path, line, column, kind, f"{key} {seen[key]}", tuple(slips)))
    return sites


Place = tuple[int, int, str, Slip]


def _of_the_library(source: str) -> Iterator[Place]:
    """Yield the slips of cosmic-ray, but for those where nothing is worked out."""
    nodes, without = list(ast_nodes(get_ast(source))), _spans_left_alone(source)
    for name, operator in OPERATORS.items():
        kind, occurrence = KINDS.get(name.partition("_")[0], name), 0
        for node in nodes:
            for start, _ in operator().mutation_positions(node):
                if not any(begin <= start < end for begin, end in without):
                    yield *start, kind, Slip(name, occurrence)
                occurrence += 1


def _own(source: str) -> Iterator[Place]:
    starts = [0]
    for row in source.encode().splitlines(keepends=True):
        starts.append(starts[-1] + len(row))
    for kind, old, new in own_changes(ast.parse(source)):
        start = starts[old.lineno - 1] + old.col_offset
        end = starts[(old.end_lineno or 0) - 1] + (old.end_col_offset or 0)
        column = len(source.encode()[starts[old.lineno - 1] : start].decode())
        yield old.lineno, column, kind, Slip(kind, start=start, end=end, new=ast.unparse(new))


Position = tuple[int, int]


def _spans_left_alone(source: str) -> list[tuple[Position, Position]]:
    """Return where messages, annotations, decorators and declared names stand, in characters."""
    rows = source.encode().splitlines()

    def position(line: int, column: int) -> Position:
        return line, len(rows[line - 1][:column].decode())

    return [
        (
            position(node.lineno, node.col_offset),
            position(node.end_lineno or 0, node.end_col_offset or 0),
        )
        for node in left_alone(ast.parse(source))
        if isinstance(node, ast.expr | ast.stmt)
    ]


def _operators() -> dict[str, Any]:
    provided = OperatorProvider()
    return {name: provided[name] for name in sorted(provided) if _is_made(name)}


def _is_made(name: str) -> bool:
    """Whether a slip of the library is made: one name for another object is hardly one of ours."""
    parts = name.split("_")
    if parts[0] == "ReplaceComparisonOperator" and IDENTITY & set(parts):
        return set(parts[1:]) <= IDENTITY
    return name not in NOT_MADE


OPERATORS = _operators()
"""The library's slips that are made, by name."""


def ast_or_none(source: str) -> str | None:
    """Return what a module says, or None where it does not compile."""
    try:
        compile(source, "mutant", "exec")
    except (SyntaxError, SyntaxWarning, ValueError):
        return None
    return ast.dump(ast.parse(source))


def lines_that_differ(source: str, changed: str) -> tuple[str, str]:
    """Return the lines that differ, before and after, each side on one line."""
    before, after = list[str](), list[str]()
    for row in difflib.ndiff(source.splitlines(), changed.splitlines()):
        if row.startswith("- "):
            before.append(row[2:].strip())
        elif row.startswith("+ "):
            after.append(row[2:].strip())
    return " ".join(before), " ".join(after)
