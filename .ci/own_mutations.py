"""Slips that the library does not make: what is called, chosen, left out, given back, scaled.

Left alone: text of every kind, annotations, decorators, ``__all__``, and what is raised.
"""

import ast
import copy
from collections.abc import Iterator
from typing import TypeVar

Node = TypeVar("Node", bound=ast.AST)
Code = ast.expr | ast.stmt
Change = tuple[str, Code, Code]

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


def own_changes(module: ast.Module) -> Iterator[Change]:
    """Yield every change of a module: its kind, what is replaced, and by what."""
    for node in worked_out(module):
        yield from _changes(node)


def worked_out(node: ast.AST) -> Iterator[Code]:
    """Walk over what is worked out, and over no text, annotation, decorator or raised error."""
    for child in _children(node):
        if isinstance(child, ast.expr | ast.stmt):
            yield child
        yield from worked_out(child)


def left_alone(node: ast.AST) -> Iterator[ast.AST]:
    """Yield the nodes that `worked_out` leaves out, each whole."""
    kept = set(map(id, _children(node)))
    for child in ast.iter_child_nodes(node):
        if id(child) in kept:
            yield from left_alone(child)
        else:
            yield child


def _children(node: ast.AST) -> Iterator[ast.AST]:
    for name, value in ast.iter_fields(node):
        if name in {"annotation", "returns", "decorator_list", "type_params", "format_spec"}:
            continue
        for child in value if isinstance(value, list) else [value]:
            if isinstance(child, ast.AST) and not _says_or_declares(child):
                yield child


def _says_or_declares(node: ast.AST) -> bool:
    """Whether a node is a message, or tells types and names instead of working anything out."""
    match node:
        case ast.Raise() | ast.JoinedStr() | ast.If(test=ast.Name(id="TYPE_CHECKING")):
            return True
        case ast.Assign(targets=[ast.Name(id="__all__")]):
            return True
    return False


def _changes(node: Code) -> Iterator[Change]:
    match node:
        case ast.Constant(value=float() as value):
            yield "number", node, ast.Constant(value * 1.5 if value else 1.0)
        case ast.Constant(value=str() as value) if value in OTHER_SIDE:
            yield "other side", node, ast.Constant(OTHER_SIDE[value])
        case ast.Call(func=ast.Name(id=name) as called) if name in PAIRS:
            yield "like function", called, _with(called, id=PAIRS[name])
        case ast.Call(func=ast.Attribute(attr=name) as called) if name in PAIRS:
            yield "like function", called, _with(called, attr=PAIRS[name])
        case ast.Call(func=ast.Attribute(attr="where"), args=[which, one, other]):
            yield "swapped choices", node, _with(node, args=[which, other, one])
        case ast.Return(value=ast.expr() as value):
            yield "returned value", value, _other_value(value)
        case ast.AugAssign() | ast.Assign(targets=[ast.Subscript()]) | ast.Expr(value=ast.Call()):
            yield "left out", node, ast.Pass()


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
