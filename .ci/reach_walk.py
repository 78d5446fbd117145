"""Everything that is reached from some pieces of code.

- A file is reached when what is reached imports it; then its own statements run, and those of the
  packages above it. A definition or a plain assignment is reached only by its name.
- A method is reached when its class is and something reached uses its name; a special method, and
  each method of a class that builds on a library's class, with the class alone: a library calls it.
- So a method that nobody calls hides behind another thing's attribute of the same name.
- Fields of a class and members of an enumeration are not looked at.
"""

import ast
import re
from collections.abc import Iterable
from pathlib import Path

from reach_house import House
from reach_names import Piece
from reach_uses import uses

BASES_THAT_CALL_NOTHING = {
    "Enum", "Exception", "Generic", "IntEnum", "NamedTuple", "Protocol", "StrEnum", "TypedDict",
    "ValueError",
}  # fmt: skip


def attributes_in_templates(root: Path, folders: Iterable[str]) -> set[str]:
    """Return the words that follow a dot in the templates of some folders."""
    texts = (
        path.read_text(encoding="utf-8") for f in folders for path in (root / f).rglob("*.html")
    )
    return {word for text in texts for word in re.findall(r"\.([A-Za-z_]\w*)", text)}


class Walk:
    """What is reached so far, and what is still to be followed.

    Parameters
    ----------
    house : House
        All files.
    attributes : iterable of str
        Attributes that are used from outside, by templates.
    """

    def __init__(self, house: House, attributes: Iterable[str]) -> None:
        self.house = house
        self.pieces: set[Piece] = set()
        self.attributes = set(attributes)
        self.waiting: list[Piece] = []
        self.methods: dict[str, list[Piece]] = {}
        for piece in house.pieces():
            if piece.kind == "method":
                self.methods.setdefault(piece.name.rpartition(".")[2], []).append(piece)

    def reach(self, start: Iterable[Piece]) -> frozenset[Piece]:
        """Walk on from some pieces, and return all that is reached by now."""
        self.waiting += start
        while self.waiting:
            self._take(self.waiting.pop())
        return frozenset(self.pieces)

    def _take(self, piece: Piece) -> None:
        if piece in self.pieces:
            return
        self.pieces.add(piece)
        parts = piece.module.split(".")
        modules = (".".join(parts[:end]) for end in range(1, len(parts) + 1))
        files = (self.house.files.get(module) for module in modules)
        self.waiting += [file.body for file in files if file]
        if piece.kind == "class":
            self._take_methods(piece)
        for use in uses(piece, self.house):
            if isinstance(use, Piece):
                self.waiting.append(use)
            elif use not in self.attributes:
                self.attributes.add(use)
                self.waiting += [
                    one for one in self.methods.get(use, []) if one.owner in self.pieces
                ]

    def _take_methods(self, piece: Piece) -> None:
        called = self._called_by_a_library(piece)
        for name, method in piece.members.items():
            if called or name in self.attributes or re.fullmatch(r"_\w+_", name):
                self.waiting.append(method)

    def _called_by_a_library(self, piece: Piece) -> bool:
        names = self.house.files[piece.module].names
        for base in piece.bases:
            inside = self.house.stands_for(base, names)
            plain = ast.unparse(base).partition("[")[0].rpartition(".")[2]
            if (
                self._called_by_a_library(inside)
                if inside
                else plain not in BASES_THAT_CALL_NOTHING
            ):
                return True
        return False
