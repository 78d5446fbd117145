"""The house keeps to its own words: no name in it is one that the glossary replaces."""

import ast
import re
from collections import Counter
from pathlib import Path

import pytest
from click.testing import CliRunner

from scoring.cli.main import cli
from scoring.contract.events import FAILURE_MODES
from scoring.contract.glossary import GLOSSARY
from scoring.contract.ranking import VERDICTS

ROOT = Path(__file__).parents[2]
PACKAGES = ("scoring", "dashboard", "demo_data")
RELEASED = ROOT / "scoring/store/migrations/versions"
"""What was released never changes."""

PART = re.compile(r"[A-Z]+(?![a-z])|[A-Z]?[a-z0-9]+")
REPLACED = sorted(name for term in GLOSSARY for name in term.replaces)


def spelled(name: str) -> str:
    """Return a name as its words, between underscores."""
    return "_" + "_".join(part.lower() for part in PART.findall(name)) + "_"


def names_in(path: Path) -> set[str]:
    """Return the name of a file and every name that is given in it."""
    found = {path.stem}
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        match node:
            case ast.FunctionDef(name=name) | ast.ClassDef(name=name):
                found.add(name)
            case ast.arg(arg=name) | ast.Attribute(attr=name, ctx=ast.Store()):
                found.add(name)
            case ast.Name(id=name, ctx=ast.Store()):
                found.add(name)
    return found


def files() -> list[Path]:
    every = [path for package in PACKAGES for path in (ROOT / package).rglob("*.py")]
    return [path for path in every if RELEASED not in path.parents]


def given_names() -> dict[str, str]:
    """Return each name of the house, spelled, and a file in which it is given."""
    return {
        spelled(name): f"{name} in {path.relative_to(ROOT)}"
        for path in files()
        for name in names_in(path)
    }


@pytest.fixture(scope="module")
def house() -> dict[str, str]:
    return given_names()


def test_the_house_is_read(house):
    assert len(house) > 2000
    assert spelled("FleetAssessor") in house
    assert spelled("exceedance") in house


@pytest.mark.parametrize("replaced", REPLACED)
def test_a_word_that_was_replaced_stays_away(house, replaced):
    assert [where for name, where in house.items() if spelled(replaced) in name] == []


def test_a_replaced_word_would_be_found_within_a_longer_one():
    assert spelled("foretold") in spelled("WasForetoldBy")
    assert spelled("rests_on") in spelled("_RESTS_ON_RECORDS")
    assert spelled("takes") not in spelled("mistakes_made")


def test_each_word_stands_once_in_the_order_of_the_alphabet():
    words = [term.word.replace("-", "") for term in GLOSSARY]
    assert words == sorted(set(words))
    assert len(REPLACED) == len(set(REPLACED))


def test_no_word_is_replaced_by_another_and_used_for_itself():
    assert not {term.word.replace(" ", "_").replace("-", "_") for term in GLOSSARY} & set(REPLACED)


def test_meanings_are_one_line_for_a_person():
    for term in GLOSSARY:
        assert 10 < len(term.meaning) <= 100, term.word
        assert not term.meaning.endswith("."), term.word


def test_verdicts_and_failure_modes_are_explained():
    meanings = {term.word: term.meaning for term in GLOSSARY}
    assert ", ".join(VERDICTS) in meanings
    for mode in FAILURE_MODES:
        assert mode.replace("_", " ").replace("low speed", "low-speed") in meanings["failure mode"]


def test_the_command_that_explains_columns_explains_the_words():
    whole = CliRunner().invoke(cli, ["columns"]).output
    one = CliRunner().invoke(cli, ["columns", "events"]).output
    for term in GLOSSARY:
        assert f"  {term.word}: {term.meaning}" in whole
        assert f"  {term.word}: {term.meaning}" not in one


def test_a_file_name_tells_one_file():
    """But for the files that tools name: of a package, of pytest, of the one command."""
    named_by_tools = {"__init__.py", "__main__.py", "conftest.py"}
    tests = [path for path in (ROOT / "tests").rglob("*.py") if "plants" not in path.parts]
    counts = Counter(path.name for path in [*files(), *tests, *(ROOT / ".ci").glob("*.py")])
    assert [name for name, n in counts.items() if n > 1 and name not in named_by_tools] == []
