"""The reach check finds what no user reaches, and nothing that one does."""

import shutil
from pathlib import Path

import pytest
from reach import main

ROOT = Path(__file__).resolve().parents[2]

SETTINGS = """
[tool.reach]
folders = ["plant", "tools"]
commands = "plant.cli.start.COMMANDS"
entries = ["plant.cli.start.main"]
[tool.reach.waiting]
"""

START = """
from importlib import import_module

from plant.parts import Clamp, tighten

COMMANDS = ("look-round",)

def main():
    tighten(Clamp())
    print([getattr(import_module(f"plant.cli.{name}_command"), name) for name in COMMANDS])
"""

LOOK_ROUND = """
def look_round():
    from plant import seen
    return seen.WORDS
"""

PARTS = '''
from typing import Protocol

import library

class Turned(Protocol):
    def turn(self): ...

class Clamp(Turned):
    size = 3

    def __len__(self):
        return _length()

    def turn(self):
        return 1

    @property
    def shown(self):
        return 2

class Filled(library.Form):
    def fill_in(self):
        """Called by the library alone."""

def tighten(clamp: Clamp) -> "Filled":
    return [clamp.turn() for turn in range(3)]

def _length():
    return 2
'''

HOUSE = {
    "pyproject.toml": SETTINGS,
    "plant/__init__.py": "",
    "plant/cli/__init__.py": "",
    "plant/cli/start.py": START,
    "plant/cli/look_round_command.py": LOOK_ROUND,
    "plant/parts.py": PARTS,
    "plant/seen.py": "WORDS = [w for w in 'abc']\n",
    "tools/count.py": "from count_lines import lines\n\nif __name__ == '__main__':\n    lines()\n",
    "tools/count_lines.py": "def lines():\n    return 1\n",
    "plant/page.html": "{{ clamp.shown }}",
}
"""All of it is reached: by a command, in a function, by a type, in a template, from a script."""


@pytest.fixture
def reported(capsys):
    def run(root: Path) -> tuple[int, str]:
        code = main(root)
        return code, capsys.readouterr().out

    return run


@pytest.fixture
def house(tmp_path):
    def build(changed):
        for name, text in {**HOUSE, **changed}.items():
            path = tmp_path / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
        return tmp_path

    return build


def test_nothing_is_found_where_all_is_reached(reported, house):
    assert reported(house({})) == (0, "")


@pytest.mark.parametrize(
    ("file", "added", "found"),
    [
        ("plant/parts.py", "def loosen(): return _length()", ["function plant.parts.loosen"]),
        ("plant/parts.py", "LOOSE = 3", ["value plant.parts.LOOSE"]),
        (
            "plant/seen.py",
            "def one(): return two()\ndef two(): return one()",
            ["function plant.seen.one", "function plant.seen.two"],
        ),
        # Another thing of that name is used: a local one, an argument, a name elsewhere.
        ("plant/parts.py", "def clamp(): return 1", ["function plant.parts.clamp"]),
        (
            "plant/cli/look_round_command.py",
            "def main(): return 1",
            ["function plant.cli.look_round_command.main"],
        ),
        (
            "plant/seen.py",
            "class Seen:\n    def turn(self): return 1",
            ["class plant.seen.Seen"],
        ),
        ("tools/count_lines.py", "def words(): return 1", ["function count_lines.words"]),
        ("tools/alone.py", "print(3)", ["tools/alone.py: nothing imports this file (1 lines)"]),
        ("plant/alone.py", "print(3)", ["plant/alone.py: nothing imports this file (1 lines)"]),
    ],
)
def test_what_is_planted_and_not_reached_is_found(reported, house, file, added, found):
    code, said = reported(house({file: HOUSE.get(file, "") + added + "\n"}))

    assert code == 1
    assert len(said.splitlines()) == len(found) + 1
    assert all(one in said for one in found)


def test_a_method_whose_name_nobody_uses_is_found(reported, house):
    code, said = reported(house({"plant/page.html": "{{ clamp.size }}"}))

    assert code == 1
    assert "method plant.parts.Clamp.shown" in said


def test_a_test_is_no_user(reported, house):
    tests = "from plant.seen import look\ndef test(): assert look() == 1\n"
    seen = HOUSE["plant/seen.py"] + "def look():\n    return 1\n"

    code, said = reported(house({"plant/seen.py": seen, "tests/test_seen.py": tests}))

    assert code == 1
    assert "function plant.seen.look" in said


def test_what_waits_is_let_be_with_what_it_needs(reported, house):
    seen = HOUSE["plant/seen.py"] + "def look():\n    return _near()\ndef _near():\n    return 1\n"
    waiting = SETTINGS + '"plant.seen.look" = "for a page to come"\n'

    assert reported(house({"plant/seen.py": seen, "pyproject.toml": waiting})) == (0, "")


@pytest.mark.parametrize(
    ("name", "said"), [("seen.WORDS", "reached without it"), ("gone", "nowhere")]
)
def test_a_waiting_list_names_nothing_in_vain(reported, house, name, said):
    waiting = SETTINGS + f'"plant.{name}" = "for a page to come"\n'

    code, told_of = reported(house({"pyproject.toml": waiting}))

    assert code == 1
    assert f"plant.{name} is on the waiting list, and is {said}" in told_of


def test_a_function_planted_in_this_house_is_found_and_a_used_one_is_not(reported, tmp_path):
    for folder in ("scoring", "dashboard", "demo_data", ".ci"):
        kept = shutil.ignore_patterns("*.csv", "*.parquet", "*.png", "__pycache__")
        shutil.copytree(ROOT / folder, tmp_path / folder, ignore=kept)
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    planted = tmp_path / "scoring" / "mechanics" / "wedge.py"
    planted.write_text(planted.read_text() + "\n\ndef planted():\n    return 1\n")
    command = tmp_path / "scoring" / "cli" / "rank_command.py"
    used = "\n\ndef _is_used():\n    return 1\n\n\n_is_used()\n"
    command.write_text(command.read_text() + used)

    code, said = reported(tmp_path)

    assert code == 1
    assert "function scoring.mechanics.wedge.planted (2 lines)" in said
    assert "_is_used" not in said
