"""All files of the house, and what a dotted name in one of them stands for."""

import ast
from collections.abc import Iterator, Mapping
from pathlib import Path

from reach_names import File, Piece, Target, read_file

Names = Mapping[str, Piece | Target]


class House:
    """All files that a check of reach looks at.

    Parameters
    ----------
    root : Path
        The folder of the repository.
    folders : list of str
        Packages in it, and folders of single scripts.
    """

    def __init__(self, root: Path, folders: list[str]) -> None:
        self.files: dict[str, File] = {}
        for folder in folders:
            above = root if (root / folder / "__init__.py").exists() else root / folder
            for path in sorted((root / folder).rglob("*.py")):
                parts = path.relative_to(above).with_suffix("").parts
                module = ".".join(parts[:-1] if parts[-1] == "__init__" else parts)
                self.files[module] = read_file(path, module)

    def pieces(self) -> Iterator[Piece]:
        """Yield every function, class, method and value of every file."""
        for file in self.files.values():
            yield from file.pieces()

    def find(self, target: Piece | Target) -> Piece | None:
        """Return what an imported name stands for; None if it is not of the house."""
        if isinstance(target, Piece):
            return target
        module, name = target
        file = self.files.get(module)
        if name is None or file is None:
            return file.body if file else None
        if name in file.names:
            return self.find(file.names[name])
        below = self.files.get(f"{module}.{name}")
        return below.body if below else None

    def stands_for(self, expression: ast.expr, names: Names) -> Piece | None:
        """Return what a name, or a name in a module, stands for; None if that is not plain."""
        match expression:
            case ast.Name(id=name) if name in names:
                return self.find(names[name])
            case ast.Attribute(value=value, attr=name):
                inside = self.stands_for(value, names)
                if inside is not None and inside.kind == "file":
                    return self.find((inside.module, name))
            case ast.Call(
                func=ast.Name(id="import_module"), args=[ast.Constant(value=str(module))]
            ):
                return self.find((module, None))
        return None
