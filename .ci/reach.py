"""Say which code no user can reach, function by function.

Run as ``python .ci/reach.py``; exits with 1 if there is some. It walks from the entry points in
``[tool.reach]`` of ``pyproject.toml``, and from every script, to whatever they use; tests are no
users. A library that looks for names used nowhere (vulture was weighed) finds only the outermost of
a chain of dead functions, and none whose name stands elsewhere too; here a thing counts only if
what uses it is reached itself.
"""

import ast
import sys
import tomllib
from fnmatch import fnmatch
from pathlib import Path

from reach_house import House
from reach_names import Piece
from reach_walk import Walk, attributes_in_templates

ROOT = Path(__file__).resolve().parent.parent


def main(root: Path = ROOT) -> int:
    """Tell what is not reached, and what is on the waiting list for nothing; return 1 if any."""
    settings = tomllib.loads((root / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["reach"]
    house = House(root, settings["folders"])
    walk = Walk(house, attributes_in_templates(root, settings["folders"]))
    entries = [*settings["entries"], *_commands(settings["commands"], house)]
    faults = [f"entry point {one} is nowhere" for one in entries if not _named(one, house)]

    start = [piece for entry in entries for piece in _named(entry, house)]
    start += [file.body for file in house.files.values() if file.is_script]
    by_users = walk.reach(start)
    waits = {name: _named(name, house) for name in settings["waiting"]}
    faults += [
        f"{name} is on the waiting list, and is " + ("reached without it" if pieces else "nowhere")
        for name, pieces in waits.items()
        if by_users.issuperset(pieces)
    ]
    by_any = walk.reach(piece for pieces in waits.values() for piece in pieces)
    faults += [_as_line(one, root, house) for one in house.pieces() if _stands_alone(one, by_any)]
    faults += [
        f"{file.path.relative_to(root)}: nothing imports this file ({file.body.lines} lines)"
        for file in house.files.values()
        if file.body not in by_any
    ]
    sys.stdout.writelines(f"{fault}\n" for fault in sorted(faults))
    if faults:
        sys.stdout.write(
            f"{len(faults)} things that no user can reach, or that are listed for nothing. Put "
            "each to work, move it to the tests that need it, or delete it; what waits for work "
            "to come stands in [tool.reach] with a reason\n"
        )
    return int(bool(faults))


def _named(pattern: str, house: House) -> list[Piece]:
    """Return what a dotted name stands for; of a whole file that waits, all that it defines."""
    bodies = [file.body for file in house.files.values()]
    return [one for one in [*bodies, *house.pieces()] if fnmatch(one.name, pattern)]


def _commands(declared: str, house: House) -> list[str]:
    """Return the commands, which are imported by name: each stands in the file NAME_command.py."""
    package = declared.rsplit(".", 2)[0]
    names = [
        constant.value.replace("-", "_")
        for piece in _named(declared, house)
        for node in piece.code
        for constant in ast.walk(node)
        if isinstance(constant, ast.Constant) and isinstance(constant.value, str)
    ]
    return [f"{package}.{name}_command.{name}" for name in names]


def _stands_alone(piece: Piece, by_any: frozenset[Piece]) -> bool:
    """Say whether a piece is not reached, though what it stands in is."""
    around = piece.owner in by_any if piece.owner else True
    ours = not piece.name.rpartition(".")[2].startswith("__")
    return piece not in by_any and around and ours


def _as_line(piece: Piece, root: Path, house: House) -> str:
    path = house.files[piece.module].path.relative_to(root)
    return f"{path}:{piece.line}: {piece.kind} {piece.name} ({piece.lines} lines)"


if __name__ == "__main__":
    sys.exit(main(*map(Path, sys.argv[1:2])))
