"""What each file of the house names: functions, classes, methods, values, and what it imports."""

import ast
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

Target = tuple[str, str | None]
"""A module, and a name in it; None for the module itself."""

OWN: Target = ("", None)
"""What a name that is bound on the way stands for: nothing that has a piece of its own."""


_SCOPES = (
    ast.FunctionDef,
    ast.AsyncFunctionDef,
    ast.ClassDef,
    ast.Lambda,
    ast.ListComp,
    ast.SetComp,
    ast.DictComp,
    ast.GeneratorExp,
)


@dataclass(eq=False)
class Piece:
    """A piece of code that has a name, or the statements that a file runs when imported.

    Attributes
    ----------
    name : str
        Dotted, from its module on.
    module : str
        The module it stands in.
    kind : str
        ``file``, ``function``, ``class``, ``method`` or ``value``.
    line, lines : int
        Where it begins, and how long it is.
    code : list of ast.AST
        What is run, or looked at, once it is reached.
    owner : Piece or None
        The class that a method belongs to.
    bases : list of ast.expr
        What a class builds on.
    members : dict of str to Piece
        The methods of a class.
    """

    name: str
    module: str
    kind: str
    line: int
    lines: int
    code: list[ast.AST] = field(default_factory=list)
    owner: "Piece | None" = None
    bases: list[ast.expr] = field(default_factory=list)
    members: dict[str, "Piece"] = field(default_factory=dict)


@dataclass(eq=False)
class File:
    """A file: the statements it runs when imported, and what its names stand for."""

    module: str
    path: Path
    body: Piece
    names: dict[str, Piece | Target] = field(default_factory=dict)

    @property
    def package(self) -> str:
        """What a relative import in it starts from."""
        is_package = self.path.name == "__init__.py"
        return self.module if is_package else self.module.rpartition(".")[0]

    @property
    def is_script(self) -> bool:
        """Whether a person runs it: it lies in no package and says what to do when run."""
        run = (one for one in self.body.code if isinstance(one, ast.If))
        alone = not (self.path.parent / "__init__.py").exists()
        return alone and any(ast.unparse(one.test) == "__name__ == '__main__'" for one in run)

    def pieces(self) -> Iterator[Piece]:
        """Yield what it defines, each class before its methods."""
        for one in dict.fromkeys(self.names.values()):
            if isinstance(one, Piece):
                yield one
                yield from one.members.values()


def read_file(path: Path, module: str) -> File:
    """Read what a file names."""
    tree = ast.parse(path.read_text(encoding="utf-8"), filename=str(path))
    body = Piece(module, module, "file", 1, len(path.read_text(encoding="utf-8").splitlines()))
    file = File(module, path, body)
    for statement in tree.body:
        _take(statement, file)
    return file


def _take(statement: ast.stmt, file: File) -> None:
    match statement:
        case ast.FunctionDef() | ast.AsyncFunctionDef() | ast.ClassDef():
            file.names[statement.name] = _definition(statement, file.module)
        case ast.Assign() | ast.AnnAssign() if names := _plain_names(statement):
            value = Piece(
                f"{file.module}.{names[0]}", file.module, "value", *_span(statement), [statement]
            )
            file.names.update(dict.fromkeys(names, value))
        case _:
            file.body.code.append(statement)
            file.names.update(bound_by([statement], file))


def _definition(node: ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef, module: str) -> Piece:
    name = f"{module}.{node.name}"
    if not isinstance(node, ast.ClassDef):
        return Piece(name, module, "function", *_span(node), [node])
    piece = Piece(name, module, "class", *_span(node))
    piece.code = [*node.decorator_list, *node.bases, *node.keywords]
    piece.bases = node.bases
    for inside in node.body:
        if not isinstance(inside, ast.FunctionDef | ast.AsyncFunctionDef):
            piece.code.append(inside)
        elif inside.name in piece.members:  # the setter beside its property
            piece.members[inside.name].code.append(inside)
        else:
            member = Piece(f"{name}.{inside.name}", module, "method", *_span(inside), [inside])
            member.owner = piece
            piece.members[inside.name] = member
    return piece


def _plain_names(statement: ast.Assign | ast.AnnAssign) -> list[str]:
    """Return the names that an assignment gives a value, if it does nothing else."""
    targets = statement.targets if isinstance(statement, ast.Assign) else [statement.target]
    names = [
        one
        for target in targets
        for one in (target.elts if isinstance(target, ast.Tuple) else [target])
    ]
    return (
        [one.id for one in names if isinstance(one, ast.Name)]
        if all(isinstance(one, ast.Name) for one in names)
        else []
    )


def _span(node: ast.stmt) -> tuple[int, int]:
    decorators = getattr(node, "decorator_list", [])
    first = min([node.lineno, *(one.lineno for one in decorators)])
    return first, (node.end_lineno or first) - first + 1


def bound_by(statements: Iterable[ast.AST], file: File) -> dict[str, Target]:
    """Return the names that statements bind, and what imported ones stand for.

    What a function, lambda or comprehension binds inside is its own and left out.
    """
    names: dict[str, Target] = {}
    for node in statements:
        names.update(_bound_here(node, file))
        if not isinstance(node, _SCOPES):
            names.update(bound_by(ast.iter_child_nodes(node), file))
    return names


def _bound_here(node: ast.AST, file: File) -> dict[str, Target]:
    match node:
        case ast.Import(names=names):
            plain = {one.name.partition(".")[0]: one for one in names if not one.asname}
            return {
                **{name: (name, None) for name in plain},
                **{one.asname: (one.name, None) for one in names if one.asname},
            }
        case ast.ImportFrom(names=names):
            module = imported_from(node, file)
            return {one.asname or one.name: (module, one.name) for one in names}
        case ast.Name(id=name, ctx=ast.Store() | ast.Del()):
            return {name: OWN}
        case ast.MatchMapping(rest=str(name)):
            return {name: OWN}
        case ast.stmt() | ast.ExceptHandler() | ast.pattern():  # what has a name, binds it
            named = getattr(node, "name", None)
            return {named: OWN} if named else {}
    return {}


def imported_from(node: ast.ImportFrom, file: File) -> str:
    """Return the module that a ``from`` import names, whether relative or not."""
    if not node.level:
        return node.module or ""
    package = file.package.split(".")
    above = package[: len(package) - node.level + 1]
    return ".".join([*above, *([node.module] if node.module else [])])
