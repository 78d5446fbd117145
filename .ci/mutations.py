"""What may be changed in a module, one small slip at a time: the mutants of its source.

Left alone: text of every kind, annotations, decorators, ``__all__``, and what is raised.
"""

import ast
import copy
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

Node = TypeVar("Node", bound=ast.AST)

ARITHMETIC: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.Pow: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Mod: ast.Mult,
    ast.BitAnd: ast.BitOr,
    ast.BitOr: ast.BitAnd,
    ast.LShift: ast.RShift,
    ast.RShift: ast.LShift,
}
COMPARISONS: dict[type[ast.cmpop], tuple[type[ast.cmpop], ...]] = {
    ast.Lt: (ast.LtE, ast.GtE),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.LtE),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
}
_PAIRS = (
    ("min", "max"),
    ("minimum", "maximum"),
    ("fmin", "fmax"),
    ("argmin", "argmax"),
    ("cummin", "cummax"),
    ("any", "all"),
    ("floor", "ceil"),
    ("isna", "notna"),
    ("sin", "cos"),
    ("log", "log1p"),
    ("exp", "expm1"),
    ("sum", "mean"),
    ("head", "tail"),
    ("first", "last"),
    ("zeros", "ones"),
    ("union", "intersection"),
)
PAIRS = {**dict(_PAIRS), **{second: first for first, second in _PAIRS}}
"""Names of functions that are easily taken for one another."""

OTHER_SIDE = {"left": "right", "right": "left", "first": "last", "last": "first"}


@dataclass(frozen=True, order=True)
class Mutant:
    """One change in one module.

    Attributes
    ----------
    path : Path
        The module, from the root of the repository.
    start, end : int
        The bytes that are replaced.
    kind, line, before, after : str, int, str, str
        What is changed, where, from what, to what.
    """

    path: Path
    start: int
    end: int
    kind: str
    line: int
    before: str
    after: str

    def of(self, source: bytes) -> bytes:
        """Return the module with the change in it."""
        new = self.after if self.after == "pass" else f"({self.after})"
        return source[: self.start] + new.encode() + source[self.end :]


def mutants_of(path: Path, source: bytes) -> list[Mutant]:
    """Return every mutant of a module that still compiles."""
    starts = [0]
    for row in source.splitlines(keepends=True):
        starts.append(starts[-1] + len(row))
    found = []
    for node in _changeable(ast.parse(source)):
        for kind, old, new in _changes(node):
            start = starts[old.lineno - 1] + old.col_offset
            end = starts[(old.end_lineno or 0) - 1] + (old.end_col_offset or 0)
            told = ast.unparse(old), ast.unparse(new)
            one = Mutant(path, start, end, kind, old.lineno, *told)
            if one.before != one.after and _compiles(one.of(source)):
                found.append(one)
    return sorted(found)


def _compiles(source: bytes) -> bool:
    try:
        compile(source, "mutant", "exec")
    except SyntaxError:
        return False
    return True


def _changeable(node: ast.AST) -> Iterator[ast.expr | ast.stmt]:
    """Walk over what is worked out, and over no text, annotation, decorator or raised error."""
    for name, value in ast.iter_fields(node):
        if name in {"annotation", "returns", "decorator_list", "type_params", "format_spec"}:
            continue
        for child in value if isinstance(value, list) else [value]:
            if not isinstance(child, ast.AST) or isinstance(child, ast.Raise | ast.JoinedStr):
                continue
            if isinstance(child, ast.Assign) and ast.unparse(child.targets[0]) == "__all__":
                continue
            if isinstance(child, ast.expr | ast.stmt):
                yield child
            yield from _changeable(child)


Code = ast.expr | ast.stmt
Change = tuple[str, Code, Code]


def _changes(node: Code) -> Iterator[Change]:
    """Return every change of one piece of code: its kind, what is replaced, and by what."""
    match node:
        case ast.BinOp(op=op) if type(op) in ARITHMETIC:
            yield "arithmetic", node, _with(node, op=ARITHMETIC[type(op)]())
        case ast.Compare(ops=ops):
            for place, comparison in enumerate(ops):
                for other in COMPARISONS[type(comparison)]:
                    new = [*ops[:place], other(), *ops[place + 1 :]]
                    yield "comparison", node, _with(node, ops=new)
        case ast.BoolOp(op=op):
            other_op = ast.Or() if isinstance(op, ast.And) else ast.And()
            yield "boolean", node, _with(node, op=other_op)
        case ast.UnaryOp(op=ast.USub(), operand=inner):
            yield "sign", node, inner
        case ast.UnaryOp(op=ast.Not() | ast.Invert(), operand=inner):
            yield "dropped not", node, inner
        case ast.Constant(value=value):
            yield from (("constant", node, other) for other in _other_constants(value))
        case _:
            yield from _changes_of_calls(node)
            yield from _changes_of_statements(node)


def _changes_of_calls(node: Code) -> Iterator[Change]:
    match node:
        case ast.Call(func=ast.Name(id=name) as called) if name in PAIRS:
            yield "like function", called, _with(called, id=PAIRS[name])
        case ast.Call(func=ast.Attribute(attr=name) as called) if name in PAIRS:
            yield "like function", called, _with(called, attr=PAIRS[name])
        case ast.Call(func=ast.Attribute(attr="where"), args=[which, one, other]):
            yield "swapped choices", node, _with(node, args=[which, other, one])


def _changes_of_statements(node: Code) -> Iterator[Change]:
    match node:
        case ast.If(test=test) | ast.IfExp(test=test) | ast.While(test=test):
            yield "condition", test, ast.UnaryOp(ast.Not(), test)
        case ast.Return(value=ast.expr() as value):
            yield "returned value", value, _other_value(value)
        case ast.AugAssign() | ast.Assign(targets=[ast.Subscript()]) | ast.Expr(value=ast.Call()):
            yield "left out", node, ast.Pass()


def _other_constants(value: object) -> Iterator[ast.Constant]:
    match value:
        case bool():
            yield ast.Constant(not value)
        case int():
            yield ast.Constant(value + 1)
            if value:
                yield ast.Constant(value - 1)
        case float():
            yield ast.Constant(value * 1.5 if value else 1.0)
        case str() if value in OTHER_SIDE:
            yield ast.Constant(OTHER_SIDE[value])


def _other_value(value: ast.expr) -> ast.expr:
    """Return another value of the same kind, as far as its form tells it."""
    if isinstance(value, ast.Tuple) and len(value.elts) > 1:
        return _with(value, elts=[*value.elts[1:], value.elts[0]])
    if isinstance(value, ast.Compare | ast.BoolOp):
        return ast.UnaryOp(ast.Not(), value)
    return ast.UnaryOp(ast.USub(), value)


def _with(node: Node, **parts: object) -> Node:
    """Return a copy with other parts."""
    new = copy.copy(node)
    for name, value in parts.items():
        setattr(new, name, value)
    return new
