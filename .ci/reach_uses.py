"""What a piece of code uses: other pieces by their name, and attributes of it knows not what.

Rules for what is used without being named plainly:

- ``x.name`` uses each method ``name`` of every class that is reached, for the type of ``x`` is not
  known; so does ``getattr(x, "name")``, and ``name`` after a dot in a template.
- ``import_module("a.b")`` imports; ``vars(module)`` uses all its values.
- A text that ends in ``.py`` and names a file beside this one or below runs it.
"""

import ast
from collections.abc import Iterator

from reach_house import House, Names
from reach_names import OWN, File, Piece, bound_by, imported_from

Use = Piece | str
"""A piece, or the name of an attribute."""


def uses(piece: Piece, house: House) -> Iterator[Use]:
    """Yield what a piece uses once it is reached."""
    file = house.files[piece.module]
    for node in piece.code:
        yield from _Uses(house, file).of(node, file.names)


class _Uses:
    """Follows code down, and keeps what names stand for in each scope."""

    def __init__(self, house: House, file: File) -> None:
        self.house = house
        self.file = file

    def of(self, node: ast.AST, names: Names) -> Iterator[Use]:
        match node:
            case ast.Import() | ast.ImportFrom():
                yield from self._imported(node)
            case ast.FunctionDef() | ast.AsyncFunctionDef() | ast.Lambda():
                yield from self._function(node, names)
            case ast.ListComp() | ast.SetComp() | ast.DictComp() | ast.GeneratorExp():
                targets = [one.target for one in node.generators]
                yield from self._inside(node, {**names, **bound_by(targets, self.file)})
            case ast.Name(ctx=ast.Load()):
                if found := self.house.stands_for(node, names):
                    yield found
            case ast.Attribute(attr=attribute):
                found = self.house.stands_for(node, names)
                yield found or attribute
                yield from self.of(node.value, names)
            case _:
                yield from self._by_rule(node, names)
                yield from self._inside(node, names)

    def _inside(self, node: ast.AST, names: Names) -> Iterator[Use]:
        for field, value in ast.iter_fields(node):
            for one in value if isinstance(value, list) else [value]:
                if field in {"annotation", "returns"} and isinstance(one, ast.Constant):
                    yield from self._written_type(one, names)
                elif isinstance(one, ast.AST):
                    yield from self.of(one, names)

    def _function(
        self, node: ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda, names: Names
    ) -> Iterator[Use]:
        body = [node.body] if isinstance(node, ast.Lambda) else node.body
        around: list[ast.AST] = [node.args]
        if not isinstance(node, ast.Lambda):
            around += [*node.decorator_list, *([node.returns] if node.returns else [])]
        for one in around:
            if isinstance(one, ast.Constant):
                yield from self._written_type(one, names)
            else:
                yield from self.of(one, names)
        given = [*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs]
        given += [one for one in (node.args.vararg, node.args.kwarg) if one]
        own = {**dict.fromkeys((one.arg for one in given), OWN), **bound_by(body, self.file)}
        for inside in body:
            for name in (
                one for n in ast.walk(inside) if isinstance(n, ast.Global) for one in n.names
            ):
                own.pop(name, None)
        for inside in body:
            yield from self.of(inside, {**names, **own})

    def _written_type(self, node: ast.Constant, names: Names) -> Iterator[Use]:
        if isinstance(node.value, str):
            yield from self.of(ast.parse(node.value, mode="eval"), names)

    def _imported(self, node: ast.Import | ast.ImportFrom) -> Iterator[Use]:
        if isinstance(node, ast.Import):
            targets = [(alias.name, None) for alias in node.names]
        else:
            module = imported_from(node, self.file)
            below = [(f"{module}.{alias.name}", None) for alias in node.names]
            targets = [(module, None), *below]
        for target in targets:
            if found := self.house.find(target):
                yield found

    def _by_rule(self, node: ast.AST, names: Names) -> Iterator[Use]:
        match node:
            case ast.MatchClass(kwd_attrs=attributes):
                yield from attributes
            case ast.Constant(value=str(text)) if text.endswith(".py"):
                run = self.file.path.parent / text
                yield from (one.body for one in self.house.files.values() if one.path == run)
            case ast.Call(
                func=ast.Name(id="getattr" | "hasattr"), args=[_, ast.Constant(value=str(name)), *_]
            ):
                yield name
            case ast.Call(func=ast.Name(id="vars"), args=[ast.expr() as module]):
                found = self.house.stands_for(module, names)
                if found is not None and found.kind == "file":
                    file = self.house.files[found.module]
                    yield from (one for one in file.pieces() if one.kind == "value")
            case ast.Call():
                if found := self.house.stands_for(node, names):
                    yield found
